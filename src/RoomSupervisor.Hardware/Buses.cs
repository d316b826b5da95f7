// How the ways to devices are made, so that everything above them is the same over wires and in memory.
// It must never open anything: buses and links are opened when first used.
using RoomSupervisor.Hardware.Gpio;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.OneWire;
using RoomSupervisor.Hardware.Pwm;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>How buses and links are made: real ones unless told otherwise; rehearsals and tests give memory. Buses are opened when first used.</summary>
public sealed record Buses
{
    /// <summary>The real ones.</summary>
    public static Buses Real { get; } = new();

    /// <summary>Makes the link of a Modbus device: a TCP connection to its host and port, or a serial line. Called once a worker: units on one line share it.</summary>
    public Func<DeviceSettings, IModbusLink> Modbus { get; init; }
        = device => device.Driver == ModbusRtuDriver.Name
            ? new ModbusRtuLink(new SerialChannel(ModbusRtuDriver.LineOf(device.Settings)), ModbusRtuDriver.LineOf(device.Settings))
            : new ModbusTcpLink(new SocketChannel(device.Settings.Text("host"), (int)device.Settings.Number("port")));

    /// <summary>Makes the I2C bus of a path; called once a device, and may give the same bus again.</summary>
    public Func<string, II2cBus> I2c { get; init; } = path => new LinuxI2cBus(path);

    /// <summary>Makes the gpio chip of a path.</summary>
    public Func<string, IGpioChip> Gpio { get; init; } = path => new LinuxGpioChip(path);

    /// <summary>Makes the pwm chip of a folder.</summary>
    public Func<string, IPwmChip> Pwm { get; init; } = path => new SysfsPwmChip(path);

    /// <summary>Makes the way to the sensors below a folder of the kernel's 1-Wire; called once a device.</summary>
    public Func<string, IOneWireFiles> OneWire { get; init; } = root => new LinuxOneWireFiles(root);
}
