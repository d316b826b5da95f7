// The driver "hts221": air temperature and humidity by an HTS221, measured one time at a demand. The chip sends no checksum: its identity, its
// settings and its two points of calibration are read back instead; it says itself whether a measurement is new.
// It must never pass on a value the chip does not call new.
// Source: data sheet of the HTS221 (registers, one-shot, lines through two points). Longest time of a measurement: not published, asked for.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the chip.</summary>
public sealed class Hts221Driver() : ChipDriver(Declare(
    "hts221", "An HTS221 on a wire bus (I2C): channels temperature and humidity. It sends no checksums.",
    new ChipKeys(0x5F, 0x5F, "always 0x5f") { Interval = Number(Interval, Quantity.Duration, 5, 1, 60, "How often it measures; each measurement warms it a little.") },
    new Point(Temperature, Quantity.Temperature), new Point(Humidity, Quantity.Percent)))
{
    internal const string Temperature = "temperature", Humidity = "humidity";

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new Hts221Device(device.Name, place, TimesOf(device.Settings), points, parts);
}

/// <summary>The line through two points of calibration.</summary>
/// <param name="Raw0">Word at the first.</param>
/// <param name="Raw1">Word at the second.</param>
/// <param name="Value0">Value at the first.</param>
/// <param name="Value1">Value at the second.</param>
internal readonly record struct TwoPoints(short Raw0, short Raw1, double Value0, double Value1)
{
    /// <summary>False for points through which no line goes, or that stand for one value.</summary>
    public bool IsPossible => Raw0 != Raw1 && Value0 < Value1;

    public double Value(short raw) => Value0 + (raw - Raw0) * (Value1 - Value0) / (Raw1 - Raw0);
}

/// <summary>One chip.</summary>
internal sealed class Hts221Device(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    : MeasuringChip(name, place, times, points, parts)
{
    private const byte IdRegister = 0x0F, Id = 0xBC, Average = 0x10, Control1 = 0x20, Control2 = 0x21, Points = 0x30, Onward = 0x80;
    // 16 readings of temperature and 32 of humidity averaged, as after power-up; on, words held together, measured at a demand.
    private const byte Averages = 0x1B, OnAtDemand = 0x84, Boot = 0x80, Start = 0x01, BothNew = 0x03;
    private const double BootsInS = 0.01, MeasuresInS = 0.015, AgainInS = 0.005;
    private const int MostWaits = 12;
    private const double LowestC = -40, HighestC = 120, LowestPercent = -10, HighestPercent = 110;
    private const string Beyond = "beyond what the chip can measure, -40 to 120 °C and 0 to 100 %";

    private readonly byte[] one = new byte[1], answer = new byte[12], calibration = new byte[16], again = new byte[16];
    private TwoPoints temperature, humidity;
    private int waits;

    protected override DeviceReply Turn(bool isFirst)
    {
        if (isFirst)
            return IsSetUp ? Measure() : Restart();
        return IsSetUp ? Collect() : SetUp();
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var point in job.Points)
        {
            var isTemperature = point.Wiring.Channel == Hts221Driver.Temperature;
            var value = isTemperature ? temperature.Value(Word(answer, 10)) : humidity.Value(Word(answer, 8));
            var isPossible = isTemperature ? value is >= LowestC and <= HighestC : value is >= LowestPercent and <= HighestPercent;
            if (isPossible)
                Put(point, isTemperature ? value : Math.Clamp(value, 0, 100), takenAt);
            else
                PutFault(point, Fault.OutOfRange, Beyond, takenAt);
        }
    }

    /// <summary>The calibration is copied anew from where it is kept for good.</summary>
    private DeviceReply Restart()
    {
        Talk.Write(Control2, Boot);
        return Talk.Again(BootsInS);
    }

    private DeviceReply SetUp()
    {
        if (!Talk.ReadAt(IdRegister, one))
            return Talk.Reply;
        if (one[0] != Id)
            return AnotherChip();
        if (!(Talk.ReadAt(Points | Onward, calibration) && Talk.ReadAt(Points | Onward, again)))
            return Talk.Reply;
        Take(calibration);
        if (!temperature.IsPossible || !humidity.IsPossible || !calibration.AsSpan().SequenceEqual(again))
            return Talk.Wrong(Fault.BusError, "its calibration came out different twice, or cannot be: wires are disturbed");
        IsSetUp = Talk.Write(Average, Averages) && Talk.Write(Control1, OnAtDemand);
        return Measure();
    }

    private DeviceReply Measure()
    {
        waits = 0;
        Talk.Write(Control2, Start);
        return Talk.Again(MeasuresInS);
    }

    /// <summary>Settings, state and words in one go: a chip that restarted in between shows by its settings.</summary>
    private DeviceReply Collect()
    {
        if (!Talk.ReadAt(Control1 | Onward, answer))
            return Talk.Reply;
        if (answer[0] != OnAtDemand)
            return Talk.Wrong(Fault.BusError, "its settings are not what was written: it has restarted, or wires are disturbed");
        if ((answer[7] & BothNew) == BothNew)
            return Talk.Reply;
        return waits++ < MostWaits ? Talk.Again(AgainInS) : Talk.Wrong(Fault.Timeout, "its measurement does not end");
    }

    private void Take(byte[] at)
    {
        var (t0, t1) = (at[2] | (at[5] & 0x03) << 8, at[3] | (at[5] & 0x0C) << 6);
        temperature = new TwoPoints(Word(at, 12), Word(at, 14), t0 / 8.0, t1 / 8.0);
        humidity = new TwoPoints(Word(at, 6), Word(at, 10), at[0] / 2.0, at[1] / 2.0);
    }

    private static short Word(byte[] at, int index) => (short)(at[index] | at[index + 1] << 8);
}
