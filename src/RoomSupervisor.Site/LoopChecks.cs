// A loop against what hangs on it: limits that contradict surfaces, a heated floor without a high limit, and what was left unsaid where
// it matters.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class LoopChecks(Problems problems, PointReader points, KindReader kinds, RoomReader rooms, LoopReader loops)
{
    /// <summary>Supply under which a cooled floor comes under 19.5 °C at the surface whatever its covering, °C (EN ISO 11855-1 surface limit; project choice of water).</summary>
    private const double ColdestFloorWaterC = 14;

    /// <summary>Supply over which a bare heated floor passes 29 °C (EN 1264-2: 29 °C in occupied zones; 55 °C water limit of screeds common practice, no published source).</summary>
    private const double WarmestFloorWaterC = 50;

    public void Check(LoopPart loop)
    {
        var mark = loops.Marks[loop.Name];
        var path = $"loops.{loop.Name}";
        var on = rooms.Rooms.SelectMany(room => room.Surfaces.Where(surface => surface.Loop == loop.Name).Select(surface => (Room: room, Surface: surface))).ToList();
        var coils = rooms.Rooms.SelectMany(room => room.Coils).Concat(rooms.SharedCoils.Select(shared => shared.Part.Coil)).Any(coil => coil.Loop == loop.Name || coil.HeatingLoop == loop.Name);
        if (on.Count == 0 && !coils && problems.Errors == 0)
            problems.Warn(mark, path, "", "nothing hangs on this loop", "name it where it belongs, or remove it");
        Manifold(loop, path, on.Select(pair => pair.Room.Name).Distinct(StringComparer.Ordinal).Count());
        var floors = on.Any(pair => pair.Surface.Place == SurfacePlace.Floor);
        if (floors)
            Floor(loop, mark, path);
        if (loop.Serves == LoopServes.Surfaces && loop.Seasons != Seasons.Heating)
            Unsaid(loop, mark, path, on.Select(pair => pair.Surface).ToList());
    }

    private void Floor(LoopPart loop, Mark mark, string path)
    {
        var group = loops.Groups[loop.Name];
        if (loop.Seasons != Seasons.Cooling && !loop.Settings.HighLimitThermostat && !points.Written.Contains($"{loop.Name}.high_limit.tripped") && !points.Damaged.Contains(loop.Name))
        {
            problems.Error(mark, path, "", "heats floors and has no high limit: a stuck mixing valve would send the source's water into the floor", "high_limit.tripped under points, or high_limit_thermostat: true",
                "fit a thermostat that stops the pump by itself, and say so; local codes ask for it");
        }
        if (loop.Seasons != Seasons.Cooling && loop.Settings.HeatingWarmestC(loop.Serves) > WarmestFloorWaterC)
            problems.Warn(group.MarkOf("heating_warmest"), path + ".heating_warmest", "", problems.Words("is hot for a floor: the surface passes 29 °C and screed may crack"), problems.Words("50 °C or less, and what the maker of floor and covering allows"));
        if (loop.Seasons != Seasons.Heating && loop.Settings.ColdestC < ColdestFloorWaterC)
            problems.Warn(group.MarkOf("coldest"), path + ".coldest", "", problems.Words("is cold for a floor: its surface may come under 19.5 °C, and people feel it at the feet"), problems.Words("14 °C or more"));
    }

    private void Manifold(LoopPart loop, string path, int inRooms)
    {
        var group = loops.Groups[loop.Name];
        if (loop.ManifoldRoom.Length > 0 && !rooms.Names.Contains(loop.ManifoldRoom))
            problems.Error(group.MarkOf("manifold_in"), path + ".manifold_in", loop.ManifoldRoom, "the site has no such room", string.Join(", ", rooms.Names), Nearest.Hint(loop.ManifoldRoom, rooms.Names));
        else if (loop.ManifoldRoom.Length == 0 && loop.Serves == LoopServes.Surfaces && loop.Seasons != Seasons.Heating && inRooms > 1)
            problems.Warn(loops.Marks[loop.Name], path + ".manifold_in", "", "is not said: the pipes at the manifold get wet first where its room is the most humid", "write the room it stands in");
    }

    /// <summary>What a cooled loop should say, because the guard's timing hangs on it.</summary>
    private void Unsaid(LoopPart loop, Mark mark, string path, List<SurfacePart> surfaces)
    {
        var group = loops.Groups[loop.Name];
        if (group.Find("bypass") is null)
            problems.Warn(mark, path + ".bypass", "", "is not said: it decides how shut circuits see warm water again", "write bypass: false, or true where water can run past the circuits");
        if (group.Find("stroke") is null && loop.Actuator is null)
            problems.Warn(mark, path + ".stroke", "", "is not said: 90 s are assumed for the mixing valve", "write the time of its full stroke");
        foreach (var kind in surfaces.Select(surface => surface.Actuator).Distinct().Where(kind => kind.Kind == OutputKind.OnOff && !kinds.Says(kind, "closing_time")))
        {
            var (name, at) = kinds.NameOf(kind);
            problems.Warn(at, $"kinds.{name}.closing_time", "", "is not said, and cooled surfaces hang on it: a slow actuator must shut that much earlier", "write the time it takes to shut, 2 to 5 min for wax");
        }
    }
}
