// The driver "one-wire-thermometer": a sensor of the DS18B20 kind on a 1-Wire bus that the kernel drives.
// It must never pass on the 85 °C a sensor holds after power-up, unless the sensor was near it just before.
// Source: data sheet of the DS18B20 (range, 0.75 s, power-up value), Linux kernel documentation of w1_therm.
using System.Text.RegularExpressions;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.OneWire;

/// <summary>The driver of the sensors.</summary>
public sealed partial class OneWireDriver : IDriver
{
    private const string Root = "root", Master = "master", Sensor = "sensor", Temperature = "temperature";

    public static DriverDeclaration Declaration { get; } = new(
        "one-wire-thermometer", "A thermometer of the DS18B20 kind on a 1-Wire bus of the kernel: channel temperature.",
        [
            Text(Sensor, "Its number as the kernel writes it: the names of the folders below root that begin with 28-.", required: true, example: "28-0316a2795eff"),
            Text(Master, "The kernel's name of the bus it is on.", "w1_bus_master1"),
            Text(Root, "Folder of the kernel's 1-Wire.", "/sys/bus/w1/devices"),
            Number(TimeoutWord, Quantity.Duration, 3, 1, 30, "A reading that took longer does not count; the sensor needs 0.75 s."),
            Number(Interval, Quantity.Duration, 10, 1, 600, "How often it is read. The sensors of a bus are read one after the other, 0.75 s each."),
            RetryAtMostKey,
        ],
        null, [], [new Point(Temperature, Quantity.Temperature)])
    {
        CheckDevice = Wrong,
        DevicePlace = settings => $"{PathOf(settings)}/{settings.Text(Sensor)}",
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    /// <summary>A worker a bus: while one sensor measures, the others of the bus wait, and nobody else.</summary>
    public string BusOf(DeviceSettings device) => PathOf(device.Settings);

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points) => FixedChannels.Check(Declaration, device, points);

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new OneWireDevice(device.Name, (parts.Buses.OneWire(device.Settings.Text(Root)), device.Settings.Text(Master), device.Settings.Text(Sensor)), TimesOf(device.Settings), points, parts);

    private static string PathOf(SettingBag settings) => $"{settings.Text(Root).TrimEnd('/')}/{settings.Text(Master)}";

    private static string? Wrong(SettingBag settings)
    {
        if (!SensorName().IsMatch(settings.Text(Sensor)))
            return $"sensor \"{settings.Text(Sensor)}\" is no number of a thermometer: two digits, a dash and twelve digits, such as 28-0316a2795eff";
        if (!settings.Text(Root).StartsWith('/'))
            return $"root \"{settings.Text(Root)}\" is no path: write it in full, such as /sys/bus/w1/devices";
        return MasterName().IsMatch(settings.Text(Master)) ? null : $"master \"{settings.Text(Master)}\" is no bus: write it as the kernel does, such as w1_bus_master1";
    }

    // Families of thermometers that w1_therm knows: DS18S20, DS1822, DS18B20, DS1825, DS28EA00.
    [GeneratedRegex("^(10|22|28|3b|42)-[0-9a-f]{12}$")]
    private static partial Regex SensorName();

    [GeneratedRegex("^[A-Za-z0-9_-]+$")]
    private static partial Regex MasterName();
}

/// <summary>One sensor.</summary>
internal sealed class OneWireDevice : PolledDevice
{
    private const double PowerUpC = 85, NearC = 75, NearForS = 600, LowestC = -55, HighestC = 125;
    private const string PowerUp = "85.000 °C is what the sensor holds after power-up: it lost its power, or gets too little to measure",
        Beyond = "beyond what the sensor can measure, -55 to 125 °C", TooLate = "the reading took longer than its time-out";

    private readonly (IOneWireFiles Files, string Master, string Sensor) place;
    private readonly byte[] text = new byte[128];
    private double temperatureC = double.NaN, goodC = double.NaN, goodAtS;

    public OneWireDevice(string name, (IOneWireFiles Files, string Master, string Sensor) place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, times, [.. points.Select(point => ((IOutputChannel?)null, point))], parts)
    {
        this.place = place;
        if (points.Count > 0)
            ReadFrom([new Whole([.. points.Index().Select(point => new WiredPoint(point.Item.Wiring, point.Index))])]);
    }

    public override void Dispose() => place.Files.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS) => new(Fault.NotRead, "", 0);

    protected override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
    {
        var reply = place.Files.Read(place.Master, place.Sensor, text, nowS);
        if (reply.Problem != OneWireProblem.None)
        {
            var fault = reply.Problem is OneWireProblem.NoSensor ? Fault.NoAcknowledge : Fault.BusError;
            return new DeviceReply(fault, OneWireWords.Of(reply.Problem), reply.TookS) { IsCertain = reply.Problem is not (OneWireProblem.NoSensor or OneWireProblem.Failed) };
        }
        var says = SensorText.Of(text.AsSpan(0, reply.Length));
        temperatureC = says.TemperatureC;
        if (says.Fault == Fault.None && reply.TookS > deadlineS)
            return new DeviceReply(Fault.Timeout, TooLate, reply.TookS);
        return new DeviceReply(says.Fault, says.Problem, reply.TookS);
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var wasNear = goodC >= NearC && takenAt - goodAtS <= NearForS;
        var problem = temperatureC is < LowestC or > HighestC ? Beyond : temperatureC == PowerUpC && !wasNear ? PowerUp : "";
        if (problem.Length == 0)
            (goodC, goodAtS) = (temperatureC, takenAt);
        foreach (var point in job.Points)
        {
            if (problem.Length == 0)
                Put(point, temperatureC, takenAt);
            else
                PutFault(point, Fault.OutOfRange, problem, takenAt);
        }
    }

    private sealed class Whole(WiredPoint[] points) : ReadJob(points);
}
