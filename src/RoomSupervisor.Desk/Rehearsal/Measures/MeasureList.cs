// Measures by name: the one list that JSON, tables and goals are made from. Must never hold a number that is not in the run.
namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>One measure of a room.</summary>
/// <param name="Name">Name in the JSON.</param>
/// <param name="Value">Its value; NaN or infinite: there is none (null in the JSON).</param>
public readonly record struct Measure(string Name, double Value);

/// <summary>All measures of a room or house in the order of the JSON.</summary>
public static class MeasureList
{
    /// <summary>Of a room.</summary>
    public static IReadOnlyList<Measure> Of(RoomMeasures room)
    {
        var downs = room.PullDowns.All;
        return
        [
            new("pull_down_minutes", Worst(downs, one => one.PullDownMin)),
            new("first_touch_minutes", Worst(downs, one => one.FirstTouchMin)),
            new("pull_down_bound_minutes", Worst(downs, one => one.BoundMin)),
            new("pull_down_over_bound", Worst(downs, one => one.PullDownMin / one.BoundMin)),
            new("pull_down_later_minutes", Worst(downs, one => one.PullDownMin - one.BoundMin)),
            new("overshoot_k", Worst(downs, one => one.OvershootK)),
            new("bounce_k", Worst(downs, one => one.BounceK)),
            new("control_accuracy_k", SteadyWindows.Percentile90(room.Steady.Without)),
            new("control_accuracy_with_coil_changes_k", SteadyWindows.Percentile90(room.Steady.With)),
            new("discomfort_kh", room.DiscomfortKh),
            new("fan_minutes_over_cap", room.OverCapMin),
            new("fan_level_dba_mean_hold", room.HoldLevelDba),
            new("hold_over_background_db", room.HoldOverBackgroundDb),
            new("audible_changes_per_hour", room.AudibleAnHour),
            new("audible_changes_worst_hour", room.Heard.MostInAnHour),
            new("condensing_minutes", room.CondensingMin),
            new("condensing_minutes_opening", room.CondensingOpeningMin),
            new("condensed_grams_per_m2", room.FilmGPerM2),
            new("min_margin_k", room.MarginK),
            new("moisture_removed_kg", room.MoistureKg),
            new("surface_share", room.SurfaceShare),
            new("thermal_kwh", room.ThermalKwh),
            new("electric_kwh", room.ElectricKwh),
            new("stage_changes_per_hour", room.StageChangesAnHour),
            new("valve_strokes_per_day", room.ValveStrokesADay),
        ];
    }

    /// <summary>Of the house: the worst room, or the sum where that means something.</summary>
    public static IReadOnlyList<Measure> Of(Recorder run)
    {
        var rooms = run.Rooms;
        double Most(Func<RoomMeasures, double> of) => rooms.Select(of).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max();
        double Sum(Func<RoomMeasures, double> of) => rooms.Sum(of);
        List<Measure> all = [.. Of(rooms[0]).Select(first => new Measure(first.Name, Most(room => Of(room).First(one => one.Name == first.Name).Value)))];
        void Set(string name, double value) => all[all.FindIndex(one => one.Name == name)] = new Measure(name, value);
        Set("discomfort_kh", Sum(room => room.DiscomfortKh));
        Set("fan_minutes_over_cap", Sum(room => room.OverCapMin));
        Set("condensing_minutes", Sum(room => room.CondensingMin));
        Set("condensing_minutes_opening", Sum(room => room.CondensingOpeningMin));
        Set("min_margin_k", rooms.Select(room => room.MarginK).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Min());
        Set("moisture_removed_kg", Sum(room => room.MoistureKg));
        Set("thermal_kwh", Sum(room => room.ThermalKwh));
        Set("electric_kwh", run.ElectricKwh);
        Set("surface_share", RoomMeasures.ShareOf(rooms));
        all.Insert(all.FindIndex(one => one.Name == "electric_kwh") + 1, new Measure("fuel_kwh", run.FuelKwh));
        all.Add(new Measure("source_starts", run.SourceStarts));
        return all;
    }

    private static double Worst(IReadOnlyList<Recovery> all, Func<Recovery, double> of) => all.Select(of).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max();
}
