// A site of the measuring chips with its stand-ins, and the polling of a rehearsal. For the tests of the chips only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

/// <summary>Two kinds of air sensors, one for carbon dioxide, a converter with four inputs, two thermometers on a bus of the kernel, two equal chips behind a multiplexer, a clock.</summary>
internal sealed class MeasuringHouse : IDisposable
{
    public const double AltitudeM = 1650;
    private static readonly Mark Here = new("site.yaml", 1, 1);
    private readonly Sample[] _samples = new Sample[Wiring.Length];

    public MeasuringHouse()
    {
        Devices =
        [
            Chip("hall-air", "bme280", ("address", "0x76")), Chip("loft-air", "hts221"), Chip("study-air", "scd4x"), Converter(),
            Chip("tank-top", "one-wire-thermometer", ("sensor", "28-000000000001")), Chip("tank-bottom", "one-wire-thermometer", ("sensor", "28-000000000002")),
            Chip("east-air", "sht4x", ("behind", "0x70/2")), Chip("west-air", "sht4x", ("behind", "0x70/5")), Chip("porch-air", "sht4x", ("address", "0x45")),
            Chip("clock", "ds3231"),
        ];
        House = StandInHouse.Build(Devices, Wiring);
        Plan = HardwarePlan.Build(Devices, Wiring, Inputs, Leases, House.Buses, AltitudeM);
        Assert.Empty(Plan.Problems);
        foreach (PointWiring one in Wiring) House.SetInput(one.Index, True(one.Index));
    }

    public IReadOnlyList<DeviceSettings> Devices { get; }

    public StandInHouse House { get; }

    public HardwarePlan Plan { get; }

    public InputImage Inputs { get; } = new(Wiring.Length);

    public OutputLeases Leases { get; } = new(0);

    public static PointWiring[] Wiring { get; } =
    [
        Input(0, "hall.air.temperature", "hall-air", "temperature"), Input(1, "hall.air.humidity", "hall-air", "humidity", Quantity.Percent),
        Input(2, "loft.air.temperature", "loft-air", "temperature"), Input(3, "loft.air.humidity", "loft-air", "humidity", Quantity.Percent),
        Input(4, "study.air.co2", "study-air", "co2", Quantity.Number), Input(5, "study.air.temperature", "study-air", "temperature"), Input(6, "study.air.humidity", "study-air", "humidity", Quantity.Percent),
        Input(7, "loop.supply.temperature", "analog", "supply"), Input(8, "loop.return.temperature", "analog", "return"), Input(9, "outdoor.air.temperature", "analog", "outdoor"), Input(10, "loop.water.pressure", "analog", "pressure", Quantity.Pressure),
        Input(11, "buffer.top.temperature", "tank-top", "temperature"), Input(12, "buffer.bottom.temperature", "tank-bottom", "temperature"),
        Input(13, "east.air.temperature", "east-air", "temperature"), Input(14, "west.air.temperature", "west-air", "temperature"), Input(15, "porch.air.temperature", "porch-air", "temperature"),
        Input(16, "buffer.middle.temperature", "clock", "temperature"),
    ];

    /// <summary>What each input measures unless a test says otherwise.</summary>
    public static double True(int input) => input switch { 4 => 812, 1 or 3 or 6 => 47.5 + input, 10 => 180, 9 => -7.4, 16 => 31.25, _ => 20.3 + 1.7 * input };

    /// <summary>How near the driver must come: half a step of the chip's word and what its formulas round.</summary>
    public static double Near(int input) => input switch { 0 => 0.004, 1 => 0.03, 2 => 0.009, 3 => 0.004, 4 => 0.5, 7 => 0.02, 8 => 0.05, 9 => 0.03, 10 => 0.1, 11 or 12 => 0.0321, 16 => 0, _ => 0.003 };

    public DeviceHealth Health(string device) => Plan.Workers.SelectMany(worker => worker.Devices).Single(one => one.Name == device).Health;

    public ChannelHealth Channel(int input) => Plan.Workers.SelectMany(worker => worker.Devices)
        .SelectMany(device => Enumerable.Range(0, device.ChannelCount).Select(device.Channel)).Single(channel => channel.Wiring.Index == input);

    public Sample Sample(int index)
    {
        Inputs.CopyTo(_samples);
        return _samples[index];
    }

    public void Run(double fromS, double toS)
    {
        for (double t = fromS; t <= toS; t++)
        {
            House.At(t);
            foreach (BusWorker worker in Plan.Workers) StandInHouse.Poll(worker, t);
        }
    }

    public void SetFault(string device, BusFault fault) => House.SetFault(House.DeviceOf(device), fault);

    public void Dispose() => Plan.Dispose();

    public static DeviceSettings Chip(string name, string driver, params (string Key, string Value)[] settings)
    {
        SettingBag bag = OutputChips.Bag(Drivers.All.Single(one => one.Name == driver).Parameters);
        bag.Set("bus", "/dev/i2c-1");
        foreach ((string key, string value) in settings) bag.Set(key, value);
        return new DeviceSettings(name, driver, bag, new Dictionary<string, SettingBag>(), Here);
    }

    public static DeviceSettings Converter(string referenceInput = "nothing", params (string Name, SettingBag Channel)[] channels)
    {
        if (channels.Length == 0)
        {
            channels =
            [
                ("supply", Analog("a0", "ntc-10k-3435")), ("return", Analog("a1", "pt1000", ("series_resistance", 2200), ("lead_resistance", 1.5))),
                ("outdoor", Analog("a2", "ntc", "table", "0 °C 32650, 25 °C 10000, 60 °C 2488")), ("pressure", Analog("a3", "voltage", ("divider", 3), ("low_voltage", 2))),
            ];
            channels[3].Channel.Set("at_low", "0 kPa");
            channels[3].Channel.Set("at_high", "4 bar");
        }

        DeviceSettings device = Chip("analog", "ads1115", ("reference_input", referenceInput));
        return device with { Channels = channels.ToDictionary(one => one.Name, one => one.Channel) };
    }

    public static SettingBag Analog(string input, string sensor, params (string Key, double Value)[] numbers)
    {
        SettingBag bag = OutputChips.Bag(Drivers.All.Single(one => one.Name == "ads1115").ChannelParameters);
        bag.Set("input", input);
        bag.Set("sensor", sensor);
        foreach ((string key, double value) in numbers) bag.Set(key, value);
        return bag;
    }

    public static SettingBag Analog(string input, string sensor, string key, string value)
    {
        SettingBag bag = Analog(input, sensor);
        bag.Set(key, value);
        return bag;
    }

    public static PointWiring Input(int index, string id, string device, string channel, Quantity quantity = Quantity.Temperature)
        => new(id, false, index, quantity, device, channel, false, VoltageLine.ZeroToTen, double.NaN, Here);
}
