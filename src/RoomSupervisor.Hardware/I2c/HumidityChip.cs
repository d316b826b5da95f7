// A chip that measures air temperature and humidity in two turns: begun, then collected: two words of two bytes, each with its checksum.
// It must never pass on a word whose checksum is wrong, nor one value for another.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A chip on its bus.</summary>
internal sealed record I2cAddress(II2cBus Bus, byte Address);

/// <summary>What differs between the families.</summary>
/// <param name="Command">Measures both with high precision.</param>
/// <param name="MeasuringS">Longest time that takes, s, and a little.</param>
/// <param name="LowestPercent">Humidity a word of 0 stands for, %.</param>
/// <param name="SpanPercent">Humidity the whole word spans, %.</param>
internal sealed record HumidityChip(byte[] Command, double MeasuringS, double LowestPercent, double SpanPercent);

/// <summary>One chip.</summary>
internal sealed class HumidityChipDevice(string name, I2cAddress place, HumidityChip chip, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    : MeasuringChip(name, place, times, points, parts)
{
    private readonly byte[] answer = new byte[6];

    protected override DeviceReply Turn(bool isFirst)
    {
        if (isFirst)
        {
            Talk.Write(chip.Command);
            return Talk.Again(chip.MeasuringS);
        }
        // A word with a wrong checksum is missing by itself; with both wrong nothing valid came.
        return Talk.Read(answer) && !Crc8.Fits(answer, 0) && !Crc8.Fits(answer, 3) ? Talk.Wrong(Fault.Crc, Crc8.Wrong) : Talk.Reply;
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var point in job.Points)
        {
            var isTemperature = point.Wiring.Channel == HumidityChipDriver.Temperature;
            if (Crc8.Fits(answer, isTemperature ? 0 : 3))
                Put(point, isTemperature ? TemperatureC(Word(0)) : HumidityPercent(Word(3)), takenAt);
            else
                PutFault(point, Fault.Crc, Crc8.Wrong, takenAt);
        }
    }

    /// <summary>−45 to 130 °C over the whole word.</summary>
    private static double TemperatureC(int word) => -45 + 175 * word / 65535.0;

    /// <summary>Where the chip's line reaches beyond 0 to 100 % it is its own rounding at the ends.</summary>
    private double HumidityPercent(int word) => Math.Clamp(chip.LowestPercent + chip.SpanPercent * word / 65535, 0, 100);

    private int Word(int at) => answer[at] << 8 | answer[at + 1];
}
