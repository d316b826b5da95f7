// The driver "modbus-rtu": on which serial line such a device is and how the line is set, checked, and the device built from it. Its registers:
// ModbusKeys. It must never open a port: the line's worker does when it is first polled.
using System.Globalization;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The driver for devices on a serial line that speak Modbus RTU.</summary>
public sealed class ModbusRtuDriver : IDriver
{
    /// <summary>The word in <c>driver:</c>.</summary>
    public const string Name = "modbus-rtu";

    private const string Port = "port", Baud = "baud", Parity = "parity", StopBits = "stop_bits", Unit = "unit";

    public static DriverDeclaration Declaration { get; } = ModbusKeys.Declare(
        Name, "An input and output module or sensor on a serial line (RS-485) that speaks Modbus RTU.",
        [
            Text(Port, "Serial port by its unchanging name under /dev/serial/by-id, or /dev/ttyAMA0 and the like for a port of the board.", required: true,
                example: "/dev/serial/by-id/usb-line-1", more: "All devices on one port share one worker, and speed, parity and stop bits. The service's user needs permission to open it (group dialout)"),
            Choice(Baud, null, [.. SerialLine.Speeds.Select(speed => speed.ToString(CultureInfo.InvariantCulture))], "Bits a second, as set at the device."),
            Choice(Parity, null, ["none", "even", "odd"], "Parity bit, as set at the device."),
            Choice(StopBits, "1", ["1", "2"], "Stop bits, as set at the device; many count 1 even without parity."),
            Number(Unit, Quantity.Number, double.NaN, 1, 247, "Unit number, as set at the device.", required: true, example: "1"),
            Number(TimeoutWord, Quantity.Duration, 0.5, 0.05, 10, "Longest time a whole request may take, its characters on the wire included."),
        ],
        CheckPort) with
    {
        DevicePlace = device => string.Create(CultureInfo.InvariantCulture, $"{device.Text(Port)} unit {device.Number(Unit)}"),
        SharedPlace = device => device.Text(Port),
        SharedKeys = [Baud, Parity, StopBits],
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    /// <summary>The line of a device.</summary>
    public static SerialLine LineOf(SettingBag device) => new(
        device.Text(Port), int.Parse(device.Text(Baud), CultureInfo.InvariantCulture), Enum.Parse<SerialParity>(device.Text(Parity), ignoreCase: true),
        int.Parse(device.Text(StopBits), CultureInfo.InvariantCulture));

    /// <summary>All devices on one port share one worker and one link.</summary>
    public string BusOf(DeviceSettings device) => device.Settings.Text(Port);

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
        => ModbusKeys.WrongPoints(device, points).Concat(TooShort(device, points));

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts) => ModbusKeys.Build(device, points, parts);

    private static string? CheckPort(SettingBag device)
        => device.Text(Port).StartsWith('/') ? null : $"port \"{device.Text(Port)}\" is no path: write it in full, such as /dev/serial/by-id/usb-line-1 (ls /dev/serial/by-id lists them)";

    /// <summary>A time-out shorter than the characters need on the wire could never be kept.</summary>
    private static IEnumerable<PlanProblem> TooShort(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var inputs = points.Where(point => !point.Wiring.IsOutput && device.Channels.ContainsKey(point.Wiring.Channel))
            .Select(point => new WiredInput(ModbusKeys.ChannelOf(point.Wiring.Channel, device.Channels[point.Wiring.Channel]), point.Wiring, 0));
        var longest = ReadBlock.Group(inputs, ModbusKeys.JoinGapOf(device.Settings)).Select(block => block.IsBits ? (block.Count + 7) / 8 : 2 * block.Count).DefaultIfEmpty(0).Max();
        var (neededS, line, timeoutS) = (LineOf(device.Settings).ReadS(longest), LineOf(device.Settings), device.Settings.Number(TimeoutWord));
        if (neededS > 0.8 * timeoutS)
            yield return new PlanProblem(device.Mark, string.Create(
                CultureInfo.InvariantCulture,
                $"device {device.Name}: timeout {timeoutS} s is too short: at {line.Baud} baud its longest request takes {neededS:0.00} s on the wire alone; write at least {Math.Ceiling(neededS / 0.8 * 20) / 20:0.00} s, or a higher baud"));
    }
}
