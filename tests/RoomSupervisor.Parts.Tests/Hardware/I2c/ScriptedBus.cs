// A wire bus that answers what a test tells it, byte for byte, and remembers what was written. For the tests of chips only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

internal sealed class ScriptedBus : II2cBus
{
    /// <summary>Bytes of the next readings, by address.</summary>
    public Dictionary<int, byte[]> Answers { get; } = [];

    /// <summary>What is wrong with an address.</summary>
    public Dictionary<int, I2cProblem> Problems { get; } = [];

    /// <summary>What was written: address and bytes as hexadecimal digits.</summary>
    public List<(double AtS, string Text)> Written { get; } = [];

    public bool IsDisposed { get; private set; }

    public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
    {
        var problem = Problems.GetValueOrDefault(address);
        if (problem == I2cProblem.None)
            Written.Add((nowS, $"{address:x2}: {Convert.ToHexStringLower(bytes)}"));
        return new I2cReply(problem, problem == I2cProblem.TimedOut ? deadlineS : 0.0002);
    }

    public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
    {
        var problem = Problems.GetValueOrDefault(address);
        if (problem == I2cProblem.None)
            Answers[address].AsSpan(0, into.Length).CopyTo(into);
        return new I2cReply(problem, problem == I2cProblem.TimedOut ? deadlineS : 0.0006);
    }

    public void Dispose() => IsDisposed = true;
}

/// <summary>Two sensors and a converter on one bus, two more sensors' worth of points.</summary>
internal sealed class ChipRig : IDisposable
{
    public const int Hall = 0x44, Loft = 0x45, Converter = 0x58;

    public ChipRig(double intervalS = 5, string family = "sht4x")
    {
        DeviceSettings[] devices = [Chip("hall-air", family, "0x44", intervalS), Chip("loft-air", "sht4x", "0x45", intervalS), Chip("volts", "dac-0-10v", "0x58")];
        Plan = HardwarePlan.Build(devices, Wirings, Inputs, Leases, new Buses { I2c = path => Bus = path == "/dev/i2c-1" ? Bus : throw new ArgumentException(path) });
        Assert.Empty(Plan.Problems);
    }

    public ScriptedBus Bus { get; private set; } = new() { Answers = { [Hall] = Words(0x6666, 0x6666), [Loft] = Words(0x6666, 0x6666) } };

    public InputImage Inputs { get; } = new(4);

    public OutputLeases Leases { get; } = new(2);

    public HardwarePlan Plan { get; }

    public BusWorker Worker => Assert.Single(Plan.Workers);

    public static PointWiring[] Wirings { get; } =
    [
        Rig.Input("hall.air.temperature", 0, Quantity.Temperature, "temperature") with { Device = "hall-air" },
        Rig.Input("hall.air.humidity", 1, Quantity.Percent, "humidity") with { Device = "hall-air" },
        Rig.Input("loft.air.temperature", 2, Quantity.Temperature, "temperature") with { Device = "loft-air" },
        Rig.Input("loft.air.humidity", 3, Quantity.Percent, "humidity") with { Device = "loft-air" },
        Rig.Output("hall.coil.fan", 0, Quantity.Percent, "out-1", new VoltageLine(1.8, 20, 10), 0) with { Device = "volts" },
        Rig.Output("hall.ceiling.valve", 1, Quantity.Percent, "out-2", VoltageLine.ZeroToTen, 0) with { Device = "volts" },
    ];

    public static DeviceSettings Chip(string name, string driver, string address, double intervalS = 5, string bus = "/dev/i2c-1")
    {
        var bag = new SettingBag();
        foreach (var parameter in Drivers.All.Single(one => one.Name == driver).Parameters)
        {
            if (parameter.Quantity == Quantity.Text)
                parameter.SetText!(bag, parameter.Key switch { "bus" => bus, "address" => address, _ => parameter.DefaultText! });
            else
                parameter.SetNumber!(bag, parameter.Key == "interval" ? intervalS : parameter.Default);
        }
        return new DeviceSettings(name, driver, bag, new Dictionary<string, SettingBag>(), Rig.Here);
    }

    /// <summary>Six bytes as the chip sends them.</summary>
    public static byte[] Words(int temperature, int humidity)
    {
        byte[] bytes = [(byte)(temperature >> 8), (byte)temperature, 0, (byte)(humidity >> 8), (byte)humidity, 0];
        (bytes[2], bytes[5]) = (Crc8.Of(bytes.AsSpan(0, 2)), Crc8.Of(bytes.AsSpan(3, 2)));
        return bytes;
    }

    public Sample Sample(int index)
    {
        var all = new Sample[Inputs.Count];
        Inputs.CopyTo(all);
        return all[index];
    }

    public DeviceHealth Health(int device) => Worker.Devices[device].Health;

    /// <summary>Polls whenever something is due, until a moment.</summary>
    public void Run(double fromS, double toS)
    {
        for (var now = fromS; now <= toS; now = Math.Max(now + 0.001, Math.Min(Worker.NextDueS, now + 0.1)))
            now += Worker.Poll(now);
    }

    public void Put(int output, double value, double then, double nowS, double lifeS = 30)
        => Leases.Put(output, new Command(value, new Reason(Cause.CoilCarries), default, then), nowS, lifeS);

    public IEnumerable<string> WrittenTo(int address) => Bus.Written.Select(one => one.Text).Where(text => text.StartsWith($"{address:x2}", StringComparison.Ordinal));

    public void Dispose() => Plan.Dispose();
}
