// The driver "ds3231": a real-time clock of that kind. The time itself is the kernel's business (its rtc driver sets the system's clock from the chip at
// start and keeps the chip set); here it is only watched: whether it knows the time after a power cut, and the temperature in the enclosure.
// It must never write to the chip: two who set one clock set it wrong.
// Source: data sheet of the DS3231 (registers 0 to 0x12; bit 7 of 0x0F: the oscillator has stopped since it was set).
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the clock.</summary>
public sealed class ClockChipDriver() : ChipDriver(Declare(
    "ds3231", "A real-time clock on a wire bus (I2C), only watched: channels temperature (of its enclosure) and time_lost (its battery is empty). The system sets its clock from it.",
    new ChipKeys(0x68, 0x68, "always 0x68") { Interval = Number(Interval, Quantity.Duration, 60, 2, 3600, "How often it is read; it measures its temperature every 64 s.") },
    new Point(Temperature, Quantity.Temperature), new Point(TimeLost, Quantity.Switch)))
{
    internal const string Temperature = "temperature", TimeLost = "time_lost";

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new ClockChipDevice(device.Name, place, TimesOf(device.Settings), points, parts);
}

/// <summary>One clock.</summary>
internal sealed class ClockChipDevice(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    : MeasuringChip(name, place, times, points, parts)
{
    private const int Seconds = 0, Status = 0x0F, TemperatureAt = 0x11, TimeBytes = 7;
    private const byte Stopped = 0x80;
    private const double QuarterK = 0.25, ShortestS = 1.5;

    // Bits that are always 0, register by register: the chip sends no checksum, and these are what cannot be.
    private static ReadOnlySpan<byte> AlwaysNought => [0x80, 0x80, 0x80, 0xF8, 0xC0, 0x60, 0, 0x80, 0x80, 0x80, 0, 0x80, 0x80, 0, 0, 0x70, 0, 0, 0x3F];

    private readonly byte[] answer = new byte[19], before = new byte[TimeBytes];
    private double beforeAtS = double.NaN;
    private bool standsStill;

    protected override DeviceReply Turn(bool isFirst)
    {
        if (!Talk.ReadAt(Seconds, answer))
            return Talk.Reply;
        for (var i = 0; i < answer.Length; i++)
        {
            if ((answer[i] & AlwaysNought[i]) != 0)
                return AnotherChip();
        }
        return Talk.Reply;
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var temperatureC = (sbyte)answer[TemperatureAt] + (answer[TemperatureAt + 1] >> 6) * QuarterK;
        if (takenAt - beforeAtS >= ShortestS)
            standsStill = answer.AsSpan(0, TimeBytes).SequenceEqual(before);
        answer.AsSpan(0, TimeBytes).CopyTo(before);
        beforeAtS = takenAt;
        foreach (var point in job.Points)
            Put(point, point.Wiring.Channel == ClockChipDriver.Temperature ? temperatureC : standsStill || (answer[Status] & Stopped) != 0 ? 1 : 0, takenAt);
    }
}
