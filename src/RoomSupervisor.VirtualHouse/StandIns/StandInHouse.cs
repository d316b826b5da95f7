// The devices of a site in memory, byte by byte: the real drivers and bus workers talk to them, in virtual time.
// Must never be reachable from the verb that runs a real house; has no thread and no clock, and allocates nothing once it is built.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// A stand-in for every device of a site, with a way to set what its inputs measure, to look at what its outputs put out, and to break it.
/// For one thread.
/// </summary>
public sealed class StandInHouse
{
    // More chips than fit on a bus are never ready one after the other; it only keeps a fault of ours from going on for ever.
    private const int MostTurns = 128;

    private readonly StandIn[] _devices;
    private readonly Dictionary<string, int> _byName;
    private readonly Tie[][] _inputs;
    private readonly Tie[] _outputs;
    private MemoryChannel[] _lines = [];

    private readonly record struct Tie(StandIn Device, int Channel, PointWiring Wiring);

    private StandInHouse(StandIn[] devices, Dictionary<string, int> byName, IReadOnlyList<PointWiring> wiring, Buses buses)
    {
        (_devices, _byName, Buses) = (devices, byName, buses);
        Tie To(PointWiring one) => new(devices[byName[one.Device]], devices[byName[one.Device]].ChannelOf(one.Channel), one);
        ILookup<int, PointWiring> inputs = wiring.Where(one => !one.IsOutput).ToLookup(one => one.Index);
        _inputs = [.. Enumerable.Range(0, inputs.Select(one => one.Key + 1).DefaultIfEmpty().Max()).Select(i => inputs[i].Select(To).ToArray())];
        Outputs = [.. OutputChannels.Of(wiring).Select(one => one.Wiring)];
        _outputs = [.. Outputs.Select(To)];
    }

    /// <summary>For <c>HardwarePlan.Build</c>, in place of the real buses.</summary>
    public Buses Buses { get; }

    /// <summary>Names of the devices, in the order of the site; their numbers are what faults are set by.</summary>
    public IReadOnlyList<string> Devices => [.. _byName.Keys];

    /// <summary>The wiring of each output channel as its device sees it, in the order of the leases (<see cref="OutputChannels.Of"/>); <see cref="Output"/> counts like this.</summary>
    public IReadOnlyList<PointWiring> Outputs { get; }

    /// <summary>Builds a stand-in for each device. The site must be sound (<c>HardwarePlan.Build</c> finds no problem).</summary>
    /// <param name="devices">Devices of the site.</param>
    /// <param name="wiring">Its wiring: the same that plan and stage are built from.</param>
    /// <exception cref="ArgumentException">There is no stand-in for a driver, or a channel is not there.</exception>
    public static StandInHouse Build(IReadOnlyList<DeviceSettings> devices, IReadOnlyList<PointWiring> wiring)
    {
        ArgumentNullException.ThrowIfNull(devices);
        ArgumentNullException.ThrowIfNull(wiring);
        var byName = new Dictionary<string, int>(StringComparer.Ordinal);
        StandIn[] standIns = [.. devices.Select(device => Of(device, wiring))];
        foreach (DeviceSettings device in devices) byName.Add(device.Name, byName.Count);
        foreach (PointWiring one in wiring)
        {
            if (!byName.TryGetValue(one.Device, out int at) || standIns[at].ChannelOf(one.Channel) < 0)
                throw new ArgumentException($"{one.PointId} is wired to channel {one.Channel} of {one.Device}, which is not there");
        }

        Dictionary<string, I2cBusStandIn> buses = devices.Zip(standIns).Where(one => one.Second is I2cStandIn).GroupBy(one => I2cStandIns.BusOf(one.First))
            .ToDictionary(bus => bus.Key, bus => new I2cBusStandIn(I2cStandIns.OnBus(bus.Select(one => (one.First, (I2cStandIn)one.Second)))), StringComparer.Ordinal);
        Dictionary<string, (IModbusLink Link, MemoryChannel Channel)> lines = devices.Zip(standIns).Where(one => one.First.Driver == ModbusRtuDriver.Name)
            .GroupBy(one => ModbusRtuDriver.LineOf(one.First.Settings).Port)
            .ToDictionary(line => line.Key, line => ModbusStandIn.Line(ModbusRtuDriver.LineOf(line.First().First.Settings), line.Select(one => (ModbusStandIn)one.Second)), StringComparer.Ordinal);
        Dictionary<string, OneWireStandIn> oneWire = devices.Zip(standIns).Where(one => one.Second is OneWireStandIn)
            .ToDictionary(one => $"{one.First.Settings.Text("master")}/{one.First.Settings.Text("sensor")}", one => (OneWireStandIn)one.Second, StringComparer.Ordinal);
        return new StandInHouse(standIns, byName, wiring, new Buses
        {
            Modbus = device => device.Driver == ModbusRtuDriver.Name
                ? lines[ModbusRtuDriver.LineOf(device.Settings).Port].Link : ((ModbusStandIn)standIns[byName[device.Name]]).Link(),
            I2c = path => buses[path],
            OneWire = _ => new OneWireFilesStandIn(oneWire),
            Gpio = path => standIns.OfType<GpioStandIn>().Single(one => one.Chip == path),
            Pwm = path => standIns.OfType<PwmStandIn>().Single(one => one.Chip == path),
        })
        {
            _lines = [.. lines.Values.Select(line => line.Channel)],
        };
    }

