// The points: groups: which point of an owner hangs on which channels of which device, and what is known of its sensor. Collected
// while the parts are read, checked against devices afterwards.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Reads points: groups.</summary>
internal sealed class PointReader(Problems problems, ParameterBinder binder, KindReader kinds)
{
    /// <summary>The sound ones by id.</summary>
    public Dictionary<string, PointSpec> Specs { get; } = new(StringComparer.Ordinal);

    /// <summary>Ids somebody wrote, sound or not: what is broken is not missing.</summary>
    public HashSet<string> Written { get; } = new(StringComparer.Ordinal);

    /// <summary>Owners whose points group has a slip in it: nothing can be said to be missing there.</summary>
    public HashSet<string> Damaged { get; } = new(StringComparer.Ordinal);

    public void Read(Entry? points, string owner, string path, IReadOnlyList<PointName> names)
    {
        if (points?.Value is BrokenNode or MapNode { Damaged: true })
            Damaged.Add(owner);
        if (points is null || points.Value is BrokenNode)
            return;
        if (points.Value is not MapNode map)
        {
            problems.Error(points.Value.Mark, path, "", "one value stands where a group of points is wanted", string.Join(", ", names.Select(name => name.Name)), "");
            return;
        }
        foreach (var entry in map.Entries)
        {
            var name = names.FirstOrDefault(candidate => candidate.Name == entry.Key);
            Written.Add($"{owner}.{entry.Key}");
            if (name is null)
            {
                Damaged.Add(owner);
                binder.Unknown(entry, path, [.. names.Select(candidate => candidate.Name)]);
            }
            else if (GroupReader.Group(problems, entry, ParameterBinder.Join(path, entry.Key), "{device: …, channel: …}") is { } group)
            {
                ReadOne(entry, group, $"{owner}.{entry.Key}", ParameterBinder.Join(path, entry.Key), name);
            }
        }
    }

    private void ReadOne(Entry entry, MapNode group, string id, string path, PointName name)
    {
        var spec = new PointSpec { Id = id, Path = path, Mark = entry.KeyMark, Name = name, Group = group };
        var sensor = SensorParameters(name);
        var channels = ChannelKeysOf(name);
        List<Parameter<PointSpec>> own = [.. PointSpec.Parameters];
        if (name.Quantity == Quantity.Switch)
            own.Add(PointSpec.InvertedParameter);
        if (sensor.Count > 0)
            own.Add(PointSpec.KindParameter);
        var ownEntries = group.Where(e => sensor.All(parameter => parameter.Key != e.Key));
        var sensorEntries = group.Where(e => sensor.Any(parameter => parameter.Key == e.Key));
        // Both parts name each other's keys, so that an unknown key is told with all that may stand here.
        var sound = binder.Bind(ownEntries, path, spec, own, [.. sensor.Select(parameter => parameter.Key), .. channels]);
        sound &= Channels(group, path, spec, channels);
        if (spec.SensorKind.Length > 0)
        {
            var kind = kinds.Find<SensorKind>(spec.SensorKind, group.MarkOf("kind"), path + ".kind", KindReader.Sensor);
            sound &= kind is not null;
            spec.Sensor = kind?.Settings.Copy() ?? spec.Sensor;
        }
        sound &= binder.BindOver(sensorEntries, path, spec.Sensor, sensor);
        if (sound)
            Specs[id] = spec;
    }

    /// <summary>Keys of a sensor of that quantity.</summary>
    public static IReadOnlyList<Parameter<SensorSettings>> SensorParameters(PointName name) => name.IsOutput ? [] : name.Quantity switch
    {
        Quantity.Temperature => SensorSettings.TemperatureParameters,
        Quantity.Percent => SensorSettings.HumidityParameters,
        _ => [],
    };

    /// <summary>Keys that name the channels of such an output; all of them where the actuator is not known.</summary>
    public static IReadOnlyList<string> ChannelKeysOf(PointName name) => name.Shape switch
    {
        null => [.. PointSpec.ChannelKeys.Select(key => key.Key)],
        { Kind: OutputKind.ThreePoint } => ["opens", "shuts"],
        { Kind: OutputKind.SteppedFan } shape => [.. Enumerable.Range(1, shape.StepsPercent.Count).Select(step => $"step_{step}")],
        _ => ["channel"],
    };

    private bool Channels(MapNode group, string path, PointSpec spec, IReadOnlyList<string> keys)
    {
        var wires = new List<PointWire>();
        var sound = true;
        foreach (var key in keys)
        {
            var entry = group.Find(key);
            if (entry is null && spec.Name.Shape is not null && !group.Damaged)
            {
                sound = false;
                problems.Error(group.Mark, $"{path}.{key}", "", $"is missing: {PointSpec.ChannelKeys.First(known => known.Key == key).Help}", "a text", $"add {key}: value");
            }
            else if (entry is not null)
            {
                sound &= Wire(entry, path, spec, wires);
            }
        }
        spec.Wires = wires;
        return sound && !group.Damaged;
    }

    private bool Wire(Entry entry, string path, PointSpec spec, List<PointWire> wires)
    {
        var full = $"{path}.{entry.Key}";
        if (entry.Value is ScalarNode { IsEmpty: true })
        {
            problems.Error(entry.KeyMark, full, "", "has no value", "a text", $"write {entry.Key}: value, or remove the line");
            return false;
        }
        if (GroupReader.Words(problems, entry.Value, full, "the name of a channel") is not { } words)
            return false;
        if (words.Count > 1 && (!spec.Name.IsOutput || entry.Key != "channel"))
        {
            problems.Error(entry.Value.Mark, full, "", "only an output may hang on several channels", "one channel", "");
            return false;
        }
        var (role, step) = entry.Key switch
        {
            "opens" => (ChannelRole.Opens, 0),
            "shuts" => (ChannelRole.Shuts, 0),
            "channel" => (ChannelRole.Value, 0),
            _ => (ChannelRole.Step, entry.Key[^1] - '0'),
        };
        wires.AddRange(words.Select(word => new PointWire(entry.Key, word.Text, role, step, word.Mark)));
        return true;
    }
}
