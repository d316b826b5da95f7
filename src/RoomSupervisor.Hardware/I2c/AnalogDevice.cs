// A converter of the ADS1115 kind: its inputs are measured one at a time, each begun in one turn and collected in the next.
// It must never take what one input gave for another: the settings are read back with each word, as the chip sends no checksum.
// Source: data sheet of the ADS1115: registers 0 (word) and 1 (settings), full scales, 128 readings a second within a tenth.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The voltage the thermometers' resistors hang on.</summary>
/// <param name="WrittenV">As the site file says, V.</param>
/// <param name="Input">Input that measures it; below 0: none does.</param>
internal sealed record AnalogReference(double WrittenV, int Input);

/// <summary>One converter.</summary>
internal sealed class AnalogDevice : MeasuringChip
{
    private const byte WordRegister = 0, SettingsRegister = 1;
    // Begin; the first input against ground; one reading, then rest; 128 a second; no comparator.
    private const int Begin = 0x8000, AgainstGround = 0x4000, Once = 0x0100, Speed128 = 0x0080, NoAlarm = 0x0003, Idle = 0x8000;
    private const double MeasuresInS = 0.009, AgainInS = 0.002, FullWord = 32768;
    private const int MostWaits = 5;
    private const double LowestReference = 0.8, HighestReference = 1.2;
    private static readonly double[] FullScalesV = [6.144, 4.096, 2.048, 1.024, 0.512, 0.256];

    private readonly AnalogChannel[] channels;
    private readonly AnalogReference reference;
    // Which inputs are measured in a reading, in this order, with the settings of each, and what came of it.
    private readonly int[] inputs, settings;
    private readonly double[] volts = new double[4];
    private readonly byte[] order = new byte[3], word = new byte[2], again = new byte[2];
    private int at, waits;

    public AnalogDevice(
        string name, I2cAddress place, PollTimes times, (AnalogChannel[] Channels, AnalogReference Reference) inputs, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, place, times, points, parts)
    {
        (channels, reference) = inputs;
        this.inputs = [.. channels.Select(channel => channel.Input).Append(reference.Input).Where(input => input >= 0).Distinct().Order()];
        settings = [.. this.inputs.Select(input => SettingsOf(input, HighestV(input)))];
    }

    protected override DeviceReply Turn(bool isFirst)
    {
        if (!isFirst)
            return Collect();
        at = 0;
        return Measure();
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var referenceV = reference.Input < 0 ? reference.WrittenV : volts[reference.Input];
        var isSound = referenceV >= reference.WrittenV * LowestReference && referenceV <= reference.WrittenV * HighestReference;
        foreach (var point in job.Points)
        {
            var channel = channels[point.Health];
            var value = isSound || channel is VoltageInput ? channel.Of(volts[channel.Input], referenceV)
                : new AnalogValue(double.NaN, "the reference voltage is not what reference_voltage says: look at the wire to its input");
            if (value.Problem.Length == 0)
                Put(point, value.Value, takenAt);
            else
                PutFault(point, Fault.OutOfRange, value.Problem, takenAt);
        }
    }

    private double HighestV(int input)
        => Math.Max(input == reference.Input ? reference.WrittenV * HighestReference : 0, channels.Where(channel => channel.Input == input).Select(channel => channel.HighestChipV).DefaultIfEmpty().Max());

    /// <summary>The finest of the full scales that holds so many volts.</summary>
    private static int SettingsOf(int input, double highestV)
        => AgainstGround | input << 12 | FinestFor(highestV) << 9 | Once | Speed128 | NoAlarm;

    private static int FinestFor(double highestV) => Math.Max(0, Array.FindLastIndex(FullScalesV, full => full >= highestV));

    private DeviceReply Measure()
    {
        waits = 0;
        var says = settings[at] | Begin;
        (order[0], order[1], order[2]) = (SettingsRegister, (byte)(says >> 8), (byte)says);
        Talk.Write(order);
        return Talk.Again(MeasuresInS);
    }

    private DeviceReply Collect()
    {
        if (!Talk.ReadAt(SettingsRegister, word))
            return Talk.Reply;
        var says = word[0] << 8 | word[1];
        if ((says & ~Idle) != settings[at])
            return Talk.Wrong(Fault.BusError, "its settings are not what was written: it has restarted, or wires are disturbed, or it is another chip");
        if ((says & Idle) == 0)
            return waits++ < MostWaits ? Talk.Again(AgainInS) : Talk.Wrong(Fault.Timeout, "its measurement does not end");
        if (!(Talk.ReadAt(WordRegister, word) && Talk.Read(again)))
            return Talk.Reply;
        if (!word.AsSpan().SequenceEqual(again))
            return Talk.Wrong(Fault.BusError, "the same word came out different twice: wires are disturbed");
        volts[inputs[at]] = (short)(word[0] << 8 | word[1]) / FullWord * FullScalesV[settings[at] >> 9 & 7];
        return ++at < inputs.Length ? Measure() : Talk.Reply;
    }
}