    /// <summary>Sets the moment. Call it before the workers are polled at it: modules with a time-out of their own watch the time.</summary>
    /// <param name="nowS">Monotonic seconds, never less than before.</param>
    public void At(double nowS)
    {
        foreach (MemoryChannel line in _lines) line.At(nowS);
        foreach (StandIn device in _devices) device.At(nowS);
    }

    /// <summary>Sets what an input measures from now on, on every channel it is wired to; an input that is not wired is passed over.</summary>
    /// <param name="point">Index of the input in the house's table.</param>
    /// <param name="value">In the point's own unit and meaning (°C, %, V; 1 is door open, limit tripped, whatever the contact does at rest); not a
    /// number: the sensor itself is broken, and the device says so in its way.</param>
    public void SetInput(int point, double value)
    {
        if (point >= _inputs.Length) return;
        foreach (Tie tie in _inputs[point])
            tie.Device.Put(tie.Channel, double.IsNaN(value) || tie.Wiring.Quantity != Quantity.Switch ? value : value >= 0.5 != tie.Wiring.Inverted ? 1 : 0);
    }

    /// <summary>What is on the wire of an output channel now: volts, 0 or 1 for a relay or coil that is off or drawn, °C, %.</summary>
    /// <param name="channel">Number of its lease; its wiring is <see cref="Outputs"/> at the same place.</param>
    public double Output(int channel) => _outputs[channel].Device.Get(_outputs[channel].Channel);

    /// <summary>
    /// What the wire asks of the thing at its end: percent where the wire carries volts (by the wiring's line, 0 at or under the rest voltage), the
    /// meaning of a switch with its inversion taken out, else the value itself.
    /// </summary>
    /// <param name="channel">Number of its lease.</param>
    public double Asked(int channel)
    {
        ref readonly Tie tie = ref _outputs[channel];
        double wire = tie.Device.Get(tie.Channel);
        if (tie.Wiring.Quantity == Quantity.Switch) return wire >= 0.5 != tie.Wiring.Inverted ? 1 : 0;
        if (tie.Device.CarriesPulses) return tie.Wiring.Shape.Kind == OutputKind.Pwm ? wire : Percent(tie.Wiring.Line, wire / 10);
        return tie.Wiring.Quantity == Quantity.Percent && tie.Device.CarriesVolts(tie.Channel) ? Percent(tie.Wiring.Line, wire) : wire;
    }

    /// <summary>Volts on the wire of an output channel; NaN: it carries something else.</summary>
    /// <param name="channel">Number of its lease.</param>
    public double Volts(int channel)
    {
        ref readonly Tie tie = ref _outputs[channel];
        return tie.Wiring.Quantity == Quantity.Percent && !tie.Device.CarriesPulses && tie.Device.CarriesVolts(tie.Channel) ? tie.Device.Get(tie.Channel) : double.NaN;
    }

    /// <summary>Makes an output stay as it is whatever is written, or lets it go again.</summary>
    /// <param name="channel">Number of its lease.</param>
    /// <param name="jammed">Stays from now on.</param>
    /// <exception cref="NotSupportedException">Its device cannot be read back: nobody could tell.</exception>
    public void Jam(int channel, bool jammed) => _outputs[channel].Device.Jam(_outputs[channel].Channel, jammed);

