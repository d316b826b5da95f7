// What a driver tells of itself and builds: all that HardwarePlan knows of a kind of device. A driver is one class and one line in Drivers.
// It must never open anything: devices are opened when they are first polled.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>A kind of device.</summary>
public interface IDriver
{
    /// <summary>What a site file may say of it.</summary>
    DriverDeclaration Declaration { get; }

    /// <summary>Name of the bus the device is on. Devices on one bus share one worker; a device on a line of its own gives its own name.</summary>
    string BusOf(DeviceSettings device);

    /// <summary>What is wrong with the device or with a point wired to it; nothing when all is well.</summary>
    IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points);

    /// <summary>The device with its wired points (outputs with their lease). Called only when <see cref="Check"/> found nothing.</summary>
    IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts);
}

/// <summary>What devices are built with.</summary>
/// <param name="Inputs">Where samples go.</param>
/// <param name="Leases">Where values of channels come from.</param>
/// <param name="Buses">How buses and links are made.</param>
public sealed record DeviceParts(InputImage Inputs, OutputLeases Leases, Buses Buses);

/// <summary>How buses and links are made: real ones unless told otherwise; rehearsals and tests give memory. Buses are opened when first used.</summary>
public sealed record Buses
{
    /// <summary>The real ones.</summary>
    public static Buses Real { get; } = new();

    /// <summary>Makes the link of a Modbus device: a TCP connection to its host and port.</summary>
    public Func<DeviceSettings, Modbus.IModbusLink> Modbus { get; init; }
        = device => new Modbus.ModbusTcpLink(new Modbus.SocketChannel(device.Settings.Text("host"), (int)device.Settings.Number("port")));

    /// <summary>Makes the I2C bus of a path; called once a device, and may give the same bus again.</summary>
    public Func<string, I2c.II2cBus> I2c { get; init; } = path => new I2c.LinuxI2cBus(path);
}
