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
        ShellGroups.Each(top, "rooms", RoomShell.Parameters, _problems, _binder, _rooms, (Entry entry, RoomShell room, MapNode keys, string path) =>
        {
            ShellGroups.CheckRoom(entry.Key, room, keys, path, _rooms, _problems);
            rooms[entry.Key] = room;
        });
        ShellGroups.Read(top, building, _rooms, _problems, _binder);
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
}
