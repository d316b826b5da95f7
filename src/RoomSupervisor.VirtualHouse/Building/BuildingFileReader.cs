// Reads building.yaml by the site's own strict reader: unknown keys, wrong units, rooms that are not there are told with their line.
// Must never take half a building: with one error there is none.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The outcome of reading building.yaml.</summary>
/// <param name="Building">The building, or null when anything is wrong.</param>
/// <param name="Problems">What is wrong, by line.</param>
public sealed record BuildingFileResult(BuildingFile? Building, IReadOnlyList<Problem> Problems);

/// <summary>Reader of building.yaml.</summary>
public sealed class BuildingFileReader
{
    private readonly Problems _problems = new();
    private readonly ParameterBinder _binder;
    private readonly IReadOnlyList<string> _rooms;

    private BuildingFileReader(IReadOnlyList<string> rooms)
    {
        _rooms = rooms;
        _binder = new ParameterBinder(_problems);
    }

    /// <summary>Reads a building.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its bytes; null: there is no such file, everything has its default.</param>
    /// <param name="rooms">Rooms of the site.</param>
    public static BuildingFileResult Read(string file, byte[]? text, IReadOnlyList<string> rooms)
    {
        ArgumentNullException.ThrowIfNull(rooms);
        BuildingFileReader reader = new(rooms);
        BuildingFile? building = null;
        if (text is null)
        {
            building = new BuildingFile();
            reader._binder.Defaults("", building, BuildingFile.Parameters);
            reader.Finish(building, []);
        }
        else if (SourceText.Decode(file, text, reader._problems) is { } source)
        {
            reader._problems.Add(source);
            if (TreeReader.Read(source, reader._problems) is { } top) building = reader.Top(top);
        }

        return new BuildingFileResult(reader._problems.Errors == 0 ? building : null, reader._problems.Ordered());
    }

    private BuildingFile Top(MapNode top)
    {
        BuildingFile building = new();
        _binder.Bind(top, "", building, BuildingFile.Parameters, "rooms", "doors", "openings");
        Dictionary<string, RoomShell> rooms = new(StringComparer.Ordinal);
        Group(top, "rooms", RoomShell.Parameters, (Entry entry, RoomShell room, MapNode keys, string path) =>
        {
            string name = entry.Key;
            Known(room.Above, ["outside", "neighbour", "nothing", .. _rooms.Where(r => r != name)], keys.MarkOf("above"), ParameterBinder.Join(path, "above"));
            Known(room.Below, ["ground", "outside", "neighbour", "nothing"], keys.MarkOf("below"), ParameterBinder.Join(path, "below"));
            for (int i = 0; i < 4; i++)
                if (room.GlassM2(i) > 0 && !(room.WallM2(i) >= room.GlassM2(i)))
                    _problems.Error(keys.MarkOf("glass_" + BuildingFile.Directions[i]), ParameterBinder.Join(path, "glass_" + BuildingFile.Directions[i]), "", "is larger than the wall it is in", "", "write wall_" + BuildingFile.Directions[i] + ", glass included");
            rooms[name] = room;
        });
        List<DoorShell> doors = [];
        Group(top, "doors", DoorShell.Parameters, (Entry entry, DoorShell door, MapNode keys, string path) =>
        {
            door.Name = entry.Key;
            Known(door.From, _rooms, keys.MarkOf("from"), ParameterBinder.Join(path, "from"));
            Known(door.To, [.. _rooms.Where(r => r != door.From)], keys.MarkOf("to"), ParameterBinder.Join(path, "to"));
            doors.Add(door);
        });
        List<OpeningShell> openings = [];
        Group(top, "openings", OpeningShell.Parameters, (Entry entry, OpeningShell opening, MapNode keys, string path) =>
        {
            opening.Name = entry.Key;
            Known(opening.Room, _rooms, keys.MarkOf("room"), ParameterBinder.Join(path, "room"));
            if (doors.Any(d => d.Name == opening.Name)) _problems.Error(entry.KeyMark, path, "", "a door has this name already", "", "give it another");
            openings.Add(opening);
        });
        (building.Doors, building.Openings) = (doors, openings);
        Finish(building, rooms);
        return building;
    }

    private void Finish(BuildingFile building, Dictionary<string, RoomShell> rooms)
    {
        foreach (string name in _rooms)
        {
            if (rooms.ContainsKey(name)) continue;
            RoomShell room = new();
            _binder.Defaults(ParameterBinder.Join("rooms", name), room, RoomShell.Parameters);
            rooms[name] = room;
        }

        building.Rooms = rooms;
        building.Effective = _binder.Effective(UnitSystem.Metric);
    }

    private void Group<T>(MapNode top, string key, IReadOnlyList<Parameter<T>> parameters, Action<Entry, T, MapNode, string> take)
        where T : new()
    {
        if (top.Find(key) is not { } entry) return;
        if (entry.Value is not MapNode group)
        {
            if (entry.Value is not BrokenNode)
                _problems.Error(entry.Value.Mark, key, "", "one value or nothing stands where a group is wanted", "a name and its keys, each", "");
            return;
        }

        foreach (Entry one in group.Entries)
        {
            string path = ParameterBinder.Join(key, one.Key);
            // Told even where a key below is wrong too: all mistakes at once.
            if (key == "rooms") Known(one.Key, _rooms, one.KeyMark, path);
            T part = new();
            if (one.Value is not MapNode keys)
            {
                if (one.Value is not BrokenNode)
                    _problems.Error(one.Value.Mark, path, "", "one value or nothing stands where a group is wanted", string.Join(", ", parameters.Select(p => p.Key)), "");
                continue;
            }

            if (_binder.Bind(keys, path, part, parameters)) take(one, part, keys, path);
        }
    }

    private void Known(string word, IReadOnlyList<string> known, Mark mark, string path)
    {
        if (!known.Contains(word, StringComparer.Ordinal)) _problems.Error(mark, path, word, "is not there", string.Join(", ", known), Nearest.Hint(word, known));
    }
}
