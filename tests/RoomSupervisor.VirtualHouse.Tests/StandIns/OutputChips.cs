// One output or input chip with its stand-in behind a bus that writes down every byte. For the tests of output chips only.
using System.Globalization;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

/// <summary>One device of one driver, wired as told, with what goes over its bus.</summary>
internal sealed class OutputChips : IDisposable
{
    private static readonly Mark Here = new("site.yaml", 1, 1);
    private readonly Sample[] _samples;

    /// <param name="driver">Its driver.</param>
    /// <param name="settings">Keys of the device, beyond its defaults.</param>
    /// <param name="channels">Listed channels with their keys.</param>
    /// <param name="wiring">Points, by channel.</param>
    public OutputChips(string driver, (string Key, object Value)[] settings, (string Name, (string Key, object Value)[] Keys)[] channels, params PointWiring[] wiring)
    {
        DriverDeclaration declaration = Drivers.All.Single(one => one.Name == driver);
        Settings = new("it", driver, Bag(declaration.Parameters, settings), channels.ToDictionary(one => one.Name, one => Bag(declaration.ChannelParameters, one.Keys)), Here);
        House = StandInHouse.Build([Settings], wiring);
        Inputs = new InputImage(wiring.Count(one => !one.IsOutput));
        Leases = new OutputLeases(OutputChannels.CountOf(wiring));
        _samples = new Sample[Inputs.Count];
        Buses = House.Buses with { I2c = path => new Noted(this, House.Buses.I2c(path)) };
        Plan = HardwarePlan.Build([Settings], wiring, Inputs, Leases, Buses);
        Assert.Empty(Plan.Problems);
    }

    public DeviceSettings Settings { get; }

    public StandInHouse House { get; }

    public Buses Buses { get; }

    public InputImage Inputs { get; }

    public OutputLeases Leases { get; }

    public HardwarePlan Plan { get; }

    /// <summary>What was written, as hexadecimal digits, a transfer each; readings are "r" and their length.</summary>
    public List<string> Bytes { get; } = [];

    /// <summary>Called before each transfer.</summary>
    public Action Before { get; set; } = () => { };

    public IBusDevice Device => Plan.Workers[0].Devices[0];

    public static PointWiring Input(string channel, int index, bool inverted = false)
        => new($"hall.{channel}", false, index, Quantity.Switch, "it", channel, inverted, VoltageLine.ZeroToTen, double.NaN, Here);

    public static PointWiring Relay(string channel, int index, bool inverted = false, double safe = 0)
        => new($"hall.{channel}", true, index, Quantity.Switch, "it", channel, inverted, VoltageLine.ZeroToTen, safe, Here);

    public static PointWiring Percent(string channel, int index, VoltageLine? line = null)
        => new($"hall.{channel}", true, index, Quantity.Percent, "it", channel, false, line ?? VoltageLine.ZeroToTen, 0, Here);

    public Sample Sample(int index)
    {
        Inputs.CopyTo(_samples);
        return _samples[index];
    }

    public ChannelHealth Channel(int index) => Device.Channel(index);

    public void Put(int lease, double value, double nowS, double lifeS = 1000) => Leases.Put(lease, new Command(value, new Reason(Cause.CoilCarries), default, 0), nowS, lifeS);

    public void Poll(double nowS)
    {
        House.At(nowS);
        Plan.Workers[0].Poll(nowS);
    }

    public void Run(double fromS, double toS, double stepS = 0.5)
    {
        for (double t = fromS; t <= toS + 1e-9; t += stepS) Poll(t);
    }

    public void Fault(BusFault fault) => House.SetFault(0, fault);

    public void Dispose() => Plan.Dispose();

    /// <summary>Defaults, then what is told; numbers and texts as the reader would bind them.</summary>
    public static SettingBag Bag(IEnumerable<Parameter<SettingBag>> parameters, params (string Key, object Value)[] told)
    {
        var bag = new SettingBag();
        foreach (Parameter<SettingBag> one in parameters)
        {
            object? value = told.Where(pair => pair.Key == one.Key).Select(pair => pair.Value).LastOrDefault();
            if (one.Quantity != Quantity.Text) one.SetNumber!(bag, value is null ? one.Default : Convert.ToDouble(value, CultureInfo.InvariantCulture));
            else if ((value as string ?? one.DefaultText) is { } text) one.SetText!(bag, text);
        }

        return bag;
    }

    private sealed class Noted(OutputChips rig, II2cBus inner) : II2cBus
    {
        public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
        {
            rig.Before();
            rig.Bytes.Add(Convert.ToHexStringLower(bytes));
            return inner.Write(address, bytes, nowS, deadlineS);
        }

        public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
        {
            rig.Before();
            rig.Bytes.Add(FormattableString.Invariant($"r{into.Length}"));
            return inner.Read(address, into, nowS, deadlineS);
        }

        public void Dispose() => inner.Dispose();
    }
}

/// <summary>The example with all drivers of outputs, on stand-ins.</summary>
internal sealed class StudioHouse : IDisposable
{
    public StudioHouse()
    {
        Files = SiteReader.Read(Path.Combine(Data.Root, "config", "garden-studio"), Drivers.All).Files!;
        House = StandInHouse.Build(Files.Devices, Files.Wiring);
        Leases = new OutputLeases(House.Outputs.Count);
        Plan = HardwarePlan.Build(Files.Devices, Files.Wiring, new InputImage(Files.House.InputTable.Count), Leases, House.Buses);
        Assert.Empty(Plan.Problems);
    }

    public SiteFiles Files { get; }

    public StandInHouse House { get; }

    public OutputLeases Leases { get; }

    public HardwarePlan Plan { get; }

    public IBusDevice Device(string name) => Plan.Workers.SelectMany(worker => worker.Devices).Single(one => one.Name == name);

    /// <summary>Seconds with everything at half or on; of relays that exclude each other the first.</summary>
    public void Run(int fromS, int toS)
    {
        for (int t = fromS; t <= toS; t++)
        {
            for (int i = 0; i < Leases.Count; i++)
            {
                PointWiring wiring = House.Outputs[i];
                double value = wiring.Role == ChannelRole.Shuts || wiring.Step > 1 ? 0 : wiring.Quantity == Quantity.Switch ? 1 : 50;
                Leases.Put(i, new Command(value, default, default, 0), t, 5);
            }

            House.At(t);
            for (int i = 0; i < Plan.Workers.Count; i++) StandInHouse.Poll(Plan.Workers[i], t);
        }
    }

    public void Dispose() => Plan.Dispose();
}
