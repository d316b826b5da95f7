// The driver "bme280": air temperature and humidity by a BME280, measured one time at a demand. The chip sends no checksum: its identity, its
// settings and its trimming numbers are read back instead, range and change are watched.
// It must never pass on a value of a chip that lost its settings, nor the same value for ever. Its pressure is not measured: no point wants it.
// Source: data sheet of the BME280 (registers, forced mode, longest time of a measurement, range).
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the chip.</summary>
public sealed class Bme280Driver() : ChipDriver(Declare(
    "bme280", "A BME280 on a wire bus (I2C): channels temperature and humidity. It sends no checksums.",
    new ChipKeys(0x76, 0x77, "0x76 or 0x77, chosen by a pin") { Interval = Number(Interval, Quantity.Duration, 5, 1, 60, "How often it measures; each measurement warms it a little.") },
    new Point(Temperature, Quantity.Temperature), new Point(Humidity, Quantity.Percent)))
{
    internal const string Temperature = "temperature", Humidity = "humidity";

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new Bme280Device(device.Name, place, TimesOf(device.Settings), points, parts);
}

/// <summary>One chip.</summary>
internal sealed class Bme280Device(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    : MeasuringChip(name, place, times, points, parts)
{
    private const byte IdRegister = 0xD0, Id = 0x60, ResetRegister = 0xE0, ResetWord = 0xB6, HumidityControl = 0xF2, MeasureControl = 0xF4, Status = 0xF3;
    // Both once (no averaging), no pressure; with the last two bits 01: measure once, then sleep.
    private const byte HumidityOnce = 0x01, TemperatureOnce = 0x20, Forced = 0x01;
    private const byte Measuring = 0x08, Copying = 0x01;
    private const int NeverMeasuredT = 0x80000, NeverMeasuredH = 0x8000;
    /// <summary>2 ms from reset to ready; 1.25 + 2.3 + 2.3 + 0.575 ms for a measurement, and a little.</summary>
    private const double StartsInS = 0.003, MeasuresInS = 0.008;
    private const int MostWaits = 5;
    private const double LowestC = -40, HighestC = 85;
    private const string Restarted = "its settings are not what was written: it has restarted, or wires are disturbed",
        Stuck = "it has given one and the same value for ten minutes: it measures no more; it is set up anew",
        Never = "it has measured nothing", Beyond = "beyond what the chip can measure, -40 to 85 °C";

    private readonly byte[] first = new byte[Bme280Compensation.FirstLength], second = new byte[Bme280Compensation.SecondLength];
    private readonly byte[] firstAgain = new byte[Bme280Compensation.FirstLength], secondAgain = new byte[Bme280Compensation.SecondLength];
    private readonly byte[] one = new byte[1], answer = new byte[13];
    private readonly SameValueWatch watch = new();
    private Bme280Compensation trim = new();
    private int waits;

    protected override DeviceReply Turn(bool isFirst)
    {
        if (isFirst)
            return IsSetUp ? Measure() : Restart();
        return IsSetUp ? Collect() : SetUp();
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var rawT = answer[8] << 12 | answer[9] << 4 | answer[10] >> 4;
        var rawH = answer[11] << 8 | answer[12];
        var fine = trim.Fine(rawT);
        var (temperatureC, isStuck) = (Bme280Compensation.TemperatureC(fine), watch.IsStuck((long)rawT << 16 | (long)rawH, takenAt));
        var (fault, words) = isStuck ? (Fault.BusError, Stuck)
            : rawT == NeverMeasuredT ? (Fault.BusError, Never)
            : temperatureC is < LowestC or > HighestC ? (Fault.OutOfRange, Beyond) : (Fault.None, "");
        IsSetUp &= fault == Fault.None;
        foreach (var point in job.Points)
        {
            var isTemperature = point.Wiring.Channel == Bme280Driver.Temperature;
            if (fault != Fault.None)
                PutFault(point, fault, words, takenAt);
            else if (!isTemperature && rawH == NeverMeasuredH)
                PutFault(point, Fault.BusError, Never, takenAt);
            else
                Put(point, isTemperature ? temperatureC : trim.HumidityPercent(rawH, fine), takenAt);
        }
    }

    private DeviceReply Restart()
    {
        waits = 0;
        Talk.Write(ResetRegister, ResetWord);
        return Talk.Again(StartsInS);
    }

    /// <summary>The trimming numbers are read twice: they have no checksum, and a wrong one would spoil every value until the next start.</summary>
    private DeviceReply SetUp()
    {
        if (!Talk.ReadAt(IdRegister, one))
            return Talk.Reply;
        if (one[0] != Id)
            return AnotherChip();
        if (Talk.ReadAt(Status, one) && (one[0] & Copying) != 0 && waits++ < MostWaits)
            return Talk.Again(StartsInS);
        if (!(ReadTrim(first, second) && ReadTrim(firstAgain, secondAgain)))
            return Talk.Reply;
        trim = Bme280Compensation.From(first, second);
        if (!trim.IsPossible || !first.AsSpan().SequenceEqual(firstAgain) || !second.AsSpan().SequenceEqual(secondAgain))
            return Talk.Wrong(Fault.BusError, "its trimming numbers came out different twice, or cannot be: wires are disturbed");
        IsSetUp = true;
        return Measure();
    }

    private bool ReadTrim(byte[] low, byte[] high) => Talk.ReadAt(Bme280Compensation.FirstBlock, low) && Talk.ReadAt(Bme280Compensation.SecondBlock, high);

    private DeviceReply Measure()
    {
        waits = 0;
        // The setting of humidity counts from the next writing of the other one.
        _ = Talk.Write(HumidityControl, HumidityOnce) && Talk.Write(MeasureControl, TemperatureOnce | Forced);
        return Talk.Again(MeasuresInS);
    }

    private DeviceReply Collect()
    {
        if (!Talk.ReadAt(HumidityControl, answer))
            return Talk.Reply;
        if ((answer[0] & 0x07) != HumidityOnce || (answer[2] & 0xFC) != TemperatureOnce)
            return Talk.Wrong(Fault.BusError, Restarted);
        if ((answer[1] & Measuring) == 0 && (answer[2] & 0x03) == 0)
            return Talk.Reply;
        return waits++ < MostWaits ? Talk.Again(StartsInS) : Talk.Wrong(Fault.Timeout, "its measurement does not end");
    }
}
