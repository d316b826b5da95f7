// A run as a table for people: a line a room, a line for the house, what was missed. Must never print a number the JSON does not have.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Writes the table.</summary>
public static class RehearsalTable
{
    private static readonly (string Head, string Unit, string Measure, string Format)[] Columns =
    [
        ("back", "min", "pull_down_minutes", "0.0"), ("bound", "min", "pull_down_bound_minutes", "0.0"), ("over", "K", "overshoot_k", "0.00"), ("bounce", "K", "bounce_k", "0.00"),
        ("steady", "K", "control_accuracy_k", "0.00"), ("with starts", "K", "control_accuracy_with_coil_changes_k", "0.00"), ("outside", "K·h", "discomfort_kh", "0.0"),
        ("over cap", "min", "fan_minutes_over_cap", "0.0"), ("hold", "dB(A)", "fan_level_dba_mean_hold", "0"), ("heard", "1/h", "audible_changes_worst_hour", "0"), ("wet", "min", "condensing_minutes", "0"),
        ("at door", "min", "condensing_minutes_opening", "0"), ("film", "g/m²", "condensed_grams_per_m2", "0.0"), ("margin", "K", "min_margin_k", "0.0"), ("dried", "kg", "moisture_removed_kg", "0.0"),
        ("surface", "%", "surface_share", "0"), ("heat", ReportUnits.Heat, "thermal_kwh", "0.0"),
    ];

    /// <summary>The table.</summary>
    public static void Write(TextWriter to, RehearsalPlan plan, Rehearsal run)
    {
        to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{plan.Files.House.Name}, {plan.ScenarioName}, {run.Recorder.CoveredS / 86_400:0.##} {(run.Recorder.CoveredS == 86_400 ? "day" : "days")} from {run.Run.Start:yyyy-MM-dd}, seed {plan.Seed}"));
        var units = new ReportUnits(plan.Files.House.Units == UnitSystem.Us);
        string[] heads = [.. Columns.Select(column => column.Head)];
        string[] named = [.. Columns.Select(column => units.Measure(0, column.Unit).Unit)];
        int[] widths = [.. heads.Zip(named, (head, unit) => Math.Max(Math.Max(head.Length, unit.Length), 4) + 2)];
        string Row(string name, string[] cells) => name.PadRight(14) + string.Concat(cells.Select((cell, i) => cell.PadLeft(widths[i])));
        to.WriteLine(Row("", heads));
        to.WriteLine(Row("", named));
        for (var i = 0; i < run.House.Rooms.Length; i++)
            to.WriteLine(Row(run.House.Rooms[i].Id, Cells(MeasureList.Of(run.Recorder.Rooms[i]), units, !IsBack(run.Recorder.Rooms[i]))));
        to.WriteLine(Row("house", Cells(MeasureList.Of(run.Recorder), units, !run.Recorder.Rooms.All(IsBack))));
        to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"electricity {run.Recorder.ElectricKwh:0.0} kWh, {(double.IsNaN(run.Recorder.FuelKwh) ? "" : "fuel " + units.MeasureText(run.Recorder.FuelKwh, ReportUnits.Heat, 1) + ", ")}source started {run.Recorder.SourceStarts} times; {run.Recorder.CoveredS / run.Budget.WholeS:#,0} times as fast as real time"));
        var goals = Goals.Of(plan, run);
        var missed = goals.Where(goal => !goal.IsMet).ToList();
        to.WriteLine(missed.Count == 0 ? string.Create(CultureInfo.InvariantCulture, $"every goal that arose is met: {goals.Count(goal => !double.IsNaN(goal.Value))} of {goals.Count}") : $"{missed.Count} goals missed:");
        foreach (var goal in missed)
            to.WriteLine($"  {goal.Where}: {goal.Words} {Two(goal.Value, goal.Unit)}, at most {Two(goal.Limit, goal.Unit)}");
        string Two(double value, string unit)
        {
            var (shown, name) = units.Measure(value, unit);
            return shown.ToString("0.##", CultureInfo.InvariantCulture) + (name.Length > 0 ? " " + name : "");
        }
        if (Goals.WithTooLargeCoil(run) is { Count: > 0 } large)
            to.WriteLine($"coil too large at its slowest for what the room usually needs, so that nothing is promised of noise and accuracy: {string.Join(", ", large)}");
        foreach (var line in run.Recorder.FasterThanPossible)
            to.WriteLine("FASTER THAN POSSIBLE, the simulator or a measure is wrong: " + line);
    }

    private static bool IsBack(RoomMeasures room) => room.PullDowns.All.All(one => one.IsReached);

    // A recovery that was not reached took longer than it was watched.
    private static string[] Cells(IReadOnlyList<Measure> measures, ReportUnits units, bool isLonger) => [.. Columns.Select(column =>
    {
        var value = measures.First(measure => measure.Name == column.Measure).Value;
        return !double.IsFinite(value) ? "–" : (isLonger && column.Measure == "pull_down_minutes" ? ">" : "") + units.Measure(column.Measure == "surface_share" ? 100 * value : value, column.Unit).Value.ToString(column.Format, CultureInfo.InvariantCulture);
    })];
}
