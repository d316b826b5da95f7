// The driver "dac-0-10v": two outputs of 0 to 10 V by the common 12-bit converter on a wire bus that is written register by register.
// It must never leave more volts on an output than was asked, nor count a value as written before its range is.
// Source: register layout (1: range, 0x11 is 10 V; 2 and 4: the outputs, twelve bits left-aligned, low byte first) as in several open-source
// libraries for the part; no published standard. The chip cannot be asked what it puts out.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the converter.</summary>
public sealed class VoltageOutputDriver() : ChipDriver(
    Declare(
        "dac-0-10v", "A 12-bit converter on a wire bus (I2C) with two outputs of 0 to 10 V: channels out-1 and out-2. It cannot be read back and keeps its volts when the board dies.",
        new ChipKeys(0x58, 0x5F, "0x58 to 0x5f, set by switches or bridges at the module") { GoesBehind = false },
        new Point(First, Quantity.Voltage), new Point(Second, Quantity.Voltage))
    with
    { FixedChannelsAreOutputs = true, KeepsOutputs = true })
{
    internal const string First = "out-1", Second = "out-2";

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new VoltageOutputDevice(device.Name, place, TimesOf(device.Settings), points, parts);
}

/// <summary>One output of the converter.</summary>
/// <param name="Register">Where it is written.</param>
internal sealed record VoltageChannel(byte Register) : IOutputChannel
{
    private const double FullV = 10;

    /// <summary>Highest value of twelve bits.</summary>
    private const int FullRaw = 4095;

    /// <summary>Rounded down: a step is 2.4 mV, and a cap on noise is a cap.</summary>
    public ushort ToRaw(double command, PointWiring wiring)
    {
        var value = ChannelValue.OrSafe(command, wiring);
        var volts = wiring.Quantity == Quantity.Percent ? ChannelValue.Volts(value, wiring) : value;
        return (ushort)(Math.Clamp(volts, 0, FullV) / FullV * FullRaw + 1e-9);
    }
}

/// <summary>One converter.</summary>
internal sealed class VoltageOutputDevice : PolledDevice
{
    private const byte RangeRegister = 1, FirstRegister = 2, SecondRegister = 4, TenVolts = 0x11;
    private static readonly byte[] Range = [RangeRegister, TenVolts];
    private readonly II2cBus bus;
    private readonly byte address;
    private readonly byte[] value = new byte[3];
    private double rangeDueS = double.NegativeInfinity;

    public VoltageOutputDevice(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, times, [.. points.Select(point => ((IOutputChannel?)new VoltageChannel(point.Wiring.Channel == VoltageOutputDriver.First ? FirstRegister : SecondRegister), point))], parts)
        => (bus, address) = (place.Bus, place.Address);

    public override void Dispose() => bus.Dispose();

    /// <summary>The value first, then the range: a chip that restarted with the smaller range gives half of it for a moment, never double of what stood there.</summary>
    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
    {
        (value[0], value[1], value[2]) = (((VoltageChannel)channel).Register, (byte)(raw << 4), (byte)(raw >> 4));
        var reply = bus.Write(address, value, nowS, deadlineS);
        var tookS = reply.TookS;
        if (reply.Problem == I2cProblem.None && nowS >= rangeDueS && tookS < deadlineS)
        {
            reply = bus.Write(address, Range, nowS + tookS, deadlineS - tookS);
            tookS += reply.TookS;
            rangeDueS = nowS + Times.RefreshS;
        }
        if (reply.Problem != I2cProblem.None)
            rangeDueS = double.NegativeInfinity;
        return I2cPlace.ReplyOf(reply with { TookS = tookS });
    }
}
