// A run's measures as the report shows them: plain words, units, goals and whether they are met. Must never judge: goals come from Goals.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Runtime;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>What a report needs besides the record.</summary>
public static class ReportTables
{
    private static readonly (string Name, string Unit, string Label, string Goal)[] Shown =
    [
        ("pull_down_minutes", "min", "after a door stood open, until the air was within 0.3 K again for a quarter of an hour", ""),
        ("pull_down_bound_minutes", "min", "the shortest possible with this plant", ""),
        ("pull_down_over_bound", "", "how many times the shortest possible", "recovery over the shortest possible"),
        ("pull_down_later_minutes", "min", "later than the shortest possible, judged where that is under 5 min", Goals.LaterThanPossible),
        ("overshoot_k", "K", "too cold after a recovery, at most", "overshoot, K"),
        ("bounce_k", "K", "warmed up again after a recovery, at most", "bounce, K"),
        ("control_accuracy_k", "K", "how closely the air was held, 90 % of half hours", "control accuracy without a start or stop, K"),
        ("control_accuracy_with_coil_changes_k", "K", "the same where a fan started or stopped", "control accuracy with one, K"),
        ("discomfort_kh", "K·h", "outside the wanted band, degrees times hours", ""),
        ("fan_minutes_over_cap", "min", "a fan was faster than the household allows", "fan over its cap, min"),
        ("fan_level_dba_mean_hold", "dB", "fans at the ear while the room was held", ""),
        ("hold_over_background_db", "dB", "fans and a quiet background together over the background", "hold over a background of 25 dB(A), dB"),
        ("audible_changes_worst_hour", "", "fans heard to start, stop or turn in the worst hour", "audible changes in the worst hour"),
        ("condensing_minutes", "min", "a cooled surface or pipe was under the dew point", "condensing later than 10 min after an opening, min"),
        ("condensing_minutes_opening", "min", "the same while a door stood open and 10 min after", ""),
        ("condensed_grams_per_m2", "g/m²", "thickest film of water; about 30 can be seen, 100 drips", "film of water, g/m²"),
        ("min_margin_k", "K", "least distance of cooled surfaces from the dew point", ""),
        ("moisture_removed_kg", "kg", "water taken out of the air", ""),
        ("surface_share", "", "share of surfaces in cooling", ""),
        ("thermal_kwh", ReportUnits.Heat, "heat moved", ""),
        ("electric_kwh", "kWh", "electricity; of rooms: fans", ""),
        ("fuel_kwh", ReportUnits.Heat, "fuel burnt", ""),
        ("stage_changes_per_hour", "1/h", "changes of stage", ""),
        ("valve_strokes_per_day", "", "strokes of the busiest valve in a day", ""),
        ("source_starts", "", "starts of the source", ""),
    ];

    /// <summary>The measures.</summary>
    public static MeasureTable Of(RehearsalPlan plan, Rehearsal run)
    {
        var rooms = run.House.Rooms;
        var goals = Goals.Of(plan, run);
        var ofHouse = MeasureList.Of(run.Recorder);
        IReadOnlyList<Measure>[] byRoom = [.. run.Recorder.Rooms.Select(MeasureList.Of)];
        static double Value(IReadOnlyList<Measure> all, string name) => all.Where(one => one.Name == name).Select(one => one.Value).FirstOrDefault(double.NaN);
        List<MeasureRow> rows = [];
        foreach (var (name, unit, label, goal) in Shown)
        {
            if (name == "fuel_kwh" && double.IsNaN(run.Recorder.FuelKwh))
                continue;
            var own = goals.Where(one => one.What == goal).ToList();
            rows.Add(new MeasureRow(name, unit, label, Finite(Value(ofHouse, name)), [.. byRoom.Select(all => Finite(Value(all, name)))])
            {
                Goal = own.Count == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"at most {string.Join(" or ", own.Select(one => one.Limit).Distinct().Order().Select(limit => limit.ToString("0.##", CultureInfo.InvariantCulture)))}{(unit.Length > 0 ? " " + unit : "")}"),
                IsMet = own.Count == 0 ? null : own.All(one => one.IsMet),
                IsMetByRoom = own.Count == 0 ? [] : [.. rooms.Select(room => own.Any(one => one.Where == room.Id) ? own.Where(one => one.Where == room.Id).All(one => one.IsMet) : (bool?)null)],
            });
        }
        return new MeasureTable([.. rooms.Select(room => Samples.Title(room.Id))], rows);
    }

    /// <summary>Defaults and story.</summary>
    public static ReportNotes Notes(RehearsalPlan plan, Rehearsal run) => new()
    {
        Defaults = [.. plan.Defaults.Where(value => value.Shown != "none").Select(value => $"{value.Path}: {value.Shown} (default)")],
        Story = Story.Of(plan, run),
        BackgroundDba = RoomMeasures.BackgroundDba,
        Version = SiteRun.Version,
    };

    private static double Finite(double value) => double.IsFinite(value) ? value : double.NaN;
}
