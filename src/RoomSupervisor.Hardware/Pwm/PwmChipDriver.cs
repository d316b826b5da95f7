// The driver "pca9685": sixteen pulse-width outputs by the PCA9685 family of chips on a wire bus.
// It must never wake the chip before every output is off, nor run an output longer than asked.
// Source: data sheet of the family: registers 00 and 01 (mode), 06 + 4 × output (on and off counts of 12 bits, bit 12 of each: always on, always off),
// FA to FD (all outputs), FE (prescale, written asleep only: 25 MHz / (4096 × frequency) − 1).
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Pwm;

/// <summary>The driver of the chip.</summary>
public sealed class PwmChipDriver() : ChipDriver(
    Declare(
        "pca9685",
        "A chip of the PCA9685 family on a wire bus (I2C): sixteen pulse-width outputs, channels out-0 to out-15. A fan with fan_signal pwm gets its speed as the share of a pulse; what follows a voltage gets the share that a converter of 0 to 100 % to 0 to 10 V needs. All are off before it is woken and at every stop. It keeps pulsing when the board dies: "
            + "wire its output-enable pin (high is off, with a pull-up) to something that drops with the board.",
        new ChipKeys(0x40, 0x7F, "0x40 to 0x7f, set by bridges at the module; it also answers at 0x70 until it is set up")
        {
            GoesBehind = false,
            Before =
            [
                Number(Frequency, Quantity.Number, 1000, 24, 1526, "Pulses a second (Hz), the same for all outputs; what the fan's or converter's data sheet asks for."),
                Choice(Stage, Plain, [Plain, Inverting, OpenDrain], "What is behind the outputs: nothing that turns the signal round, a transistor that does, or a pull-up to an open drain."),
            ],
            AlsoWrong = settings => I2cPlace.AddressOf(settings) == 0x70 ? "address 0x70 is where all such chips answer before they are set up: bridge another" : null,
        },
        [.. Outputs.Select(output => new Point(output, Quantity.Percent))])
    with
    { FixedChannelsAreOutputs = true, KeepsOutputs = true })
{
    private const string Frequency = "frequency", Stage = "stage", Plain = "plain", Inverting = "inverting", OpenDrain = "open-drain";
    private const double OscillatorHz = 25e6;

    internal static string[] Outputs { get; } = [.. Enumerable.Range(0, 16).Select(number => FormattableString.Invariant($"out-{number}"))];

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var settings = device.Settings;
        // Nearest step of the prescale; the chip takes 3 to 255.
        var prescale = (byte)Math.Clamp(Math.Round(OscillatorHz / (4096 * settings.Number(Frequency))) - 1, 3, 255);
        var mode = settings.Text(Stage) switch { Inverting => (byte)0x14, OpenDrain => (byte)0x00, _ => (byte)0x04 };
        return new PwmChipDevice(device.Name, new ChipTalk(place), new PwmChipSetUp(prescale, mode), TimesOf(settings) with { IntervalS = 1 }, [.. points.Select(point => ((IOutputChannel?)new PwmChipChannel(Array.IndexOf(Outputs, point.Wiring.Channel)), point))], parts);
    }
}

/// <summary>How the chip is set up.</summary>
/// <param name="Prescale">Of its oscillator.</param>
/// <param name="Mode">Second mode register: inverted, push-pull.</param>
internal sealed record PwmChipSetUp(byte Prescale, byte Mode);

/// <summary>One output of the chip.</summary>
internal sealed record PwmChipChannel(int Number) : IOutputChannel
{
    /// <summary>All of a pulse.</summary>
    public const int Full = 4096;

    /// <summary>Rounded down: a cap on noise is a cap.</summary>
    public ushort ToRaw(double command, PointWiring wiring) => (ushort)(ChannelValue.Pulse(command, wiring) / 100 * Full + 1e-9);
}

/// <summary>One chip.</summary>
internal sealed class PwmChipDevice(string name, ChipTalk talk, PwmChipSetUp setUp, PollTimes times, IReadOnlyList<(IOutputChannel? Channel, OutputChannel Point)> wired, DeviceParts parts)
    : PolledDevice(name, times, wired, parts)
{
    private const byte FirstMode = 0x00, SecondMode = 0x01, FirstOutput = 0x06, AllOffHigh = 0xFD, PrescaleRegister = 0xFE, Always = 0x10;
    private const byte Steps = 0x20, Asleep = 0x10, Mask = 0x7F;
    private readonly byte[] modes = new byte[2], prescale = new byte[1], stands = new byte[4], value = new byte[5];
    private bool isKnown;
    private double lookAtS = double.NegativeInfinity;

    public override void Dispose() => talk.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
    {
        talk.Begin(nowS, deadlineS);
        var restarted = (!isKnown || nowS >= lookAtS) && Prepare(nowS);
        Encode((PwmChipChannel)channel, raw);
        for (var tries = 0; tries < ReadBack.Tries && talk.IsWell; tries++)
        {
            if (talk.Write(value) && talk.ReadAt(value[0], stands) && stands.AsSpan().SequenceEqual(value.AsSpan(1)))
                return talk.Reply with { IsNewContact = restarted };
        }
        isKnown = false;
        return talk.IsWell ? ReadBack.Differs(Words(value.AsSpan(1)), Words(stands), talk.Reply.TookS, Times.RetryAtFirstS) : talk.Reply;
    }

    /// <summary>Looks whether the chip is set up as it should be. Where not, it has restarted: everything off first, then set up asleep, then woken.</summary>
    /// <returns>True when it was set up anew although it had been before.</returns>
    private bool Prepare(double nowS)
    {
        if (!talk.ReadAt(FirstMode, modes.AsSpan(0, 1)) || !talk.ReadAt(SecondMode, modes.AsSpan(1, 1)) || !talk.ReadAt(PrescaleRegister, prescale))
            return false;
        var isReady = (modes[0] & Mask) == Steps && (modes[1] & 0x1F) == setUp.Mode && prescale[0] == setUp.Prescale;
        var wasKnown = !double.IsNegativeInfinity(lookAtS);
        if (!isReady || !wasKnown)
        {
            // At first contact nobody knows what an earlier run left on outputs that are not wired any more.
            talk.Write(AllOffHigh, Always);
        }
        if (!isReady)
        {
            talk.Write(FirstMode, Steps | Asleep);
            talk.Write(PrescaleRegister, setUp.Prescale);
            talk.Write(SecondMode, setUp.Mode);
            talk.Write(FirstMode, Steps);
        }
        isKnown = talk.IsWell;
        lookAtS = isKnown ? nowS + Times.RefreshS : lookAtS;
        return isKnown && !isReady && wasKnown;
    }

    /// <summary>Register, then on and off counts, low byte first. A pulse begins at count 0; at its ends the chip's own always-off and always-on.</summary>
    private void Encode(PwmChipChannel channel, ushort raw)
    {
        value[0] = (byte)(FirstOutput + 4 * channel.Number);
        (value[1], value[2], value[3], value[4]) = raw switch
        {
            0 => ((byte)0, (byte)0, (byte)0, Always),
            >= PwmChipChannel.Full => ((byte)0, Always, (byte)0, (byte)0),
            _ => ((byte)0, (byte)0, (byte)raw, (byte)(raw >> 8)),
        };
    }

    private static string Words(ReadOnlySpan<byte> counts)
    {
        if ((counts[3] & Always) != 0)
            return ReadBack.Percent(0);
        return ReadBack.Percent((counts[1] & Always) != 0 ? 100 : ((counts[3] << 8 | counts[2]) - (counts[1] << 8 | counts[0])) * 100.0 / PwmChipChannel.Full);
    }
}
