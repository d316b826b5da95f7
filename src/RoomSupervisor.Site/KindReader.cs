// The kinds: section: coils, surfaces, actuators and sensors described once. A part that names a kind gets the right sort of it or a
// problem.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class KindReader(Problems problems, ParameterBinder binder)
{
    public const string FanCoil = "fan-coil", Panel = "panel", Slab = "slab", Modulating = "modulating", OnOff = "on-off", ThreePoint = "three-point", Sensor = "sensor";

    /// <summary>Groups inside a fan coil's kind.</summary>
    public const string Sound = "sound", Speeds = "speeds";

    /// <summary>Words of <c>type</c>.</summary>
    public static readonly string[] Types = [FanCoil, Panel, Slab, Modulating, OnOff, ThreePoint, Sensor];

    /// <summary>The word that says which sort a kind is.</summary>
    public static TypeWord Word() => new("type", "what it is", Types);

    private readonly Dictionary<string, (object Kind, string Type, MapNode Group)> kinds = new(StringComparer.Ordinal);
    private readonly HashSet<string> used = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Mark> marks = new(StringComparer.Ordinal);

    public void Read(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            marks[entry.Key] = entry.KeyMark;
            var path = $"kinds.{entry.Key}";
            if (GroupReader.Named(problems, entry, path, "{type: fan-coil, …}") is { } group)
                ReadOne(entry, group, path);
        }
    }

    /// <summary>The kind of a name, if it is of a sort wanted; a problem otherwise.</summary>
    public T? Find<T>(string name, Mark mark, string path, string type)
        where T : class
    {
        used.Add(name);
        if (kinds.TryGetValue(name, out var found))
        {
            if (found.Kind is T kind)
                return kind;
            problems.Error(mark, path, name, $"is a kind of type {found.Type}", $"a kind of type {type}", "");
        }
        else if (!marks.ContainsKey(name))
        {
            var fitting = kinds.Where(pair => pair.Value.Kind is T).Select(pair => pair.Key).ToList();
            problems.Error(mark, path, name, $"there is no such kind of type {type}", string.Join(", ", fitting), Nearest.Hint(name, fitting));
        }
        return null;
    }

    /// <summary>True when a key of a kind was written; for kinds that are sound.</summary>
    public bool Says(object kind, string key) => kinds.Values.Any(found => ReferenceEquals(found.Kind, kind) && found.Group.Find(key) is not null);

    /// <summary>Name and place of a kind.</summary>
    public (string Name, Mark Mark) NameOf(object kind)
    {
        var name = kinds.First(pair => ReferenceEquals(pair.Value.Kind, kind)).Key;
        return (name, marks[name]);
    }

    /// <summary>Warns of kinds that nothing names.</summary>
    public void WarnUnused()
    {
        foreach (var (name, mark) in marks.Where(pair => kinds.ContainsKey(pair.Key) && !used.Contains(pair.Key)))
            problems.Warn(mark, $"kinds.{name}", "", "nothing is of this kind", "remove it, or name it where it belongs");
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var type = Word();
        if (!binder.Bind(LoopReader.Only(group, "type"), path, type, type.Parameters))
            return;
        var (kind, sound) = type.Word switch
        {
            FanCoil => Coil(group, path),
            Panel => Bound(group, path, SurfaceKind.Panel(), SurfaceKind.Parameters),
            Slab => Bound(group, path, SurfaceKind.Slab(), SurfaceKind.SlabParameters),
            OnOff => Bound(group, path, ActuatorKind.OnOff(), ActuatorKind.OnOffParameters),
            ThreePoint => Bound(group, path, ActuatorKind.ThreePoint(), ActuatorKind.ThreePointParameters),
            Sensor => Bound(group, path, new SensorKind(), SensorKind.Parameters),
            _ => Bound(group, path, ActuatorKind.Modulating(), ActuatorKind.Parameters),
        };
        if (sound)
            kinds[entry.Key] = (kind, type.Word, group);
    }

    private (object Kind, bool Sound) Bound<T>(MapNode group, string path, T kind, IReadOnlyList<Parameter<T>> parameters)
        where T : class
        => (kind, binder.Bind(group, path, kind, parameters, "type"));

    private (object Kind, bool Sound) Coil(MapNode group, string path)
    {
        var coil = new CoilKind();
        var sound = binder.Bind(group, path, coil, CoilKind.Parameters, "type", Sound, Speeds);
        sound &= Inner(group, Sound, path, coil, CoilKind.SoundParameters, "{at: 100 %, level: 47 dB}");
        sound &= Inner(group, Speeds, path, coil, CoilKind.StepParameters, "{step_1: 35 %, step_2: 60 %, step_3: 100 %}");
        return (coil, sound && new CoilKindChecks(problems).Check(group, path, coil));
    }

    private bool Inner(MapNode group, string key, string path, CoilKind coil, IReadOnlyList<Parameter<CoilKind>> parameters, string example)
    {
        var entry = group.Find(key);
        if (entry is null || entry.Value is BrokenNode)
            return entry is null;
        return GroupReader.Group(problems, entry, $"{path}.{key}", example) is { } inner && binder.Bind(inner, $"{path}.{key}", coil, parameters);
    }
}
