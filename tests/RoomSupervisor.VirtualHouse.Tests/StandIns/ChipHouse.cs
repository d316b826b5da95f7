// A small site of all drivers with its stand-ins, and the polling of a rehearsal. For the tests of the stand-ins only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

/// <summary>Two chips and a converter on one bus, a module and a sensor gateway on the network.</summary>
internal sealed class ChipHouse : IDisposable
{
    public const int HallT = 0, HallRh = 1, LoftT = 2, LoftRh = 3, SupplyT = 4, Door = 5, OutdoorT = 6;
    public const int Fan = 0, Valve = 1, Mixing = 2, Pump = 3, Opens = 4, Shuts = 5;
    private static readonly Mark Here = new("site.yaml", 1, 1);
    private readonly Sample[] _samples = new Sample[7];

    public ChipHouse()
    {
        Devices =
        [
            Chip("hall-air", "sht4x", "0x44"), Chip("loft-air", "sht3x", "0x45"), Chip("volts", "dac-0-10v", "0x58"),
            Module("io-1", ("supply", "input-register", 4, "s16", "0.1 °C"), ("door", "discrete-input", 3, "u16", "1"), ("mixing", "holding-register", 7, "u16", "1 mV"),
                ("pump", "coil", 0, "u16", "1"), ("opens", "coil", 1, "u16", "1"), ("shuts", "coil", 2, "u16", "1")),
            Module("roof", ("outdoor", "input-register", 0, "s16", "0.1 °C")),
        ];
        House = StandInHouse.Build(Devices, Wiring);
        Plan = HardwarePlan.Build(Devices, Wiring, Inputs, Leases, House.Buses);
        Assert.Empty(Plan.Problems);
    }

    public IReadOnlyList<DeviceSettings> Devices { get; }

    public StandInHouse House { get; }

    public HardwarePlan Plan { get; }

    public InputImage Inputs { get; } = new(7);

    public OutputLeases Leases { get; } = new(6);

    public static PointWiring[] Wiring { get; } =
    [
        Input("hall.air.temperature", HallT, Quantity.Temperature, "hall-air", "temperature"),
        Input("hall.air.humidity", HallRh, Quantity.Percent, "hall-air", "humidity"),
        Input("loft.air.temperature", LoftT, Quantity.Temperature, "loft-air", "temperature"),
        Input("loft.air.humidity", LoftRh, Quantity.Percent, "loft-air", "humidity"),
        Input("loop.supply.temperature", SupplyT, Quantity.Temperature, "io-1", "supply"),
        Input("hall.opening.open", Door, Quantity.Switch, "io-1", "door") with { Inverted = true },
        Input("outdoor.air.temperature", OutdoorT, Quantity.Temperature, "roof", "outdoor"),
        Output("hall.coil.fan", 0, Quantity.Percent, "volts", "out-1", new VoltageLine(1.8, 20, 10)),
        Output("hall.ceiling.valve", 1, Quantity.Percent, "volts", "out-2", VoltageLine.ZeroToTen),
        Output("loop.mixing.valve", 2, Quantity.Percent, "io-1", "mixing", VoltageLine.TwoToTen),
        Output("loop.pump.run", 3, Quantity.Switch, "io-1", "pump", VoltageLine.ZeroToTen),
        Output("loft.ceiling.valve", 4, Quantity.Percent, "io-1", "opens", VoltageLine.ZeroToTen) with { Role = ChannelRole.Opens, Shape = new OutputShape { Kind = OutputKind.ThreePoint } },
        Output("loft.ceiling.valve", 4, Quantity.Percent, "io-1", "shuts", VoltageLine.ZeroToTen) with { Role = ChannelRole.Shuts, Shape = new OutputShape { Kind = OutputKind.ThreePoint } },
    ];

    public DeviceHealth Health(string device) => Plan.Workers.SelectMany(worker => worker.Devices).Single(one => one.Name == device).Health;

    public Sample Sample(int index)
    {
        Inputs.CopyTo(_samples);
        return _samples[index];
    }

    public void Put(int lease, double value, double nowS, double lifeS = 5) => Leases.Put(lease, new Command(value, new Reason(Cause.CoilCarries), default, 0), nowS, lifeS);

    /// <summary>One second as a rehearsal plays it: what was begun is collected within it.</summary>
    public void Second(double nowS)
    {
        House.At(nowS);
        for (int i = 0; i < Plan.Workers.Count; i++) StandInHouse.Poll(Plan.Workers[i], nowS);
    }

    public void Run(double fromS, double toS)
    {
        for (double t = fromS; t <= toS; t++) Second(t);
    }

    public void Dispose() => Plan.Dispose();

    private static DeviceSettings Chip(string name, string driver, string address)
    {
        SettingBag bag = OutputChips.Bag(Drivers.All.Single(one => one.Name == driver).Parameters);
        bag.Set("bus", "/dev/i2c-1");
        bag.Set("address", address);
        return new DeviceSettings(name, driver, bag, new Dictionary<string, SettingBag>(), Here);
    }

    private static DeviceSettings Module(string name, params (string Name, string Table, int Address, string Type, string Scale)[] registers)
    {
        var channels = new Dictionary<string, SettingBag>();
        foreach (var register in registers)
        {
            SettingBag channel = OutputChips.Bag(ModbusTcpDriver.Declaration.ChannelParameters);
            channel.Set("table", register.Table);
            channel.Set("address", register.Address);
            channel.Set("type", register.Type);
            channel.Set("scale", register.Scale);
            channels.Add(register.Name, channel);
        }

        SettingBag bag = OutputChips.Bag(ModbusTcpDriver.Declaration.Parameters);
        bag.Set("host", "192.0.2.10");
        bag.Set("own_time_out", 60);
        return new DeviceSettings(name, "modbus-tcp", bag, channels, Here);
    }

    private static PointWiring Input(string id, int index, Quantity quantity, string device, string channel)
        => new(id, false, index, quantity, device, channel, false, VoltageLine.ZeroToTen, double.NaN, Here);

    private static PointWiring Output(string id, int index, Quantity quantity, string device, string channel, VoltageLine line)
        => new(id, true, index, quantity, device, channel, false, line, 0, Here);
}
