// The driver "sht4x": air temperature and humidity by the SHT4x family of chips, in two turns: measuring is begun, then collected.
// It must never pass on a word whose checksum is wrong, nor one value for another.
// Source: data sheet of the SHT4x family (commands, times, conversion, checksum); command bytes and constants checked against an open-source
// binding of the chip in the tests.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the chips.</summary>
public sealed class Sht4xDriver : IDriver
{
    internal const string Temperature = "temperature", Humidity = "humidity";

    public static DriverDeclaration Declaration { get; } = new(
        "sht4x", "A chip of the SHT4x family on a wire bus (I2C): channels temperature and humidity.",
        [
            I2cPlace.BusKey,
            I2cPlace.AddressKey("0x44", "0x44 to 0x46, printed as part of the chip's name"),
            I2cPlace.TimeoutKey,
            Number(Interval, Quantity.Duration, 5, 0.5, 60, "How often it measures; each measurement warms it a little."),
            RetryAtMostKey,
        ],
        null, [], [new Point(Temperature, Quantity.Temperature), new Point(Humidity, Quantity.Percent)])
    {
        CheckDevice = settings => I2cPlace.Wrong(settings, 0x44, 0x46),
        DevicePlace = I2cPlace.PlaceOf,
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    public string BusOf(DeviceSettings device) => I2cPlace.BusOf(device.Settings);

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points) => I2cPlace.Check(Declaration, device, points);

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new Sht4xDevice(device.Name, parts.Buses.I2c(I2cPlace.BusOf(device.Settings)), I2cPlace.AddressOf(device.Settings), TimesOf(device.Settings), points, parts);
}

/// <summary>One chip.</summary>
internal sealed class Sht4xDevice : PolledDevice
{
    /// <summary>Measures both with high precision.</summary>
    private const byte MeasurePrecisely = 0xFD;

    /// <summary>Longest time that takes, s (8.3 ms), and a little.</summary>
    private const double MeasuringS = 0.01;

    private const string WrongChecksum = "checksum wrong: disturbed wires, or another chip at this address";

    private static readonly byte[] Command = [MeasurePrecisely];
    private readonly II2cBus bus;
    private readonly byte address;
    private readonly byte[] answer = new byte[6];

    public Sht4xDevice(string name, II2cBus bus, byte address, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, times, [.. points.Select(point => ((IOutputChannel?)null, point))], parts)
    {
        (this.bus, this.address) = (bus, address);
        if (points.Count > 0)
            ReadFrom([new Words([.. points.Index().Select(point => new WiredPoint(point.Item.Wiring, point.Index))])]);
    }

    public override void Dispose() => bus.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS) => new(Fault.NotRead, "", 0);

    protected override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
    {
        if (!collects)
        {
            var begun = bus.Write(address, Command, nowS, deadlineS);
            return I2cPlace.ReplyOf(begun) with { ReadyAtS = nowS + begun.TookS + MeasuringS };
        }
        var came = bus.Read(address, answer, nowS, deadlineS);
        // A word with a wrong checksum is missing by itself; with both wrong nothing valid came.
        return came.Problem == I2cProblem.None && !IsWhole(0) && !IsWhole(3) ? new DeviceReply(Fault.Crc, WrongChecksum, came.TookS) : I2cPlace.ReplyOf(came);
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var point in job.Points)
        {
            var isTemperature = point.Wiring.Channel == Sht4xDriver.Temperature;
            if (IsWhole(isTemperature ? 0 : 3))
                Put(point, isTemperature ? TemperatureC(Word(0)) : HumidityPercent(Word(3)), takenAt);
            else
                PutFault(point, Fault.Crc, WrongChecksum, takenAt);
        }
    }

    /// <summary>−45 to 130 °C over the whole word.</summary>
    private static double TemperatureC(int word) => -45 + 175 * word / 65535.0;

    /// <summary>The chip's line reaches from −6 to 119 %; what lies outside 0 to 100 is its own rounding at the ends.</summary>
    private static double HumidityPercent(int word) => Math.Clamp(-6 + 125 * word / 65535.0, 0, 100);

    private int Word(int at) => answer[at] << 8 | answer[at + 1];

    private bool IsWhole(int at) => Crc8.Of(answer.AsSpan(at, 2)) == answer[at + 2];

    private sealed class Words(WiredPoint[] points) : ReadJob(points);
}
