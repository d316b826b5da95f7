// A replay in words: bit-equal or not and from when on, and with settings what would have been otherwise, with a picture of letters. Must never call a trace equal that was
// not wholly checked, nor pass a tried setting off as what the room would have become.
using System.Globalization;
using System.Text;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Replay;

/// <summary>Lines for the terminal.</summary>
public static class ReplayReport
{
    /// <summary>Outputs shown with a picture at most.</summary>
    private const int MostPictures = 6, Width = 72;

    private const string Steps = " ▁▂▃▄▅▆▇█";

    /// <summary>What the check came to.</summary>
    public static IEnumerable<string> Check(ReplayOutcome outcome)
    {
        yield return string.Create(CultureInfo.InvariantCulture,
            $"{outcome.Scans} scans, {Local(outcome, outcome.FromUtc)} to {Local(outcome, outcome.ToUtc)} local time; begun {outcome.Begun} time(s), settings changed {outcome.Reloads} time(s), {outcome.Lost} scan(s) were not recorded");
        foreach (var remark in outcome.Remarks)
            yield return remark;
        if (outcome.Checked == 0)
            yield return "nothing in it says what was decided then: there is nothing to compare with";
        else if (outcome.Differing == 0)
            yield return string.Create(CultureInfo.InvariantCulture, $"equal: all {outcome.Checked} scans decided bit for bit what was recorded");
        else
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{(outcome.MustBeEqual ? "NOT EQUAL" : "otherwise")}: {outcome.Differing} of {outcome.Checked} scans decide otherwise than recorded");
            yield return $"first: {outcome.FirstDifference}";
        }
    }

    /// <summary>What would have been otherwise.</summary>
    public static IEnumerable<string> Tried(ReplayOutcome outcome, ReplayMeasures measures, UnitSystem units)
    {
        yield return "with the air as it was recorded: the room did not feel the change (rehearse plays it with a house that does)";
        var changed = Changed(measures).ToList();
        if (changed.Count == 0)
            yield return "nothing would have been otherwise";
        foreach (var (at, curve) in changed.Index())
        {
            var (was, would) = curve.Mean;
            var first = curve.FirstUtc is { } utc ? $", first at {Local(outcome, utc)}" : "";
            yield return string.Create(CultureInfo.InvariantCulture,
                $"{curve.Id}: mean {Shown(was, curve, units)} → {Shown(would, curve, units)}, on {curve.OnH.Was:0.0} h → {curve.OnH.Would:0.0} h, otherwise for {curve.DiffersS / 3600:0.0} h{first}");
            if (at >= MostPictures)
                continue;
            yield return "    was   " + Letters(curve, column => column.Was);
            yield return "    would " + Letters(curve, column => column.Would);
        }
    }

    /// <summary>Outputs that differ, the one that does so longest first.</summary>
    public static IEnumerable<ReplayCurve> Changed(ReplayMeasures measures) => measures.Curves.Where(curve => curve.DiffersS > 0 || curve.FirstUtc is not null).OrderByDescending(curve => curve.DiffersS);

    /// <summary>Largest value of the scale of an output: all of it for percents, 1 for a switch, else what was seen.</summary>
    internal static double Full(ReplayCurve curve) => curve.Quantity switch
    {
        Quantity.Percent => 100,
        Quantity.Switch => 1,
        _ => Math.Max(1, curve.Columns.SelectMany(column => (double[])[column.Was, column.Would]).Where(double.IsFinite).DefaultIfEmpty(1).Max()),
    };

    internal static string Local(ReplayOutcome outcome, DateTime utc)
        => TimeZoneInfo.ConvertTimeFromUtc(utc, outcome.Zone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    private static string Shown(double value, ReplayCurve curve, UnitSystem units)
        => curve.Quantity == Quantity.Switch ? string.Create(CultureInfo.InvariantCulture, $"{100 * value:0} % of the time on") : Quantities.Show(value, curve.Quantity, units);

    private static string Letters(ReplayCurve curve, Func<(double Was, double Would), double> of)
    {
        var full = Full(curve);
        var text = new StringBuilder();
        for (var i = 0; i < Width; i++)
        {
            var (from, to) = (i * curve.Columns.Length / Width, Math.Max(i * curve.Columns.Length / Width + 1, (i + 1) * curve.Columns.Length / Width));
            var values = curve.Columns[from..Math.Min(to, curve.Columns.Length)].Select(of).Where(double.IsFinite).ToList();
            text.Append(values.Count == 0 ? '·' : Steps[(int)Math.Ceiling(Math.Clamp(values.Average() / full, 0, 1) * (Steps.Length - 1))]);
        }
        return text.ToString();
    }
}
