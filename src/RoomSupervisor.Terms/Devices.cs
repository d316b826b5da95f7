// The description of devices and of which channel carries which point: written by the site reader, used by Hardware.
// Pure data. What a driver or a channel may be told is declared by the driver itself (DriverDeclaration).
namespace RoomSupervisor.Terms;

/// <summary>Where something stands in a file, for messages.</summary>
/// <param name="File">File name as the person knows it.</param>
/// <param name="Line">1-based.</param>
/// <param name="Column">1-based.</param>
public readonly record struct Mark(string File, int Line, int Column)
{
    public override string ToString() => $"{File}:{Line}:{Column}";
}

/// <summary>Values of declared parameters by key, as a reader bound them.</summary>
public sealed class SettingBag
{
    private readonly Dictionary<string, double> numbers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> texts = new(StringComparer.Ordinal);

    public void Set(string key, double value) => numbers[key] = value;

    public void Set(string key, string value) => texts[key] = value;

    /// <exception cref="KeyNotFoundException">The driver asked for a key it did not declare.</exception>
    public double Number(string key) => numbers[key];

    /// <exception cref="KeyNotFoundException">The driver asked for a key it did not declare.</exception>
    public string Text(string key) => texts[key];

    public bool Has(string key) => numbers.ContainsKey(key) || texts.ContainsKey(key);
}

/// <summary>What a driver is called and what it may be told. Declared beside the driver.</summary>
/// <param name="Name">The word in <c>driver:</c>.</param>
/// <param name="Help">One line.</param>
/// <param name="Parameters">Keys of the device.</param>
/// <param name="ChannelsKey">Key under which channels are listed (e.g. <c>registers</c>), or null if the driver's channels are fixed.</param>
/// <param name="ChannelParameters">Keys of one listed channel.</param>
/// <param name="FixedChannels">Channels the device has without being told, by name with their quantity.</param>
public sealed record DriverDeclaration(
    string Name, string Help,
    IReadOnlyList<Parameter<SettingBag>> Parameters,
    string? ChannelsKey,
    IReadOnlyList<Parameter<SettingBag>> ChannelParameters,
    IReadOnlyList<Point> FixedChannels)
{
    /// <summary>
    /// Checks one bound channel beyond single keys, returns what is wrong and what to do, or null. Called after binding.
    /// </summary>
    public Func<SettingBag, string?>? CheckChannel { get; init; }

    /// <summary>Checks a bound device beyond single keys, returns what is wrong and what to do, or null.</summary>
    public Func<SettingBag, string?>? CheckDevice { get; init; }

    /// <summary>The place a channel stands for, in words ("holding-register 3"): two channels of a device must not stand for one place.</summary>
    public Func<SettingBag, string>? ChannelPlace { get; init; }

    /// <summary>The place a device stands for, in words ("/dev/i2c-1 0x44"): no two devices may stand for one. Null: every device has its own.</summary>
    public Func<SettingBag, string>? DevicePlace { get; init; }

    /// <summary>What devices share that must all say the same of it, in words ("/dev/ttyAMA0"); null: nothing.</summary>
    public Func<SettingBag, string>? SharedPlace { get; init; }

    /// <summary>Keys (of text) that devices with the same <see cref="SharedPlace"/> must agree on.</summary>
    public IReadOnlyList<string> SharedKeys { get; init; } = [];

    /// <summary>True when two channels cannot both be right, because they lie in one place or one in the other; null: the same <see cref="ChannelPlace"/>.</summary>
    public Func<SettingBag, SettingBag, bool>? ChannelsOverlap { get; init; }

    /// <summary>Why a device cannot stand beside another (its settings, the other's name and settings) although their places differ; null: it can.</summary>
    public Func<SettingBag, string, SettingBag, string?>? Clash { get; init; }

    /// <summary>True when outputs, and nothing else, may be wired to the channels the device has without being told.</summary>
    public bool FixedChannelsAreOutputs { get; init; }

    /// <summary>True when an output may be wired to the channel.</summary>
    public Func<SettingBag, bool>? ChannelCanWrite { get; init; }

    /// <summary>Key after which the device itself drops its outputs when nobody talks to it; null: it cannot, or need not be told.</summary>
    public string? OwnTimeOutKey { get; init; }

    /// <summary>True for a device whose outputs stay as they are when the board dies, whatever it is told.</summary>
    public bool KeepsOutputs { get; init; }

    /// <summary>Quantity a channel's value has on the wire, for checking it against the point wired to it; null: none of its own.</summary>
    public Func<SettingBag, Quantity>? ChannelQuantity { get; init; }
}

