// Points as the file wires them: what a point may be, and which channels carry it. Pure data; read by PointReader, checked by
// WiringChecks.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>What a point name may be for one owner.</summary>
/// <param name="Name">Point name behind the owner's name.</param>
/// <param name="Quantity">Its quantity.</param>
/// <param name="IsOutput">Output or input.</param>
internal sealed record PointName(string Name, Quantity Quantity, bool IsOutput)
{
    /// <summary>What its actuator is; null: its kind could not be read, so nobody knows which keys belong there.</summary>
    public OutputShape? Shape { get; init; } = OutputShape.Plain;

    public static PointName Input(string name, Quantity quantity) => new(name, quantity, false);

    public static PointName Contact(string name) => new(name, Quantity.Switch, false);

    public static PointName Output(string name, Quantity quantity, OutputShape? shape) => new(name, quantity, true) { Shape = shape };

    public static PointName Relay(string name) => new(name, Quantity.Switch, true);
}

/// <summary>One channel of a point.</summary>
/// <param name="Key">Key it stands under.</param>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Role">What it does.</param>
/// <param name="Step">Which step of a stepped fan, from 1.</param>
/// <param name="Mark">Where it stands.</param>
internal sealed record PointWire(string Key, string Channel, ChannelRole Role, int Step, Mark Mark);

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

    /// <summary>The channels that carry it; an input has one.</summary>
    public IReadOnlyList<PointWire> Wires { get; set; } = [];

    public bool Inverted { get; private set; }

    public string SensorKind { get; private set; } = "";

    public SensorSettings Sensor { get; set; } = new();

    public static IReadOnlyList<Parameter<PointSpec>> Parameters { get; } =
        [Declare.Name<PointSpec>("device", "device that carries the point", p => p.Device, (p, v) => p.Device = v, example: "my-modbus-tcp")];

    /// <summary>Keys that name channels, with their help: which of them belong depends on the actuator.</summary>
    public static IReadOnlyList<(string Key, string Help)> ChannelKeys { get; } =
    [
        ("channel", "channel of that device; an output may name several: [first, second]"),
        ("opens", "channel of the relay that opens a three-point actuator"),
        ("shuts", "channel of the relay that shuts it"),
        ("step_1", "channel of the relay of a stepped fan's first speed"),
        ("step_2", "of its second"),
        ("step_3", "of its third"),
        ("step_4", "of its fourth"),
        ("step_5", "of its fifth"),
    ];

    public static Parameter<PointSpec> InvertedParameter { get; } = Declare.Switch<PointSpec>(
        "inverted", false, "the contact is made when the thing is not, or the relay is on when the output is off", p => p.Inverted, (p, v) => p.Inverted = v, restart: true);

    public static Parameter<PointSpec> KindParameter { get; } = Declare.Name<PointSpec>(
        "kind", "kind of the sensor, described under kinds; keys written here count more", p => p.SensorKind, (p, v) => p.SensorKind = v, required: false, example: "my-sensor");
}
