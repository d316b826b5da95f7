// Prints the figures of many cases: median, 90th percentile and worst. Judges nothing.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Parts.Tests.Closed;

internal static class ClosedTable
{
    public static readonly (string Name, Func<ClosedFigures, double> Of)[] Columns =
    [
        ("recovery/shortest", f => f.Ratio), ("overshoot K", f => f.OvershootK), ("bounce K", f => f.BounceK), ("steady K", f => f.SteadyK),
        ("with starts K", f => f.WithStartsK), ("film g/m²", f => f.FilmGPerM2), ("condensing min", f => f.CondensingMin), ("audible/h", f => f.AudibleAnHour),
    ];

    /// <summary>Groups in conditions and outside them, panel and floor, and by what varies.</summary>
    public static string Of(string title, IReadOnlyCollection<ClosedFigures> all)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{title}: {all.Count} cases; median / 90th percentile / worst");
        text.Append(CultureInfo.InvariantCulture, $"{"",-38}");
        foreach (var column in Columns)
            text.Append(CultureInfo.InvariantCulture, $"{column.Name,22}");
        text.AppendLine();
        foreach (var floor in new[] { false, true })
        {
            var kind = floor ? "floor" : "panel";
            var promised = all.Where(f => f.Case.Floor == floor && f.IsPromised).ToList();
            Row(text, $"{kind}, promised", promised);
            foreach (var cap in ClosedCase.Caps)
                Row(text, $"  cap {cap}", promised.Where(f => f.Case.CapPercent == cap));
            foreach (var lag in ClosedCase.Lags)
                Row(text, $"  lag {lag}", promised.Where(f => f.Case.LagS == lag));
            foreach (var size in ClosedCase.Sizes)
                Row(text, string.Create(CultureInfo.InvariantCulture, $"  coil {size:0.0}"), promised.Where(f => f.Case.CoilSize == size));
            for (var seed = 1; seed <= 4; seed++)
                Row(text, $"  seed {seed}", promised.Where(f => f.Case.Seed == seed));
            Row(text, $"{kind}, outside the conditions", all.Where(f => f.Case.Floor == floor && f.IsReachable && !f.IsPromised));
            Row(text, $"{kind}, coil alone never gets there", all.Where(f => f.Case.Floor == floor && !f.IsReachable));
        }
        return text.ToString();
    }

    public static string Of(ClosedFigures f) => string.Create(
        CultureInfo.InvariantCulture,
        $"{f.Case.Name,-38} min/load {f.MinimumOverLoad:0.00} shortest {f.ShortestMin:0.0} recovery {f.RecoveryMin:0.0} ratio {f.Ratio:0.00} over {f.OvershootK:0.00} bounce {f.BounceK:0.00} steady {f.SteadyK:0.00}/{f.WithStartsK:0.00} film {f.FilmGPerM2:0.0} wet {f.CondensingMin:0.0} audible {f.AudibleAnHour}");

    /// <summary>The value a share of the cases does not exceed.</summary>
    public static double Percentile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        return sorted.Length == 0 ? double.NaN : sorted[Math.Max(0, (int)Math.Ceiling(share * sorted.Length) - 1)];
    }

    private static void Row(StringBuilder text, string name, IEnumerable<ClosedFigures> some)
    {
        var cases = some.ToList();
        if (cases.Count == 0)
            return;
        text.Append(CultureInfo.InvariantCulture, $"{name + ", " + cases.Count,-38}");
        foreach (var (_, of) in Columns)
        {
            var values = cases.Select(of).Where(value => !double.IsNaN(value)).ToArray();
            var cell = string.Create(CultureInfo.InvariantCulture, $"{Percentile(values, 0.5):0.00} /{Percentile(values, 0.9):0.00} /{values.DefaultIfEmpty(double.NaN).Max():0.00}");
            text.Append(cell.PadLeft(22));
        }
        text.AppendLine();
    }
}
