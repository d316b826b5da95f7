// A run told in sentences for people. Must never say what the measures do not.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>The story of a run, one sentence each, at most ten.</summary>
public static class Story
{
    /// <summary>The sentences.</summary>
    public static IReadOnlyList<string> Of(RehearsalPlan plan, Rehearsal run)
    {
        var record = run.Recorder.Record();
        List<string> all = [];
        void Say(FormattableString text) => all.Add(text.ToString(CultureInfo.InvariantCulture));
        var units = run.House.Units;
        string C(double celsius) => Quantities.Show(celsius, Quantity.Temperature, units);
        string K(double kelvin) => Quantities.Show(kelvin, Quantity.TemperatureDifference, units);
        Say($"Outdoors it was {C(record.Outdoor.AirC.Min())} to {C(record.Outdoor.AirC.Max())}, its dew point up to {C(record.Outdoor.DewC.Max())}.");
        foreach (var (room, i) in run.House.Rooms.Select((room, i) => (room, i)))
        {
            foreach (var one in run.Recorder.Rooms[i].PullDowns.All.Take(2))
            {
                var shut = TimeZoneInfo.ConvertTime(run.Run.Start.AddSeconds(one.ShutAtS), plan.Files.Site.TimeZone);
                Say($"The {Words(room.Id)} stood open until {shut:HH:mm}; {(one.IsReached ? FormattableString.Invariant($"{one.PullDownMin:0.0} min later it was as wanted again") : FormattableString.Invariant($"it was not back within {one.PullDownMin:0} min, when watching ended"))}{(double.IsFinite(one.BoundMin) ? FormattableString.Invariant($" (the shortest possible was {one.BoundMin:0.0} min)") : "")}.");
            }
        }
        var house = MeasureList.Of(run.Recorder).ToDictionary(one => one.Name, one => one.Value);
        var shown = new ReportUnits(units == UnitSystem.Us);
        Dry(house, K, shown, Say);
        if (run.House.Coils.Length > 0)
            Say(house["fan_minutes_over_cap"] > 0 ? (FormattableString)$"Fans were over their limits for {house["fan_minutes_over_cap"]:0.0} min." : $"No fan was over its limit.");
        var fuel = double.IsNaN(house["fuel_kwh"]) ? "" : $" and {shown.MeasureText(house["fuel_kwh"], ReportUnits.Heat, 0)} of fuel";
        Say($"The house used {house["electric_kwh"]:0.0} kWh of electricity{fuel} to move {shown.MeasureText(house["thermal_kwh"], ReportUnits.Heat, 0)} of heat; the source started {house["source_starts"]:0} times.");
        if (Goals.WithTooLargeCoil(run) is { Count: > 0 } large)
            Say($"Even at their slowest the coils give far more than these rooms usually need, so they start and stop more than is pleasant: {string.Join(", ", large.Select(Words))}.");
        Calls(run, Say);
        return [.. all.Take(10)];
    }

    // A condensation switch is made before anything is wet: that is its work, and no reason to send for somebody.
    private static void Calls(Rehearsal run, Action<FormattableString> say)
    {
        var early = run.Recorder.Alarms.Where(one => one.IsSwitchBeforeWet).ToList();
        var calls = run.Recorder.Alarms.Except(early).ToList();
        if (early.Count > 0)
            say($"Condensation switches shut cold water {early.Count} {(early.Count == 1 ? "time" : "times")} at air nearly saturated, before anything was wet ({string.Join(", ", early.SelectMany(one => one.Where).Distinct().Select(Words))}).");
        say(calls.Count == 0 ? (FormattableString)$"Nothing asked for help." : $"{calls.Count} {(calls.Count == 1 ? "event" : "events")} asked for somebody: {string.Join(", ", calls.Select(one => one.Name).Distinct().Take(4))}.");
    }

    // A winter has no cooling to tell of, and a house of coils alone no distance of surfaces.
    private static void Dry(Dictionary<string, double> house, Func<double, string> k, ReportUnits units, Action<FormattableString> say)
    {
        var cooled = double.IsFinite(house["surface_share"]);
        var atDoor = house["condensing_minutes_opening"] > 0 ? FormattableString.Invariant($", apart from {house["condensing_minutes_opening"]:0.#} min with a door open") : "";
        var least = cooled && double.IsFinite(house["min_margin_k"]) ? $"; with doors shut the least distance was {k(house["min_margin_k"])}" : "";
        say(house["condensing_minutes"] <= 0
            ? (FormattableString)$"No cooled surface or pipe came under the dew point{atDoor}{least}."
            : $"Cooled surfaces were under the dew point for {house["condensing_minutes"]:0.#} min; the thickest film was {house["condensed_grams_per_m2"]:0.0} g/m².");
        say(cooled
            ? (FormattableString)$"Coils took {units.MeasureText(house["moisture_removed_kg"], "kg", 1)} of water out of the air; surfaces carried {100 * house["surface_share"]:0} % of the cooling."
            : $"No room was cooled.");
    }

    /// <summary>Four numbers to look for, in one line.</summary>
    public static string Numbers(Rehearsal run)
    {
        var house = MeasureList.Of(run.Recorder).ToDictionary(one => one.Name, one => one.Value);
        var recovery = double.IsFinite(house["pull_down_over_bound"])
            ? FormattableString.Invariant($"{house["pull_down_over_bound"]:0.00} times the shortest possible recovery (1 is perfect)")
            : "no recovery to judge";
        return string.Create(CultureInfo.InvariantCulture,
            $"Look for: {recovery}, {house["condensing_minutes"]:0} min of condensing, {house["fan_minutes_over_cap"]:0} min over a fan's limit, {house["audible_changes_worst_hour"]:0} fan changes in the worst hour (6 is the goal).");
    }

    private static string Words(string id) => id.Replace('-', ' ');
}
