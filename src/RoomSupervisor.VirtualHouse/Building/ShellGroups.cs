// Rooms, doors and openings of a shell as groups of a file: building.yaml has them, and an estimate. What they say is checked here, in one place.
// Must never guess a name: what is not there is told with its line and the nearest name that is.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

internal static class ShellGroups
{
    // The building model's own limit for what stands open, m².
    private const double LargestM2 = 100;

    /// <summary>Doors and openings.</summary>
    internal static void Read(MapNode top, BuildingFile building, IReadOnlyList<string> rooms, Problems problems, ParameterBinder binder)
    {
        List<DoorShell> doors = [];
        Each(top, "doors", DoorShell.Parameters, problems, binder, null, (Entry entry, DoorShell door, MapNode keys, string path) =>
        {
            door.Name = entry.Key;
            Known(problems, door.From, rooms, keys.MarkOf("from"), ParameterBinder.Join(path, "from"));
            Known(problems, door.To, [.. rooms.Where(r => r != door.From)], keys.MarkOf("to"), ParameterBinder.Join(path, "to"));
            doors.Add(door);
        });
        List<OpeningShell> openings = [];
        Each(top, "openings", OpeningShell.Parameters, problems, binder, null, (Entry entry, OpeningShell opening, MapNode keys, string path) =>
        {
            opening.Name = entry.Key;
            Known(problems, opening.Room, rooms, keys.MarkOf("room"), ParameterBinder.Join(path, "room"));
            if (doors.Any(d => d.Name == opening.Name)) problems.Error(entry.KeyMark, path, "", "a door has this name already", "", "give it another");
            if (opening.WidthM * opening.HeightM is > LargestM2 and var area)
                problems.Error(keys.MarkOf("width"), ParameterBinder.Join(path, "width"), Metres(area), "of width by height is more than any door or window", $"up to {Metres(LargestM2)}", "look at width and height");
            openings.Add(opening);
        });
        (building.Doors, building.Openings) = (doors, openings);
    }

    /// <summary>What a room says of its neighbours and its glass.</summary>
    internal static void CheckRoom(string name, RoomShell room, MapNode keys, string path, IReadOnlyList<string> rooms, Problems problems)
    {
        Known(problems, room.Above, ["outside", "neighbour", "nothing", .. rooms.Where(r => r != name)], keys.MarkOf("above"), ParameterBinder.Join(path, "above"));
        Known(problems, room.Below, ["ground", "outside", "neighbour", "nothing"], keys.MarkOf("below"), ParameterBinder.Join(path, "below"));
        for (int i = 0; i < 4; i++)
            if (room.GlassM2(i) > 0 && !(room.WallM2(i) >= room.GlassM2(i)))
                problems.Error(keys.MarkOf("glass_" + BuildingFile.Directions[i]), ParameterBinder.Join(path, "glass_" + BuildingFile.Directions[i]), Metres(room.GlassM2(i)), "is larger than the wall it is in", $"0 m² to {Metres(Math.Max(Finite(room.WallM2(i)), 0))}", $"look at wall_{BuildingFile.Directions[i]}: it counts with its glass");
    }

    /// <summary>Each named group under a key.</summary>
    internal static void Each<T>(
        MapNode top, string key, IReadOnlyList<Parameter<T>> parameters, Problems problems, ParameterBinder binder, IReadOnlyList<string>? names, Action<Entry, T, MapNode, string> take)
        where T : new()
    {
        if (top.Find(key) is not { } entry) return;
        if (entry.Value is not MapNode group)
        {
            if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, key, "", "one value or nothing stands where a group is wanted", "a name and its keys, each", "");
            return;
        }

        foreach (Entry one in group.Entries)
        {
            string path = ParameterBinder.Join(key, one.Key);
            // Told even where a key below is wrong too: all mistakes at once.
            if (names is not null) Known(problems, one.Key, names, one.KeyMark, path);
            T part = new();
            if (one.Value is not MapNode keys)
            {
                if (one.Value is not BrokenNode)
                    problems.Error(one.Value.Mark, path, "", "one value or nothing stands where a group is wanted", string.Join(", ", parameters.Select(p => p.Key)), "");
                continue;
            }

            if (binder.Bind(keys, path, part, parameters)) take(one, part, keys, path);
        }
    }

    private static double Finite(double value) => double.IsFinite(value) ? value : 0;

    private static string Metres(double area) => FormattableString.Invariant($"{Math.Round(area, 1)} m²");

    private static void Known(Problems problems, string word, IReadOnlyList<string> known, Mark mark, string path)
    {
        if (!known.Contains(word, StringComparer.Ordinal)) problems.Error(mark, path, word, "is not there", string.Join(", ", known), Nearest.Hint(word, known));
    }
}
