// Loops: where their water comes from, within which limits it is set and by what, mixing valve and pump. Must never name a limit that is not the site's.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Water loops.</summary>
internal static class DescribeLoops
{
    public static Section Of(SiteView view)
    {
        var house = view.House;
        List<Block> blocks = [new Table([.. Columns(view)], [.. house.Loops.Select(loop => (IReadOnlyList<string>)[.. Cells(view, loop)])])];
        blocks.Add(new Bullets([.. Lines(view)]));
        return new Section("Loops", blocks);
    }

    private static IEnumerable<string> Columns(SiteView view) =>
    [
        "loop", "water", "serves", .. view.Cools ? ["set point in cooling"] : Array.Empty<string>(), .. view.Heats ? ["set point in heating"] : Array.Empty<string>(), "lag, stroke", "pump",
    ];

    private static IEnumerable<string> Cells(SiteView view, Loop loop)
    {
        yield return loop.Id;
        yield return loop.Type == LoopType.Mixed ? $"mixed, {(loop.Settings.Bypass ? "with" : "without")} a bypass" : "the source's as it is";
        yield return SiteView.List(loop.Circuits.Select(circuit => view.House.Circuits[circuit].Id).Concat(loop.Coils.Select(coil => view.House.Coils[coil].Id)));
        if (view.Cools)
            yield return loop.Cools ? $"{view.Show(loop.ColdestC, Quantity.Temperature)} to {view.Show(loop.WarmestC, Quantity.Temperature)}" : "–";
        if (view.Heats)
            yield return loop.Heats ? $"{view.Show(loop.Settings.HeatingColdestC(loop.Serves), Quantity.Temperature)} to {view.Show(loop.Settings.HeatingWarmestC(loop.Serves), Quantity.Temperature)}" : "–";
        yield return loop.Type == LoopType.Mixed ? $"{view.Show(loop.Settings.LagS, Quantity.Duration)}, {view.Show(loop.StrokeS, Quantity.Duration)}" : view.Show(loop.Settings.LagS, Quantity.Duration);
        yield return string.Join(", ", PumpOf(view, loop));
    }

    private static string Pulled(SiteView view) => string.Join(" or ", [.. view.Cools ? ["pulled down"] : Array.Empty<string>(), .. view.Heats ? ["warmed up"] : Array.Empty<string>(), .. view.Dried.Count > 0 ? ["dried"] : Array.Empty<string>()]);

    private static IEnumerable<string> PumpOf(SiteView view, Loop loop)
    {
        yield return "on and off";
        if (loop.PumpSpeed >= 0)
            yield return $"speed from {view.Show(loop.Settings.PumpSlowestPercent, Quantity.Percent)}";
        if (loop.StandbyPump >= 0)
            yield return "a stand-by";
        if (view.IsWired(loop.PumpProof))
            yield return "proof";
        if (view.IsWired(loop.Flow))
            yield return "flow";
    }

    private static IEnumerable<string> Lines(SiteView view)
    {
        var loops = view.House.Loops;
        var surfaces = loops.Where(loop => loop.Serves == LoopServes.Surfaces).ToList();
        if (surfaces.Any(loop => loop.Cools && !loop.HasSeveralRooms) || surfaces.Any(loop => loop.Heats && !view.IsWired(view.House.Points.OutdoorTemperature)))
            yield return "Surfaces of one room, and warm ones without a sensor outdoors: water for the watts that are asked.";
        if (loops.Any(loop => loop.HasSeveralRooms && (loop.Cools || loop.Serves == LoopServes.Coils)))
            yield return view.Say("Several rooms on a loop, trim and respond (ASHRAE Guideline 36, 5.1.14): every {request_period} the set point is trimmed {request_trim} towards water that costs less and moved {request_respond} the other way for every request over {requests_ignored}, {request_respond_at_most} at most. "
                + "A room asks when it has wanted more than its water gives for {request_after}.");
        if (surfaces.Any(loop => loop.Heats) && view.IsWired(view.House.Points.OutdoorTemperature))
            yield return view.Say($"Warm surfaces by outdoor temperature: the set point goes straight from its coldest at {{no_heating_over}} outdoors to its warmest at {SiteView.List(surfaces.Where(loop => loop.Heats).Select(loop => $"{view.Show(loop.Settings.DesignOutdoorC, Quantity.Temperature)} ({loop.Id})"))}"
                + (view.Heated.Any(circuit => !circuit.Kind.IsSlab) ? "; requests of thin surfaces raise it by at most {outdoor_trim}." : "."));
        if (loops.Any(loop => loop.Serves == LoopServes.Coils))
            yield return $"Loops of coils have their strongest water while a room is {Pulled(view)}; otherwise the mildest that the requests allow.";
        foreach (var loop in loops.Where(loop => loop.Type == LoopType.Mixed))
            yield return $"Mixing valve of {loop.Id}: {DescribeHouse.Actuator(view, loop.Actuator)}; feed-forward from source and return, a small controller behind it; 0 % is full recirculation, the safe end.";
        if (loops.Any(loop => loop.Type == LoopType.Mixed))
            yield return view.Say("A mixing valve does not move for less than {mixing_dead_band}" + (loops.Any(loop => loop.Actuator.Kind == OutputKind.ThreePoint) ? "; a three-point one shuts once after {resynchronise_after} full strokes without an end stop, for its position is counted." : "."));
        yield return view.Say($"A pump runs when {(view.House.Coils.Length == 0 ? "a circuit" : view.House.Circuits.Length == 0 ? "a coil" : "a circuit or coil")} is proven open, by its end switch or by its actuator's time; never against shut valves"
            + (loops.Any(loop => loop.Settings.Bypass) ? ", and for {pump_post_run} after the last has shut where a bypass gives the water a way." : "."));
        if (loops.Any(loop => view.IsWired(loop.PumpProof) || view.IsWired(loop.Flow)))
            yield return view.Say("A pump without its proof or flow for {proof_wait} is told" + (loops.Any(loop => loop.StandbyPump >= 0) ? ", and the stand-by takes over." : "."));
        yield return view.Say("What has not moved for {exercise_after} is exercised, pumps for {exercise_for}, while nobody uses the loop.");
    }
}
