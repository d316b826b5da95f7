// What the drivers of all chips on a wire bus share: bus, address, multiplexer and times in the site file, and the way to the chip.
// A chip adds its own keys and makes its device. It must never open a bus: the bus is opened at the first transfer.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A driver of a chip on a wire bus.</summary>
/// <param name="declaration">What a site file may say of it, begun by <see cref="Declare"/>.</param>
public abstract class ChipDriver(DriverDeclaration declaration) : IDriver
{
    /// <inheritdoc/>
    public DriverDeclaration Declaration => declaration;

    /// <inheritdoc/>
    public string BusOf(DeviceSettings device)
    {
        ArgumentNullException.ThrowIfNull(device);
        return I2cPlace.BusOf(device.Settings);
    }

    /// <summary>As for a chip whose channels are fixed; one with listed channels looks at them itself.</summary>
    public virtual IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points) => FixedChannels.Check(Declaration, device, points);

    /// <inheritdoc/>
    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => Make(device, I2cPlace.Open(device, parts), points, parts);

    /// <summary>The device itself.</summary>
    /// <param name="device">Its settings, checked.</param>
    /// <param name="place">The way to it.</param>
    /// <param name="points">The points wired to it.</param>
    /// <param name="parts">What devices are built with.</param>
    private protected abstract IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts);

    /// <summary>What every chip's declaration says; a chip of outputs or of listed channels adds to it by <c>with</c>.</summary>
    /// <param name="name">The word in <c>driver:</c>.</param>
    /// <param name="help">One line.</param>
    /// <param name="keys">Its keys.</param>
    /// <param name="channels">Channels it has without being told.</param>
    private protected static DriverDeclaration Declare(string name, string help, ChipKeys keys, params Point[] channels) => new(name, help, keys.All, null, [], channels)
    {
        CheckDevice = keys.Wrong,
        DevicePlace = I2cPlace.PlaceOf,
        Clash = I2cPlace.Clash,
    };
}

/// <summary>The keys of a chip: those of all chips, and its own among them.</summary>
/// <param name="Lowest">Lowest address it can have, and the one it has if nothing is said.</param>
/// <param name="Highest">Highest address it can have.</param>
/// <param name="Addresses">The same in words, with what chooses it.</param>
internal sealed record ChipKeys(byte Lowest, byte Highest, string Addresses)
{
    /// <summary>False for a chip that is on the bus itself only.</summary>
    public bool GoesBehind { get; init; } = true;

    /// <summary>How often it is read; null for a chip that only puts out.</summary>
    public Parameter<SettingBag>? Interval { get; init; }

    /// <summary>Its own keys that stand before the times.</summary>
    public Parameter<SettingBag>[] Before { get; init; } = [];

    /// <summary>Its own keys that stand after the times.</summary>
    public Parameter<SettingBag>[] After { get; init; } = [];

    /// <summary>What else can be wrong with it once its place is right, or null.</summary>
    public Func<SettingBag, string?>? AlsoWrong { get; init; }

    /// <summary>All of them, in the order in which they are told.</summary>
    public IReadOnlyList<Parameter<SettingBag>> All =>
    [
        I2cPlace.BusKey,
        I2cPlace.AddressKey($"0x{Lowest:x2}", Addresses),
        .. GoesBehind ? [I2cPlace.BehindKey] : Array.Empty<Parameter<SettingBag>>(),
        .. Before,
        I2cPlace.TimeoutKey,
        .. Interval is null ? [] : new[] { Interval },
        DeclareKeys.RetryAtMostKey,
        .. After,
    ];

    /// <summary>What is wrong with the chip's settings, or null.</summary>
    public string? Wrong(SettingBag settings) => I2cPlace.Wrong(settings, Lowest, Highest) ?? AlsoWrong?.Invoke(settings);
}
