// A worker on a device in memory, with wiring written as a test reads it. For the hardware tests only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

/// <summary>A small room: two temperatures and a humidity next to each other, a door, a fan, a valve and a pump.</summary>
internal sealed class Rig : IDisposable
{
    public const int Temperature = 0, Humidity = 1, Supply = 2, Door = 3;
    public const int Fan = 0, Valve = 1, Pump = 2;
    public static readonly Mark Here = new("site.yaml", 1, 1);

    public Rig(Func<DeviceSettings, IModbusLink>? links = null, Action<SettingBag>? settings = null, IReadOnlyList<PointWiring>? wiring = null)
    {
        foreach (var address in (int[])[0, 1, 2])
            Device[RegisterTable.InputRegister, address] = 0;
        Device[RegisterTable.DiscreteInput, 3] = 0;
        Device[RegisterTable.HoldingRegister, 0] = 7777;
        Device[RegisterTable.HoldingRegister, 1] = 7777;
        Device[RegisterTable.Coil, 0] = 1;
        Channel = new MemoryChannel(Device);
        var device = DeviceWith(settings);
        Plan = HardwarePlan.Build([device], wiring ?? Wirings(), Inputs, Leases, new Buses { Modbus = links ?? (_ => new ModbusTcpLink(Channel)) });
        Assert.Empty(Plan.Problems);
    }

    public MemoryModbusDevice Device { get; } = new();

    public MemoryChannel Channel { get; }

    public InputImage Inputs { get; } = new(4);

    public OutputLeases Leases { get; } = new(3);

    public HardwarePlan Plan { get; }

    public BusWorker Worker => Plan.Workers[0];

    public DeviceHealth Health => Worker.Devices[0].Health;

    public Sample Sample(int index)
    {
        var all = new Sample[Inputs.Count];
        Inputs.CopyTo(all);
        return all[index];
    }

    public void Put(int output, double value, double then, double nowS, double lifeS = 30)
        => Leases.Put(output, new Command(value, new Reason(Cause.CoilCarries), default, then), nowS, lifeS);

    public ChannelHealth ChannelOf(string pointId) => Enumerable.Range(0, Worker.Devices[0].ChannelCount)
        .Select(Worker.Devices[0].Channel).Single(one => one.Wiring.PointId == pointId);

    public void Dispose() => Plan.Dispose();

    public static DeviceSettings DeviceWith(Action<SettingBag>? settings = null, string name = "io-1")
    {
        var bag = Defaults(ModbusTcpDriver.Declaration.Parameters);
        bag.Set("host", "127.0.0.1");
        settings?.Invoke(bag);
        return new DeviceSettings(name, ModbusTcpDriver.Name, bag, new Dictionary<string, SettingBag>(StringComparer.Ordinal)
        {
            ["temperature"] = Register("input-register", 0, "0.1 °C", "s16"),
            ["humidity"] = Register("input-register", 1, "0.1 %"),
            ["supply"] = Register("input-register", 2, "0.1 °C", "s16"),
            ["door"] = Register("discrete-input", 3),
            ["fan"] = Register("holding-register", 0, "1 mV"),
            ["valve"] = Register("holding-register", 1, "1 mV"),
            ["pump"] = Register("coil", 0),
        }, Here);
    }

    public static SettingBag Register(string table, double address, string scale = "1", string type = "u16")
    {
        var bag = Defaults(ModbusTcpDriver.Declaration.ChannelParameters);
        bag.Set("table", table);
        bag.Set("address", address);
        bag.Set("scale", scale);
        bag.Set("type", type);
        return bag;
    }

    public static List<PointWiring> Wirings() =>
    [
        Input("hall.air.temperature", Temperature, Quantity.Temperature, "temperature"),
        Input("hall.air.humidity", Humidity, Quantity.Percent, "humidity"),
        Input("loop.supply.temperature", Supply, Quantity.Temperature, "supply"),
        Input("hall.opening.open", Door, Quantity.Switch, "door"),
        Output("hall.coil.fan", Fan, Quantity.Percent, "fan", new VoltageLine(1.8, 20, 10), 0),
        Output("hall.ceiling.valve", Valve, Quantity.Percent, "valve", VoltageLine.ZeroToTen, 0),
        Output("loop.pump.run", Pump, Quantity.Switch, "pump", VoltageLine.ZeroToTen, 0),
    ];

    public static PointWiring Input(string id, int index, Quantity quantity, string channel, bool inverted = false)
        => new(id, false, index, quantity, "io-1", channel, inverted, VoltageLine.ZeroToTen, double.NaN, Here);

    public static PointWiring Output(string id, int index, Quantity quantity, string channel, VoltageLine line, double safe, bool inverted = false)
        => new(id, true, index, quantity, "io-1", channel, inverted, line, safe, Here);

    public static SettingBag Defaults(IEnumerable<Parameter<SettingBag>> parameters)
    {
        var bag = new SettingBag();
        foreach (var parameter in parameters)
        {
            if (parameter.Quantity == Quantity.Text && parameter.DefaultText is { } text)
                parameter.SetText!(bag, text);
            else if (parameter.Quantity != Quantity.Text)
                parameter.SetNumber!(bag, parameter.Default);
        }
        return bag;
    }
}
