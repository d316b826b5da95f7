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
internal sealed class HumidityChipDevice : PolledDevice
{
    private const string WrongChecksum = "checksum wrong: disturbed wires, or another chip at this address";

    private readonly II2cBus bus;
    private readonly byte address;
    private readonly HumidityChip chip;
    private readonly byte[] answer = new byte[6];

    public HumidityChipDevice(string name, I2cAddress place, HumidityChip chip, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, times, [.. points.Select(point => ((IOutputChannel?)null, point))], parts)
    {
        (bus, address, this.chip) = (place.Bus, place.Address, chip);
        if (points.Count > 0)
            ReadFrom([new Words([.. points.Index().Select(point => new WiredPoint(point.Item.Wiring, point.Index))])]);
    }

    public override void Dispose() => bus.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS) => new(Fault.NotRead, "", 0);

    protected override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
    {
        if (!collects)
        {
            var begun = bus.Write(address, chip.Command, nowS, deadlineS);
            return I2cPlace.ReplyOf(begun) with { ReadyAtS = nowS + begun.TookS + chip.MeasuringS };
        }
        var came = bus.Read(address, answer, nowS, deadlineS);
        // A word with a wrong checksum is missing by itself; with both wrong nothing valid came.
        return came.Problem == I2cProblem.None && !IsWhole(0) && !IsWhole(3) ? new DeviceReply(Fault.Crc, WrongChecksum, came.TookS) : I2cPlace.ReplyOf(came);
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var point in job.Points)
        {
            var isTemperature = point.Wiring.Channel == HumidityChipDriver.Temperature;
            if (IsWhole(isTemperature ? 0 : 3))
                Put(point, isTemperature ? TemperatureC(Word(0)) : HumidityPercent(Word(3)), takenAt);
            else
                PutFault(point, Fault.Crc, WrongChecksum, takenAt);
        }
    }

    /// <summary>−45 to 130 °C over the whole word.</summary>
    private static double TemperatureC(int word) => -45 + 175 * word / 65535.0;

    /// <summary>Where the chip's line reaches beyond 0 to 100 % it is its own rounding at the ends.</summary>
    private double HumidityPercent(int word) => Math.Clamp(chip.LowestPercent + chip.SpanPercent * word / 65535, 0, 100);

    private int Word(int at) => answer[at] << 8 | answer[at + 1];

    private bool IsWhole(int at) => Crc8.Of(answer.AsSpan(at, 2)) == answer[at + 2];

    private sealed class Words(WiredPoint[] points) : ReadJob(points);
}
