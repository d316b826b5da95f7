// What a household asks of a room against what its coils can do: errors where a wish could not be kept, warnings with the consequence
// in words.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class HouseholdChecks(Problems problems, ParameterBinder binder)
{
    public void Check(RoomReader rooms, LoopReader loops, HouseholdReader household)
    {
        foreach (var room in rooms.Rooms)
        {
            if (!household.Groups.TryGetValue(room.Name, out var group))
                continue;
            var kinds = room.Coils.Select(coil => coil.Kind).Concat(rooms.SharedCoils.Where(shared => shared.Part.Rooms.Contains(room.Name)).Select(shared => shared.Part.Coil.Kind)).ToList();
            foreach (var kind in kinds.Take(1))
                Wishes(room.Name, kind, room.Surfaces.Count > 0, household.Rooms[room.Name], group);
            if (problems.Errors > 0)
                continue;   // a coil or loop may seem missing only because it was refused
            if (kinds.Count == 0)
                NoCoil(room.Name, group);
            Seasons(room, rooms, loops, group);
        }
    }

    /// <summary>A wish for cold or warmth in a room whose loops never carry such water.</summary>
    private void Seasons(ReadRoom room, RoomReader rooms, LoopReader loops, MapNode group)
    {
        var coils = room.Coils.Concat(rooms.SharedCoils.Where(shared => shared.Part.Rooms.Contains(room.Name)).Select(shared => shared.Part.Coil));
        var names = room.Surfaces.Select(surface => surface.Loop).Concat(coils.SelectMany(coil => new[] { coil.Loop, coil.HeatingLoop })).ToHashSet(StringComparer.Ordinal);
        var on = loops.Loops.Where(loop => names.Contains(loop.Name)).ToList();
        if (group.Find("cool_above") is { } cool && on.TrueForAll(loop => loop.Seasons == Sequence.Seasons.Heating))
            problems.Warn(cool.KeyMark, $"rooms.{room.Name}.cool_above", "", "nothing in this room is ever cooled: this changes nothing", "remove the line");
        if (group.Find("heat_below") is { } heat && on.TrueForAll(loop => loop.Seasons == Sequence.Seasons.Cooling))
            problems.Warn(heat.KeyMark, $"rooms.{room.Name}.heat_below", "", "nothing in this room is ever heated: this changes nothing", "remove the line");
    }

    /// <summary>Limits on a fan that is not there.</summary>
    private void NoCoil(string name, MapNode group)
    {
        foreach (var key in new[] { "fan_at_most", "noise_at_most", "quiet" })
        {
            if (group.Find(key) is { } entry)
                problems.Warn(entry.KeyMark, $"rooms.{name}.{key}", "", "the room has no fan: this changes nothing", "remove the line");
        }
    }

    private void Wishes(string name, CoilKind kind, bool hasSurface, HouseholdRoom asked, MapNode group)
    {
        var alone = hasSurface ? "the surface works alone and nothing dries the air" : "nothing cools, heats or dries the room";
        var quietAlone = hasSurface ? "the room cools with its surface only, and not at all when the air is too humid for it" : "nothing cools, heats or dries the room until they end";
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
                $"is under the fan's slowest speed {start}: the coil never runs, {alone}", Advice(asked.FanAtMostPercent, start, binder.Units));
        }
        if (quiet is null || double.IsNaN(asked.QuietFromMinutes) || double.IsNaN(asked.QuietToMinutes))
            return;
        if (asked.QuietFanAtMostPercent < kind.StartSpeedPercent)
        {
            problems.Warn(quiet.MarkOf("fan_at_most"), path + ".quiet.fan_at_most", "",
                problems.Words($"the coil does not run in quiet hours: {quietAlone}; in the hour before they begin the air is dried to a dew point 1 K lower"), Advice(asked.QuietFanAtMostPercent, start, binder.Units));
        }
        if (asked.QuietFanAtMostPercent > asked.FanAtMostPercent && asked.FanAtMostPercent > 0)
            problems.Warn(quiet.MarkOf("fan_at_most"), path + ".quiet.fan_at_most", "", "is over the room's own fan_at_most: quiet hours change nothing", "write less, or remove quiet");
        if (asked.QuietFromMinutes == asked.QuietToMinutes)
            problems.Error(quiet.MarkOf("to"), path + ".quiet", "", "begins and ends at the same minute", "two different times", "");
    }

    /// <summary>0.35 without a unit was probably meant as a share of one.</summary>
    private static string Advice(double percent, string start, UnitSystem units) => percent is > 0 and <= 1
        ? $"did you mean {Quantities.Show(percent * 100, Quantity.Percent, units)}?"
        : $"{start} or more lets it run";
}
