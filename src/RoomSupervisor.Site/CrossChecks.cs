// What only several keys together can show to be wrong: points that a part cannot do without, a tray that would not stop its coil,
// limits that contradict a fan. Errors where somebody could be hurt or something damaged, warnings with the consequence elsewhere.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class CrossChecks
{
    public static void Wiring(House house, bool hasDevices, RoomReader rooms, LoopReader loops, IReadOnlyDictionary<string, PointSpec> specs, Problems problems, Mark top)
    {
        if (!hasDevices)
        {
            problems.Warn(top, "devices", "", "nothing is wired: this site is for lockstep only, run has nothing to do", "add devices and points");
            return;
        }
        foreach (var room in house.Rooms)
        {
            var mark = rooms.Rooms.First(part => part.Name == room.Id).Mark;
            var coil = house.Coils[room.Coil];
            foreach (var id in new[] { $"{room.Id}.air.temperature", $"{room.Id}.air.humidity", $"{coil.Id}.fan", $"{house.Circuits[room.Circuit].Id}.valve" })
                Required(specs, id, mark, problems);
            if (coil.Kind.DripTraySwitch && !specs.ContainsKey($"{coil.Id}.drip_tray_full"))
                problems.Error(mark, $"rooms.{coil.Id}", "", $"its kind has a drip tray switch that is not wired: a full tray would not stop the coil", $"{coil.Id[(room.Id.Length + 1)..]}.drip_tray_full", "wire it under points");
            if (!coil.Kind.DripTraySwitch)
                problems.Warn(mark, $"rooms.{coil.Id}", "", "has no drip tray switch: a blocked drain floods the room unnoticed", "fit one, and say drip_tray_switch: true in its kind");
            if (!specs.ContainsKey($"{room.Id}.opening.open"))
                problems.Warn(mark, $"rooms.{room.Id}", "", "has no opening contact: the room goes on cooling with a door open until the dew point betrays it", "wire opening.open");
        }
        foreach (var loop in house.Loops)
        {
            var mark = loops.Marks[loop.Id];
            Required(specs, $"{loop.Id}.pump.run", mark, problems);
            if (loop.Type == LoopType.Mixed)
                Required(specs, $"{loop.Id}.mixing.valve", mark, problems);
            if (loop.Serves == LoopServes.Surfaces)
                Required(specs, $"{loop.Id}.supply.temperature", mark, problems);
        }
    }

    public static void Household(House house, HouseholdReader household, Mark file, Problems problems)
    {
        foreach (var room in house.Rooms)
        {
            var mark = household.Marks.TryGetValue(room.Id, out var own) ? own : file;
            var kind = house.Coils[room.Coil].Kind;
            var asked = room.Household;
            if (!double.IsNaN(asked.NoiseAtMostDb) && double.IsNaN(kind.SoundLevelDb))
                problems.Error(mark, $"rooms.{room.Id}.noise_at_most", "", "the coil's kind has no sound data: a limit in decibels could not be kept", "", "add sound: {at: …, level: …} to the kind, or use fan_at_most");
            var start = Quantities.Show(kind.StartSpeedPercent, Quantity.Percent, UnitSystem.Metric);
            if (asked.FanAtMostPercent < kind.StartSpeedPercent)
                problems.Warn(mark, $"rooms.{room.Id}.fan_at_most", "", $"is under the fan's slowest speed {start}: the coil never runs, the ceiling works alone and nothing dries the air", $"{start} or more lets it run");
            if (!double.IsNaN(asked.QuietFromMinutes) && asked.QuietFanAtMostPercent < kind.StartSpeedPercent)
                problems.Warn(mark, $"rooms.{room.Id}.quiet.fan_at_most", "", "the coil does not run in quiet hours: the room cools with its ceiling only, and not at all when the air is too humid for it", $"{start} or more lets it run");
            if (asked.QuietFromMinutes == asked.QuietToMinutes)
                problems.Error(mark, $"rooms.{room.Id}.quiet", "", "begins and ends at the same minute", "two different times", "");
        }
    }

    private static void Required(IReadOnlyDictionary<string, PointSpec> specs, string id, Mark mark, Problems problems)
    {
        if (!specs.ContainsKey(id))
            problems.Error(mark, id, "", "is not wired, and cannot be done without", "", "add it under points: {device: …, channel: …}");
    }
}
