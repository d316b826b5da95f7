// The driver "mcp4728": four voltages by the MCP4728 family of 12-bit converters on a wire bus, each through an amplifier outside the chip.
// It must never write the chip's own lasting memory (it wears out), nor put out more than was asked.
// Source: data sheet of the family, sections "Multi-write command", "Read command" and "Input register map": a command byte 0100 0 DAC1 DAC0 UDAC, then
// reference, power-down and gain bits above twelve bits; a reading is 24 bytes, for each output three that hold now and three of the lasting memory.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the converter with four outputs.</summary>
public sealed class QuadVoltageDriver() : ChipDriver(
    Declare(
        "mcp4728",
        "A chip of the MCP4728 family on a wire bus (I2C): four 12-bit voltages, each through an amplifier: channels out-a to out-d. Read back after each writing; keeps its volts when the board dies. "
            + "Until the first writing after power-up it puts out what its own memory says, which need not be zero: write zeros there once before it is built in.",
        new ChipKeys(0x60, 0x67, "0x60 to 0x67, told by the chip's full name")
        {
            GoesBehind = false,
            Before =
            [
                Choice(Reference, High, [Low, High, FromSupply], "What full scale means at the chip: its own 2.048 V, twice that, or its supply."),
                Number(Supply, Quantity.Voltage, 5, 2.7, 5.5, "Supply of the chip; it cannot put out more. Measure it where the reference is the supply: an error there is an error of every output."),
                Number(Gain, Quantity.Number, double.NaN, 1, 12, "What the amplifier behind it makes of one volt; 1 without one.", required: true, example: "2.5"),
            ],
            AlsoWrong = Wrong,
        },
        [.. Outputs.Select(output => new Point(output, Quantity.Voltage))])
    with
    { FixedChannelsAreOutputs = true, KeepsOutputs = true })
{
    private const string Reference = "reference", FromSupply = "supply", Low = "2.048 V", High = "4.096 V", Supply = "supply_voltage", Gain = "amplifier_gain";

    internal static string[] Outputs { get; } = ["out-a", "out-b", "out-c", "out-d"];

    /// <summary>An output whose line goes beyond what chip and amplifier give is told: a fan would never reach its full speed and nobody would know why.</summary>
    public override IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        foreach (var problem in base.Check(device, points))
            yield return problem;
        var range = RangeOf(device.Settings);
        foreach (var wiring in points.Select(point => point.Wiring).Where(wiring => wiring.Quantity == Quantity.Percent && wiring.Line.FullVoltageV > range.FullV * 1.02))
            yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} needs {ReadBack.Volts(wiring.Line.FullVoltageV)} for 100 %, but {device.Name} gives {ReadBack.Volts(range.FullV)} at most: correct {Reference}, {Supply} or {Gain}");
    }

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var range = RangeOf(device.Settings);
        return new QuadVoltageDevice(device.Name, new ChipTalk(place), TimesOf(device.Settings), [.. points.Select(point => ((IOutputChannel?)new QuadVoltageChannel(Array.IndexOf(Outputs, point.Wiring.Channel), range), point))], parts);
    }

    private static string? Wrong(SettingBag settings)
        => settings.Text(Reference) == High && settings.Number(Supply) < 4.2
            ? $"reference {High} needs a supply of at least 4.2 V, and supply_voltage is {ReadBack.Volts(settings.Number(Supply))}: take {Low} and a higher {Gain}" : null;

    private static QuadVoltageRange RangeOf(SettingBag settings)
    {
        var (bits, scaleV) = settings.Text(Reference) switch
        {
            Low => ((byte)0x80, 2.048),
            High => ((byte)0x90, 4.096),
            _ => ((byte)0x00, settings.Number(Supply)),
        };
        return new QuadVoltageRange(bits, scaleV * settings.Number(Gain));
    }
}

/// <summary>What full scale means.</summary>
/// <param name="Bits">Reference and gain as the chip takes them, above the value.</param>
/// <param name="ScaleV">Volts behind the amplifier that 4096 would be.</param>
internal sealed record QuadVoltageRange(byte Bits, double ScaleV)
{
    /// <summary>Highest value of twelve bits.</summary>
    public const int Highest = 4095;

    public double FullV => ScaleV * Highest / (Highest + 1);

    public double VoltsOf(int raw) => ScaleV * raw / (Highest + 1);
}

/// <summary>One output of the converter.</summary>
internal sealed record QuadVoltageChannel(int Number, QuadVoltageRange Range) : IOutputChannel
{
    /// <summary>Rounded down: a cap on noise is a cap.</summary>
    public ushort ToRaw(double command, PointWiring wiring)
    {
        var value = ChannelValue.OrSafe(command, wiring);
        var volts = wiring.Quantity == Quantity.Percent ? ChannelValue.Volts(value, wiring) : value;
        return (ushort)Math.Clamp(volts / Range.ScaleV * (QuadVoltageRange.Highest + 1) + 1e-9, 0, QuadVoltageRange.Highest);
    }
}

/// <summary>One converter.</summary>
internal sealed class QuadVoltageDevice(string name, ChipTalk talk, PollTimes times, IReadOnlyList<(IOutputChannel? Channel, OutputChannel Point)> wired, DeviceParts parts)
    : PolledDevice(name, times, wired, parts)
{
    private const int BytesAnOutput = 6;
    private readonly byte[] value = new byte[3], stands = new byte[4 * BytesAnOutput];

    public override void Dispose() => talk.Dispose();

    /// <summary>Reference and gain go with every value, so that a chip that restarted cannot give other volts for it.</summary>
    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
    {
        var output = (QuadVoltageChannel)channel;
        (value[0], value[1], value[2]) = ((byte)(0x40 | output.Number << 1), (byte)(output.Range.Bits | raw >> 8), (byte)raw);
        talk.Begin(nowS, deadlineS);
        for (var tries = 0; tries < ReadBack.Tries; tries++)
        {
            if (!talk.Write(value) || !talk.Read(stands) || Stands(output))
                return talk.Reply;
        }
        var at = output.Number * BytesAnOutput;
        var reads = (stands[at + 1] & 0x60) != 0 ? "an output that is switched off" : ReadBack.Volts(output.Range.VoltsOf((stands[at + 1] & 0x0F) << 8 | stands[at + 2]));
        return ReadBack.Differs(ReadBack.Volts(output.Range.VoltsOf(raw)), reads, talk.Reply.TookS, Times.RetryAtFirstS);
    }

    private bool Stands(QuadVoltageChannel output)
    {
        var at = output.Number * BytesAnOutput;
        return (stands[at] >> 4 & 0x03) == output.Number && stands[at + 1] == value[1] && stands[at + 2] == value[2];
    }
}
