// The rooms: section of site.yaml, and coils: for those that serve several rooms. What hangs in a room is read by EmitterReader.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>A room that was understood.</summary>
internal sealed record ReadRoom(string Name, RoomSettings Settings, IReadOnlyList<CoilPart> Coils, IReadOnlyList<SurfacePart> Surfaces, Mark Mark, MapNode Group)
{
    /// <summary>Further air sensors, declared by wiring them.</summary>
    public IReadOnlyList<AirSensorPart> OtherAir { get; init; } = [];
}

/// <summary>A coil of several rooms that was understood.</summary>
internal sealed record ReadSharedCoil(SharedCoilPart Part, Mark Mark);

internal sealed class RoomReader(Problems problems, ParameterBinder binder, PointReader points, EmitterReader emitters, LoopReader loops)
{
    public List<ReadRoom> Rooms { get; } = [];

    public List<ReadSharedCoil> SharedCoils { get; } = [];

    /// <summary>Names as written, whether sound or not, so that the household's file is judged against them.</summary>
    public List<string> Names { get; } = [];

    /// <summary>Names of coils of several rooms as written.</summary>
    public List<string> CoilNames { get; } = [];

    public static IReadOnlyList<PointName> OwnPoints { get; } =
    [
        PointName.Input("air.temperature", Quantity.Temperature), PointName.Input("air.humidity", Quantity.Percent), PointName.Contact("opening.open"),
        PointName.Input("air.co2", Quantity.Number), PointName.Contact("people.present"), PointName.Input("unit.dial", Quantity.TemperatureDifference), PointName.Contact("unit.button"),
    ];

    /// <summary>The key of a shared coil that lists its rooms.</summary>
    public static Parameter<List<string>> Served { get; } = Declare.Name<List<string>>(
        "rooms", "rooms it serves: [first, second]", names => string.Join(", ", names), (names, name) => names.Add(name), example: "[living-room]");

    public void Read(MapNode? section)
    {
        var numbers = new Dictionary<int, string>();
        foreach (var entry in section?.Entries ?? [])
        {
            var path = $"rooms.{entry.Key}";
            Names.Add(entry.Key);
            if (GroupReader.Named(problems, entry, path, "{number: 1, floor_area: …}") is not { } group)
                continue;
            if (loops.Marks.ContainsKey(entry.Key))
                problems.Error(entry.KeyMark, path, entry.Key, "a loop has the same name", "names of rooms, loops and coils are unique together", "rename one");
            else
                ReadOne(entry, group, path, numbers);
        }
    }

    public void ReadShared(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            var path = $"coils.{entry.Key}";
            CoilNames.Add(entry.Key);
            if (GroupReader.Named(problems, entry, path, "{kind: …, loop: …, rooms: [first, second]}") is not { } group)
                continue;
            if (loops.Marks.ContainsKey(entry.Key) || Names.Contains(entry.Key))
                problems.Error(entry.KeyMark, path, entry.Key, "a room or loop has the same name", "names of rooms, loops and coils are unique together", "rename one");
            else
                ReadShared(entry, group, path);
        }
    }

    private void ReadOne(Entry entry, MapNode group, string path, Dictionary<int, string> numbers)
    {
        var parts = group.Entries.Where(e => EmitterReader.IsEmitter(e.Key)).ToList();
        var settings = new RoomSettings();
        var sound = binder.Bind(group, path, settings, RoomSettings.Parameters, [.. parts.Select(e => e.Key), .. EmitterReader.Words.Except(parts.Select(e => e.Key)), "points"]);
        if (sound && !numbers.TryAdd(settings.Number, entry.Key))
            problems.Error(group.MarkOf("number"), path + ".number", "", $"room {numbers[settings.Number]} has the same number", "each number once", "");
        List<PointName> names = [.. OwnPoints];
        var coils = new List<CoilPart>();
        var surfaces = new List<SurfacePart>();
        foreach (var part in parts)
        {
            if (EmitterReader.IsCoil(part.Key))
                Add(coils, emitters.ReadCoil(part, ParameterBinder.Join(path, part.Key), names), ref sound);
            else
                Add(surfaces, emitters.ReadSurface(part, ParameterBinder.Join(path, part.Key), names), ref sound);
        }
        var others = AirSensors.Of(group.Find("points"), problems, path + ".points", names);
        points.Read(group.Find("points"), entry.Key, path + ".points", names);
        if (sound)
            Rooms.Add(new ReadRoom(entry.Key, settings, coils, surfaces, entry.KeyMark, group) { OtherAir = others });
    }

    private static void Add<T>(List<T> list, T? part, ref bool sound)
        where T : class
    {
        sound &= part is not null;
        if (part is not null)
            list.Add(part);
    }

    private void ReadShared(Entry entry, MapNode group, string path)
    {
        List<PointName> names = [];
        var part = emitters.ReadCoil(entry with { Key = "coil", Value = group.Where(e => e.Key != Served.Key && e.Key != "points") }, path, names, Served.Key, "points");
        points.Read(group.Find("points"), entry.Key, path + ".points", names);
        if (group.Find(Served.Key) is not { } list)
        {
            problems.Error(entry.KeyMark, path + ".rooms", "", "is missing: the rooms it serves", "[first, second]", "add rooms: [first, second]");
            return;
        }
        if (GroupReader.Words(problems, list.Value, path + ".rooms", "names of rooms") is not { } served)
            return;
        foreach (var name in served.Where(name => !Names.Contains(name.Text)))
            problems.Error(name.Mark, path + ".rooms", name.Text, "the site has no such room", string.Join(", ", Names), Nearest.Hint(name.Text, Names));
        if (served.Select(name => name.Text).Distinct(StringComparer.Ordinal).Count() != served.Count)
            problems.Error(list.Value.Mark, path + ".rooms", "", "names a room twice", "each room once", "");
        if (part is not null && served.All(name => Names.Contains(name.Text)))
            SharedCoils.Add(new ReadSharedCoil(new SharedCoilPart(entry.Key, [.. served.Select(name => name.Text).Distinct(StringComparer.Ordinal)], part), entry.KeyMark));
    }
}