/// <summary>One device of the site file.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="Driver">Name of its driver.</param>
/// <param name="Settings">Bound parameters of the device.</param>
/// <param name="Channels">Listed channels by name.</param>
/// <param name="Mark">Where it stands.</param>
public sealed record DeviceSettings(string Name, string Driver, SettingBag Settings, IReadOnlyDictionary<string, SettingBag> Channels, Mark Mark)
{
    /// <summary>Where it is mounted, for wiring lists.</summary>
    public DeviceMounting Mounting { get; init; } = new();
}

/// <summary>How the value of an output becomes what its channels get.</summary>
public enum OutputKind : byte
{
    /// <summary>The value itself: a switch, a register in percent, or volts by its line (0–10 V and 2–10 V alike).</summary>
    Plain,

    /// <summary>A relay, on for a share of a cycle: thermal actuators, and fans with one speed.</summary>
    OnOff,

    /// <summary>Two relays, one opens and one shuts; the position is counted from the stroke time.</summary>
    ThreePoint,

    /// <summary>A relay a speed, one on at a time.</summary>
    SteppedFan,

    /// <summary>A share of a fast cycle, made by the device itself.</summary>
    Pwm,
}

/// <summary>What is known of an output's actuator. Pure data, the same for all channels of an output.</summary>
public sealed record OutputShape
{
    /// <summary>A value that is written as it is, 0–10 V.</summary>
    public static OutputShape Plain { get; } = new();

    public OutputKind Kind { get; init; }

    /// <summary>Percent to volts; where the channel carries volts.</summary>
    public VoltageLine Line { get; init; } = VoltageLine.ZeroToTen;

    /// <summary>Time of one on-off cycle, s.</summary>
    public double CycleS { get; init; } = 900;

    /// <summary>True for what is on at 100 % only and off at anything less, instead of a share of time: a fan with one speed, whose on is full speed.</summary>
    public bool OnlyWhole { get; init; }

    /// <summary>Shortest time on, s: under it the output is not switched on in that cycle, its share is carried over.</summary>
    public double MinimumOnS { get; init; }

    /// <summary>Shortest time off, s.</summary>
    public double MinimumOffS { get; init; }

    /// <summary>True for an actuator that is open without current.</summary>
    public bool NormallyOpen { get; init; }

    /// <summary>Time from end to end of a three-point actuator, s.</summary>
    public double StrokeS { get; init; } = 90;

    /// <summary>Speeds of a stepped fan, percent of full speed, rising; channel step 1 is the first.</summary>
    public IReadOnlyList<double> StepsPercent { get; init; } = [];

    /// <summary>All steps off for this long between two, s.</summary>
    public double StepPauseS { get; init; } = 2;
}

/// <summary>What a channel does for its output.</summary>
public enum ChannelRole : byte
{
    /// <summary>Carries the value; several channels may carry the same.</summary>
    Value,

    /// <summary>Opening relay of a three-point actuator.</summary>
    Opens,

    /// <summary>Shutting relay of a three-point actuator.</summary>
    Shuts,

    /// <summary>Relay of one speed of a stepped fan.</summary>
    Step,
}

/// <summary>One point on one channel. An output may have several, one for each channel.</summary>
/// <param name="PointId">Id of the point.</param>
/// <param name="IsOutput">Output or input.</param>
/// <param name="Index">Index of the point in the house's table of inputs or outputs.</param>
/// <param name="Quantity">Quantity of the point.</param>
/// <param name="Device">Name of the device.</param>
/// <param name="Channel">Name of the channel on it.</param>
/// <param name="Inverted">A switch that is made when the thing is not (normally closed contact, normally open actuator).</param>
/// <param name="Line">Percent to volts, for outputs in percent on a channel in volts.</param>
/// <param name="SafeValue">Value of the command that is safe where no lease says better.</param>
/// <param name="Mark">Where it stands.</param>
public sealed record PointWiring(
    string PointId, bool IsOutput, int Index, Quantity Quantity, string Device, string Channel, bool Inverted, VoltageLine Line, double SafeValue, Mark Mark)
{
    /// <summary>How the output's value becomes channel values; the same on every channel of an output.</summary>
    public OutputShape Shape { get; init; } = OutputShape.Plain;

    /// <summary>What this channel does for its output.</summary>
    public ChannelRole Role { get; init; }

    /// <summary>Which step of a stepped fan, from 1; 0 elsewhere.</summary>
    public int Step { get; init; }
}
