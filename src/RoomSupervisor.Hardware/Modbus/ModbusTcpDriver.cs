// The driver "modbus-tcp": where such a device is, checked, and the device built from it. Its registers: ModbusKeys.
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

    public static DriverDeclaration Declaration { get; } = ModbusKeys.Declare(
        Name, "An input and output module, gateway or sensor on the network that speaks Modbus TCP.",
        [
            Text("host", "Network name or address of the device.", required: true, example: "192.0.2.10"),
            Number("port", Quantity.Number, 502, 1, 65535, "TCP port."),
            Number("unit", Quantity.Number, 1, 0, 255, "Unit number: the device's own, or that of the device behind a gateway."),
            Number(TimeoutWord, Quantity.Duration, 1, 0.05, 10, "Longest time a whole request may take, connecting included."),
        ],
        CheckHost);

    DriverDeclaration IDriver.Declaration => Declaration;

    /// <summary>A device of the network is a bus of its own, so that none delays another.</summary>
    public string BusOf(DeviceSettings device) => device.Name;

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var port = device.Settings.Number("port");
        IEnumerable<PlanProblem> own = port == Math.Floor(port) ? [] : [new PlanProblem(device.Mark, $"device {device.Name}: port is not a whole number")];
        return own.Concat(ModbusKeys.WrongPoints(device, points));
    }

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts) => ModbusKeys.Build(device, points, parts);

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
}
