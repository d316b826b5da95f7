// What the devices of a house cost a second of virtual time: setting what they measure, polling every bus, looking at what comes out. Limit: ten
// buses of a six-room house, polled once a second, 10 µs altogether, nothing allocated.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- buses
using System.Diagnostics;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Bench;

/// <summary>Cost of the buses of a six-room house in memory.</summary>
internal static class BusesBench
{
    // Short rounds, and the fastest of many: what else runs on the machine only ever adds.
    private const int Rounds = 1000, Seconds = 200;
    private const double LimitMicros = 10;

    /// <summary>Measures and prints; 0 when the limit holds, 1 when not.</summary>
    public static int Run()
    {
        var house = new BusHouse();
        Play(house, 50 * Seconds, _ => { });
        var before = GC.GetAllocatedBytesForCurrentThread();
        var best = double.PositiveInfinity;
        for (var round = 0; round < Rounds; round++)
            Play(house, Seconds, micros => best = Math.Min(best, micros));
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        Console.WriteLine(FormattableString.Invariant($"{house.Buses} buses, {house.Devices} devices, {house.Points} points: {best:0.00} µs a second of virtual time, {best / house.Buses:0.00} a bus; {house.Requests / house.NowS:0.0} requests a second"));
        Console.WriteLine(FormattableString.Invariant($"allocated: {bytes / (double)(Rounds * Seconds):0.000} bytes a second; limit {LimitMicros} µs and nothing"));
        // The delegates of this measuring itself are a handful of bytes in all.
        return best <= LimitMicros && bytes < Rounds * Seconds ? 0 : 1;
    }

    private static void Play(BusHouse house, int seconds, Action<double> tell)
    {
        var from = Stopwatch.GetTimestamp();
        for (var i = 0; i < seconds; i++)
            house.Second();
        tell((Stopwatch.GetTimestamp() - from) * 1e6 / Stopwatch.Frequency / seconds);
    }
}

/// <summary>Six rooms, each with a sensor and a converter on a bus of its own; three modules of contacts, temperatures, valves and pumps; a gateway.</summary>
internal sealed class BusHouse
{
    private const int Rooms = 6, Modules = 4;
    private static readonly Mark Here = new("site.yaml", 1, 1);
    private readonly List<DeviceSettings> devices = [];
    private readonly List<PointWiring> wiring = [];
    private readonly StandInHouse house;
    private readonly HardwarePlan plan;
    private readonly InputImage inputs;
    private readonly OutputLeases leases;
    private readonly Sample[] samples;
    private int inputCount, outputCount;

    public BusHouse()
    {
        for (var room = 0; room < Rooms; room++)
            Room(room);
        for (var module = 0; module < Modules; module++)
            Module(module);
        house = StandInHouse.Build(devices, wiring);
        (inputs, leases, samples) = (new InputImage(inputCount), new OutputLeases(outputCount), new Sample[inputCount]);
        plan = HardwarePlan.Build(devices, wiring, inputs, leases, house.Buses);
        if (plan.Problems.Count > 0)
            throw new InvalidOperationException(plan.Problems[0].Text);
    }

    public int Buses => plan.Workers.Count;

    public int Devices => devices.Count;

    public int Points => wiring.Count;

    public double NowS { get; private set; }

    public long Requests => plan.Workers.Sum(worker => worker.Devices.Sum(device => device.Health.Requests));

    /// <summary>A second as a rehearsal plays it: every input set, every command put, every bus polled, every output looked at.</summary>
    public double Second()
    {
        NowS++;
        for (var i = 0; i < inputCount; i++)
            house.SetInput(i, 20 + (NowS + 7 * i) % 8);
        // Commands move as they do in a house: a third of them each second, by a percent.
        for (var i = 0; i < outputCount; i++)
            leases.Put(i, new Command(house.Outputs[i].Quantity == Quantity.Switch ? (NowS + i) % 600 < 300 ? 1 : 0 : (int)((NowS + i) / 3) % 100, default, default, 0), NowS, 30);
        house.At(NowS);
        for (var i = 0; i < plan.Workers.Count; i++)
            StandInHouse.Poll(plan.Workers[i], NowS);
        inputs.CopyTo(samples);
        var sum = 0.0;
        for (var i = 0; i < outputCount; i++)
            sum += house.Asked(i);
        return sum;
    }

    private void Room(int room)
    {
        Device($"air-{room}", "sht4x", [("bus", $"/dev/i2c-{room}"), ("address", "0x44")]);
        Device($"volts-{room}", "dac-0-10v", [("bus", $"/dev/i2c-{room}"), ("address", "0x58")]);
        Input($"air-{room}", "temperature", Quantity.Temperature);
        Input($"air-{room}", "humidity", Quantity.Percent);
        Output($"volts-{room}", "out-1", Quantity.Percent, new VoltageLine(1.8, 20, 10));
        Output($"volts-{room}", "out-2", Quantity.Percent, VoltageLine.ZeroToTen);
    }

    private void Module(int module)
    {
        var name = $"io-{module}";
        var channels = new Dictionary<string, SettingBag>();
        for (var i = 0; i < 4; i++)
        {
            channels.Add($"t{i}", Register("input-register", i, "s16", "0.1 °C"));
            channels.Add($"door{i}", Register("discrete-input", i, "u16", "1"));
            channels.Add($"pump{i}", Register("coil", i, "u16", "1"));
        }
        channels.Add("mixing", Register("holding-register", 0, "u16", "1 mV"));
        Device(name, "modbus-tcp", [("host", "192.0.2.10")], channels);
        for (var i = 0; i < 4; i++)
        {
            Input(name, $"t{i}", Quantity.Temperature);
            Input(name, $"door{i}", Quantity.Switch);
            Output(name, $"pump{i}", Quantity.Switch, VoltageLine.ZeroToTen);
        }
        Output(name, "mixing", Quantity.Percent, VoltageLine.ZeroToTen);
    }

    private void Input(string device, string channel, Quantity quantity)
        => wiring.Add(new PointWiring($"{device}.{channel}.point", false, inputCount++, quantity, device, channel, false, VoltageLine.ZeroToTen, double.NaN, Here));

    private void Output(string device, string channel, Quantity quantity, VoltageLine line)
        => wiring.Add(new PointWiring($"{device}.{channel}.point", true, outputCount++, quantity, device, channel, false, line, 0, Here));

    private void Device(string name, string driver, (string Key, string Text)[] texts, Dictionary<string, SettingBag>? channels = null)
    {
        var bag = Defaults(Drivers.All.Single(one => one.Name == driver).Parameters);
        foreach (var (key, text) in texts)
            bag.Set(key, text);
        if (bag.Has("interval"))
            bag.Set("interval", 1);
        devices.Add(new DeviceSettings(name, driver, bag, channels ?? [], Here));
    }

    private static SettingBag Register(string table, int address, string type, string scale)
    {
        var bag = Defaults(ModbusTcpDriver.Declaration.ChannelParameters);
        bag.Set("table", table);
        bag.Set("address", address);
        bag.Set("type", type);
        bag.Set("scale", scale);
        return bag;
    }

    /// <summary>What a device or channel has without being told.</summary>
    internal static SettingBag Defaults(IEnumerable<Parameter<SettingBag>> parameters)
    {
        var bag = new SettingBag();
        foreach (var one in parameters)
        {
            if (one.Quantity != Quantity.Text)
                one.SetNumber!(bag, one.Default);
            else if (one.DefaultText is { } text)
                one.SetText!(bag, text);
        }
        return bag;
    }
}
