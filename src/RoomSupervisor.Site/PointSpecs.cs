// The points: groups: which point of a room, loop, source or the outdoors hangs on which channel of which device, and what is known
// of its sensor. Collected while the parts are read, checked against devices afterwards.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>A point as wired in the file.</summary>
internal sealed class PointSpec
{
    public required string Id { get; init; }

    public required string Path { get; init; }

    public required Mark Mark { get; init; }

    /// <summary>What the point may be: quantity, and output or input.</summary>
    public required PointName Name { get; init; }

    /// <summary>Where its device and its channel stand.</summary>
    public required MapNode Group { get; init; }

    public string Device { get; private set; } = "";

    public string Channel { get; private set; } = "";

    public bool Inverted { get; private set; }

    public SensorSettings Sensor { get; } = new();

    public static IReadOnlyList<Parameter<PointSpec>> Parameters { get; } =
    [
        new()
        {
            Key = "device", Quantity = Quantity.Text, Required = true, NeedsRestart = true, Help = "device that carries the point",
            SetText = (p, v) => p.Device = v, GetText = p => p.Device,
        },
        new()
        {
            Key = "channel", Quantity = Quantity.Text, Required = true, NeedsRestart = true, Help = "channel of that device",
            SetText = (p, v) => p.Channel = v, GetText = p => p.Channel,
        },
    ];

    public static Parameter<PointSpec> InvertedParameter { get; } = new()
    {
        Key = "inverted",
        Quantity = Quantity.Switch,
        Default = 0,
        NeedsRestart = true,
        Help = "the contact is made when the thing is not, or the relay is on when the output is off",
        SetNumber = (p, v) => p.Inverted = v > 0.5,
        GetNumber = p => p.Inverted ? 1 : 0,
    };
}

/// <summary>What a point name may be for one owner.</summary>
/// <param name="Name">Point name behind the owner's name.</param>
/// <param name="Quantity">Its quantity.</param>
/// <param name="IsOutput">Output or input.</param>
internal sealed record PointName(string Name, Quantity Quantity, bool IsOutput);

/// <summary>Reads points: groups.</summary>
internal sealed class PointReader(Problems problems, ParameterBinder binder)
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
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, $"{owner}.{entry.Key}", ParameterBinder.Join(path, entry.Key), name);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, ParameterBinder.Join(path, entry.Key), "", "one value stands where a group is wanted", "{device: …, channel: …}", "");
        }
    }

    private void ReadOne(Entry entry, MapNode group, string id, string path, PointName name)
    {
        var spec = new PointSpec { Id = id, Path = path, Mark = entry.KeyMark, Name = name, Group = group };
        IReadOnlyList<Parameter<SensorSettings>> sensor = name.IsOutput ? [] : name.Quantity switch
        {
            Quantity.Temperature => SensorSettings.TemperatureParameters,
            Quantity.Percent => SensorSettings.HumidityParameters,
            _ => [],
        };
        IReadOnlyList<Parameter<PointSpec>> own = name.Quantity == Quantity.Switch ? [.. PointSpec.Parameters, PointSpec.InvertedParameter] : PointSpec.Parameters;
        var ownEntries = group.Where(e => sensor.All(parameter => parameter.Key != e.Key));
        var sensorEntries = group.Where(e => sensor.Any(parameter => parameter.Key == e.Key));
        // Both parts name each other's keys, so that an unknown key is told with all that may stand here.
        var sound = binder.Bind(ownEntries, path, spec, own, [.. sensor.Select(parameter => parameter.Key)]);
        sound &= binder.Bind(sensorEntries, path, spec.Sensor, sensor);
        if (sound)
            Specs[id] = spec;
    }
}