    /// <summary>Number of a device; −1 when there is none of that name.</summary>
    public int DeviceOf(string name) => _byName.GetValueOrDefault(name, -1);

    /// <summary>What is wrong with a device from now on.</summary>
    /// <param name="device">Number of the device.</param>
    /// <param name="fault">None: it is mended.</param>
    /// <exception cref="ArgumentException">Such a device cannot have that fault; ask <see cref="CanHave"/>.</exception>
    public void SetFault(int device, BusFault fault)
    {
        if (!_devices[device].CanHave(fault)) throw new ArgumentException($"{Devices[device]} cannot have the fault {fault}");
        _devices[device].Fault = fault;
    }

    /// <summary>What is wrong with a device now.</summary>
    public BusFault FaultOf(int device) => _devices[device].Fault;

    /// <summary>True when a device can have a fault: one that sends nothing has no checksum to spoil.</summary>
    public bool CanHave(int device, BusFault fault) => _devices[device].CanHave(fault);

    /// <summary>
    /// Polls a bus at a moment, and again at whatever becomes due within a little while: so that measurements begun are collected before the
    /// inputs are looked at. A thread would do the same in real time.
    /// </summary>
    /// <param name="worker">The bus.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="withinS">How long after it, s; measuring chips take up to 0.02.</param>
    /// <returns>The moment from which the bus is free again: after <paramref name="nowS"/> where a device took its time-out.</returns>
    public static double Poll(Hardware.BusWorker worker, double nowS, double withinS = 0.1)
    {
        ArgumentNullException.ThrowIfNull(worker);
        double at = nowS + worker.Poll(nowS);
        for (int turn = 0; turn < MostTurns; turn++)
        {
            double due = Math.Max(at, worker.NextDueS);
            if (due > nowS + withinS) break;
            at = due + worker.Poll(due);
        }

        return at;
    }

    private static StandIn Of(DeviceSettings device, IReadOnlyList<PointWiring> wiring) => device.Driver switch
    {
        "modbus-tcp" or "modbus-rtu" => ModbusStandIn.Of(device, OutputsOf(device, wiring)),
        "sht4x" => new Sht4xStandIn(I2cStandIns.AddressOf(device)),
        "sht3x" => new Sht3xStandIn(I2cStandIns.AddressOf(device)),
        "bme280" => new Bme280StandIn(I2cStandIns.AddressOf(device)),
        "hts221" => new Hts221StandIn(I2cStandIns.AddressOf(device)),
        "scd4x" => new Scd4xStandIn(I2cStandIns.AddressOf(device)),
        "ads1115" => new AnalogStandIn(I2cStandIns.AddressOf(device), device),
        "ds3231" => new ClockChipStandIn(I2cStandIns.AddressOf(device)),
        "one-wire-thermometer" => new OneWireStandIn(),
        "dac-0-10v" => new VoltageOutputStandIn(I2cStandIns.AddressOf(device)),
        "mcp4728" => QuadVoltageStandIn.Of(device),
        "pca9685" => new PwmChipStandIn(I2cStandIns.AddressOf(device)),
        "mcp23017" => RegisterExpanderStandIn.Of(device, OutputsOf(device, wiring)),
        "pcf8574" => PlainExpanderStandIn.Of(device, OutputsOf(device, wiring)),
        "gpio" => new GpioStandIn(device, OutputsOf(device, wiring)),
        "pwm" => new PwmStandIn(device),
        _ => throw new ArgumentException($"there is no stand-in for a device of driver {device.Driver}"),
    };

    private static HashSet<string> OutputsOf(DeviceSettings device, IReadOnlyList<PointWiring> wiring)
        => wiring.Where(one => one.IsOutput && one.Device == device.Name).Select(one => one.Channel).ToHashSet(StringComparer.Ordinal);

    private static double Percent(in VoltageLine line, double volts)
    {
        if (volts <= line.RestVoltageV || volts < line.StartVoltageV - 0.01) return 0;
        double share = (volts - line.StartVoltageV) / (line.FullVoltageV - line.StartVoltageV);
        return Math.Clamp(line.StartPercent + share * (100 - line.StartPercent), 0, 100);
    }
}
