// The driver "modbus-tcp": what the site file may say of such a device and of its registers, checked, and the device built from it.
// It must never open a connection: the device does when it is first polled.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The driver for devices that speak Modbus TCP.</summary>
public sealed class ModbusTcpDriver : IDriver
{
    /// <summary>The word in <c>driver:</c>.</summary>
    public const string Name = "modbus-tcp";

    private const string OwnTimeOut = "own_time_out";

    internal const string Coil = "coil", DiscreteInput = "discrete-input", HoldingRegister = "holding-register", InputRegister = "input-register";

    public static DriverDeclaration Declaration { get; } = new(
        Name, "An input and output module, gateway or sensor on the network that speaks Modbus TCP.",
        [
            Text("host", "Network name or address of the device.", required: true, example: "192.0.2.10"),
            Number("port", Quantity.Number, 502, 1, 65535, "TCP port."),
            Number("unit", Quantity.Number, 1, 0, 255, "Unit number: the device's own, or that of the device behind a gateway."),
            Number(TimeoutWord, Quantity.Duration, 1, 0.05, 10, "Longest time a whole request may take, connecting included."),
            Number(Interval, Quantity.Duration, 1, 0.1, 60, "How often inputs are read."),
            RetryAtMostKey,
            Number(OwnTimeOut, Quantity.Duration, double.NaN, 1, 600, "Time after which the module itself switches its outputs off when nobody talks to it; set it up at the module.", example: "60 s"),
        ],
        "registers",
        [
            Choice("table", null, [Coil, DiscreteInput, HoldingRegister, InputRegister], "Which of the device's four tables. Outputs go to coil or holding-register."),
            Number("address", Quantity.Number, double.NaN, 0, 65535, "Address as it goes over the wire, counted from 0 (register 40001 is address 0).", required: true, example: "0"),
            Choice("type", "u16", ["u16", "s16"], "Whole number 0 to 65535 (u16) or −32768 to 32767 (s16). For registers only."),
            Text("scale", "What one step of the register means: 1 mV, 0.1 °C, 0.1 %, or 1 for a plain number.", fallback: "1"),
        ],
        [])
    {
        OwnTimeOutKey = OwnTimeOut,
        CheckDevice = CheckHost,
        CheckChannel = Check,
        ChannelPlace = channel => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{channel.Text("table")} {channel.Number("address")}"),
        ChannelCanWrite = channel => channel.Text("table") is Coil or HoldingRegister,
        ChannelQuantity = channel => IsBit(channel) ? Quantity.Switch : ScaleOf(channel).Quantity,
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    /// <summary>A device of the network is a bus of its own, so that none delays another.</summary>
    public string BusOf(DeviceSettings device) => device.Name;

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        foreach (var key in (string[])["port", "unit"])
        {
            if (device.Settings.Number(key) != Math.Floor(device.Settings.Number(key)))
                yield return new PlanProblem(device.Mark, $"device {device.Name}: {key} is not a whole number");
        }
        var taken = new Dictionary<(RegisterTable, int), PointWiring>();
        foreach (var point in points)
        {
            if (Wrong(device, point.Wiring, taken) is { } problem)
                yield return new PlanProblem(point.Wiring.Mark, problem);
        }
    }

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var unit = new ModbusUnit(parts.Buses.Modbus(device), (byte)device.Settings.Number("unit"));
        var wired = points.Select(point => (RegisterChannel.From(point.Wiring.Channel, device.Channels[point.Wiring.Channel]), point));
        return new ModbusDevice(device.Name, unit, TimesOf(device.Settings), [.. wired], parts);
    }

    private static string? Wrong(DeviceSettings device, PointWiring wiring, Dictionary<(RegisterTable, int), PointWiring> taken)
    {
        if (!device.Channels.TryGetValue(wiring.Channel, out var bag))
            return $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have";
        if (Check(bag) is { } wrong)
            return $"channel {wiring.Channel}: {wrong}";
        var channel = RegisterChannel.From(wiring.Channel, bag);
        if (channel.Mismatch(wiring) is { } mismatch)
            return mismatch;
        return wiring.IsOutput && !taken.TryAdd((channel.Table, channel.Address), wiring)
            ? $"{wiring.PointId} would write the same {bag.Text("table")} {channel.Address} as {taken[(channel.Table, channel.Address)].PointId}: one output an address" : null;
    }

    internal static bool IsBit(SettingBag channel) => channel.Text("table") is Coil or DiscreteInput;

    internal static RegisterScale ScaleOf(SettingBag channel) => RegisterScale.TryRead(channel.Text("scale"), out var scale, out _) ? scale : RegisterScale.One;

    private static string? CheckHost(SettingBag device)
    {
        var host = device.Text("host");
        if (System.Net.IPAddress.TryParse(host, out _))
            return null;
        if (host.Contains('/', StringComparison.Ordinal) || host.Contains(' ', StringComparison.Ordinal))
            return $"host \"{host}\" is no name or address: write it alone, such as 192.0.2.10";
        if (host.Contains(':', StringComparison.Ordinal))
            return $"host \"{host}\" holds a colon: the port has its own key, port";
        return host.All(c => char.IsAsciiDigit(c) || c == '.') ? $"host \"{host}\" is no address: four numbers from 0 to 255, such as 192.0.2.10" : null;
    }

    private static string? Check(SettingBag channel)
    {
        if (channel.Number("address") != Math.Floor(channel.Number("address")))
            return "address is not a whole number: write it as in the device's register list, counted from 0";
        if (!RegisterScale.TryRead(channel.Text("scale"), out var scale, out var problem))
            return "scale " + problem;
        if (!IsBit(channel))
            return null;
        if (channel.Text("type") != "u16")
            return $"type is for registers only: a {channel.Text("table")} is on or off, leave type out";
        return scale == RegisterScale.One ? null : $"scale is for registers only: a {channel.Text("table")} is on or off, leave scale out";
    }
}
