// Surfaces within their limits: cooled ones above the dew point, heated ones under what feet and heads bear. Only what the site has. Must never round a margin away.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Guarding surfaces.</summary>
internal static class DescribeGuard
{
    public static IEnumerable<Section> Of(SiteView view)
    {
        if (view.Cooled.Count > 0)
            yield return new Section("Condensation guard", [new Words($"Cooled surfaces: {SiteView.List(view.Cooled.Select(circuit => circuit.Id))}."), new Bullets([.. Cooled(view)])]);
        if (view.Heated.Count > 0)
            yield return new Section("Warm surfaces", [new Bullets([.. Warm(view)])]);
    }

    private static IEnumerable<string> Cooled(SiteView view)
    {
        var house = view.House;
        yield return view.Say("Dew point of each room from temperature and humidity of one sensor. The worst case adds the accuracies of both sensors and of the supply's, and {ageing_adds} for every minute that a reading is older than its device's interval.");
        yield return view.Say("Lowest safe supply: the worst-case dew point, {margin} over it, and what a rising dew point adds within the loop's lag or the time the actuator takes to shut, at most {anticipation_at_most}. The set point rises at once and falls by at most {fall_rate}.");
        yield return view.Say("A circuit is shut when its supply is less than {shut_at_once_under} over the worst-case dew point at once, less than {shut_under} for {shut_after}, or when the dew point rises faster than {shut_rising}. It opens again when the dew point has been steady (under {steady_rate}) for {open_after_steady} and the supply is at most {open_below} under the lowest safe one.");
        if (house.Loops.Any(loop => loop.Cools && loop.Serves == LoopServes.Surfaces && !loop.Settings.Bypass))
            yield return view.Say("On a loop without a bypass a shut circuit cannot see its water warm: standing water is warmed through at full recirculation when it is expected {slug_above} over the worst-case dew point, for at most {warm_through_at_most}, then it rests as long.");
        if (house.Loops.Any(loop => loop.Cools && loop.Serves == LoopServes.Surfaces && loop.Settings.Bypass))
            yield return view.Say("On a loop with a bypass the pump runs at full recirculation past shut circuits until the supply sensor sees safe water, at most {warm_through_at_most} at a time.");
        if (house.Loops.Any(loop => loop.Cools && loop.Serves == LoopServes.Surfaces && loop.HasSeveralRooms))
            yield return view.Say("Shared water is held up by every open room. One that alone would hold it {isolate_above} over what the others need is shut for their sake where the house gains by it, and comes back at {isolate_back} less. A room whose coil may not run waits at most {shared_water_wait} for warmer water; then the loop is warmed for it for {shared_water_turn}.");
        foreach (var loop in house.Loops.Where(loop => loop.Cools && loop.Serves == LoopServes.Surfaces && loop.ManifoldRoom >= 0))
            yield return $"The manifold of {loop.Id} stands in {house.Rooms[loop.ManifoldRoom].Id}: its air counts for every circuit of the loop.";
        foreach (var line in Switches(view))
            yield return line;
        if (view.Cooled.Any(circuit => circuit.Place == SurfacePlace.Floor))
            yield return view.Say("A cooled floor keeps its surface at {floor_at_least} or more.");
        if (view.Cooled.Any(circuit => circuit.Kind.IsSlab) && view.IsWired(house.Points.OutdoorTemperature) && view.IsWired(house.Points.OutdoorHumidity))
            yield return view.Say("Cooled slabs keep their surface no further than {reserve_under} under the outdoor dew point while that is {reserve_from} over the room's and openings are likely: one within the last {openings_last}, or said to be.");
        yield return view.Say("Humidity missing: the last worst case, growing, for {keep_last_good}; then the highest dew point of other rooms and outdoors and {missing_humidity_adds}; with none, the warmest room at {missing_humidity_assumes}. A lost supply sensor shuts the surface and stops the pump.");
    }

    private static IEnumerable<string> Switches(SiteView view)
    {
        var house = view.House;
        string[] read =
        [
            .. view.Cooled.Where(circuit => view.IsWired(circuit.CondensationSwitch)).Select(circuit => circuit.Id),
            .. house.Loops.Where(loop => loop.Cools && view.IsWired(loop.ManifoldSwitch)).Select(loop => $"the manifold of {loop.Id}"),
        ];
        string[] without = [.. view.Cooled.Where(circuit => !view.IsWired(circuit.CondensationSwitch) && !view.IsWired(house.Loops[circuit.Loop].ManifoldSwitch)).Select(circuit => circuit.Id)];
        if (read.Length > 0)
            yield return view.Say($"Condensation switches are read at {SiteView.List(read)}: a wet one shuts its circuit, one on a manifold every cooled circuit on it, at once, for {{open_after_wet}} beyond.");
        if (without.Length > 0)
            yield return $"No condensation switch is read for {SiteView.List(without)}: sensors and software alone keep them dry.";
    }

    private static IEnumerable<string> Warm(SiteView view)
    {
        var floors = view.Heated.Where(circuit => circuit.Place == SurfacePlace.Floor).ToList();
        if (floors.Any(circuit => !circuit.Settings.IsBath && !circuit.Settings.IsEdge))
            yield return view.Say($"Heated floors at most {{floor_at_most}}: {SiteView.List(floors.Where(circuit => !circuit.Settings.IsBath && !circuit.Settings.IsEdge).Select(circuit => circuit.Id))} (EN 1264).");
        if (floors.Any(circuit => circuit.Settings.IsBath && !circuit.Settings.IsEdge))
            yield return view.Say($"Bathroom floors at most {{bath_floor_at_most}}: {SiteView.List(floors.Where(circuit => circuit.Settings.IsBath && !circuit.Settings.IsEdge).Select(circuit => circuit.Id))} (EN 1264, from memory).");
        if (floors.Any(circuit => circuit.Settings.IsEdge))
            yield return view.Say($"Floors of edge zones at most {{edge_floor_at_most}}: {SiteView.List(floors.Where(circuit => circuit.Settings.IsEdge).Select(circuit => circuit.Id))} (EN 1264).");
        if (view.Heated.Any(circuit => circuit.Place == SurfacePlace.Ceiling))
            yield return view.Say("Heated ceilings: radiant asymmetry at most {ceiling_asymmetry} (ISO 7730, from memory).");
        if (view.Heated.Any(circuit => circuit.Place == SurfacePlace.Wall))
            yield return view.Say("Heated walls: radiant asymmetry at most {wall_asymmetry} (ISO 7730, from memory).");
        string[] sensed = [.. view.Heated.Where(circuit => view.IsWired(circuit.SurfaceTemperature)).Select(circuit => circuit.Id)];
        yield return "Supply water for such a surface by what it exchanges at it and by its rating" + (sensed.Length > 0 ? $"; {SiteView.List(sensed)} by a sensor besides." : ".");
    }
}
