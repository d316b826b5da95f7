// What only several keys together can show to be wrong: points that a part cannot do without, a tray that would not stop its coil,
// limits that contradict a fan. Errors where somebody could be hurt or something damaged, warnings with the consequence elsewhere.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class CrossChecks(Problems problems, ParameterBinder binder, PointReader points)
{
    /// <summary>Points that rooms and loops cannot do without. Only sound parts are looked at: the others are told already.</summary>
    public void Wiring(RoomReader rooms, LoopReader loops)
    {
        foreach (var room in rooms.Rooms)
        {
            Room(room.Name, room.Coil, room.Surface, room.Mark);
            if (room.Surface.Settings.AreaM2 > room.Settings.FloorAreaM2)
                problems.Warn(room.Mark, $"rooms.{room.Name}.ceiling.area", "", "is larger than the floor: the ceiling would be counted on for more than it can give", "look at both areas");
        }
        foreach (var loop in loops.Loops)
        {
            var mark = loops.Marks[loop.Name];
            Required(loop.Name, "pump.run", mark);
            if (loop.Type == LoopType.Mixed)
                Required(loop.Name, "mixing.valve", mark);
            if (loop.Type == LoopType.Mixed || loop.Serves == LoopServes.Surfaces)
                Required(loop.Name, "supply.temperature", mark);
        }
    }

    /// <summary>Loops that nothing hangs on.</summary>
    public void Loops(RoomReader rooms, LoopReader loops)
    {
        foreach (var loop in loops.Loops.Where(loop => !rooms.Rooms.Any(room => room.Coil.Loop == loop.Name || room.Surface.Loop == loop.Name)))
            problems.Warn(loops.Marks[loop.Name], $"loops.{loop.Name}", "", "nothing hangs on this loop", "name it where it belongs, or remove it");
    }

    /// <summary>What a household asks of a room against what its coil can do.</summary>
    public void Household(RoomReader rooms, HouseholdReader household)
    {
        foreach (var room in rooms.Rooms)
        {
            if (household.Groups.TryGetValue(room.Name, out var group))
                Wishes(room.Name, room.Coil.Kind, household.Rooms[room.Name], group);
        }
    }

    private void Room(string name, CoilPart coil, SurfacePart surface, Mark mark)
    {
        foreach (var point in new[] { "air.temperature", "air.humidity", $"{coil.Name}.fan", $"{surface.Name}.valve" })
            Required(name, point, mark);
        var path = $"rooms.{name}.{coil.Name}";
        if (!coil.Kind.DripTraySwitch)
            problems.Warn(mark, path, "", "has no drip tray switch: a blocked drain floods the room unnoticed", "fit one, and say drip_tray_switch: true in its kind");
        else if (IsMissing(name, $"{coil.Name}.drip_tray_full"))
            problems.Error(mark, path, "", "its kind has a drip tray switch that is not wired: a full tray would not stop the coil", $"{coil.Name}.drip_tray_full", "wire it under points");
        if (IsMissing(name, "opening.open"))
            problems.Warn(mark, $"rooms.{name}", "", "has no opening contact: the room goes on cooling with a door open until the dew point betrays it", "wire opening.open");
    }

    private void Wishes(string name, CoilKind kind, HouseholdRoom asked, MapNode group)
    {
        var path = $"rooms.{name}";
        var quiet = group.Find("quiet")?.Value as MapNode;
        var start = Quantities.Show(kind.StartSpeedPercent, Quantity.Percent, binder.Units);
        if (!double.IsNaN(asked.NoiseAtMostDb) && double.IsNaN(kind.SoundLevelDb))
        {
            problems.Error(group.MarkOf("noise_at_most"), path + ".noise_at_most", "", "the coil's kind has no sound data: a limit in decibels could not be kept", "",
                "add sound: {at: …, level: …} to the kind, or use fan_at_most");
        }
        if (asked.FanAtMostPercent < kind.StartSpeedPercent && asked.FanAtMostPercent > 0)
        {
            problems.Warn(group.MarkOf("fan_at_most"), path + ".fan_at_most", "",
                $"is under the fan's slowest speed {start}: the coil never runs, the ceiling works alone and nothing dries the air", Advice(asked.FanAtMostPercent, start));
        }
        if (quiet is null || double.IsNaN(asked.QuietFromMinutes) || double.IsNaN(asked.QuietToMinutes))
            return;
        if (asked.QuietFanAtMostPercent < kind.StartSpeedPercent)
        {
            problems.Warn(quiet.MarkOf("fan_at_most"), path + ".quiet.fan_at_most", "",
                "the coil does not run in quiet hours: the room cools with its ceiling only, and not at all when the air is too humid for it", Advice(asked.QuietFanAtMostPercent, start));
        }
        if (asked.QuietFanAtMostPercent > asked.FanAtMostPercent && asked.FanAtMostPercent > 0)
            problems.Warn(quiet.MarkOf("fan_at_most"), path + ".quiet.fan_at_most", "", "is over the room's own fan_at_most: quiet hours change nothing", "write less, or remove quiet");
        if (asked.QuietFromMinutes == asked.QuietToMinutes)
            problems.Error(quiet.MarkOf("to"), path + ".quiet", "", "begins and ends at the same minute", "two different times", "");
    }

    /// <summary>0.35 without a unit was probably meant as a share of one.</summary>
    private static string Advice(double percent, string start) => percent is > 0 and <= 1
        ? $"did you mean {Quantities.Show(percent * 100, Quantity.Percent, UnitSystem.Metric)}?"
        : $"{start} or more lets it run";

    private void Required(string owner, string point, Mark mark)
    {
        if (IsMissing(owner, point))
            problems.Error(mark, $"{owner}.{point}", "", "is not wired, and cannot be done without", "", "add it under points: {device: …, channel: …}");
    }

    private bool IsMissing(string owner, string point) => !points.Written.Contains($"{owner}.{point}") && !points.Damaged.Contains(owner);
}
