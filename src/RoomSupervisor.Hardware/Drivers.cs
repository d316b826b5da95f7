// Every driver there is. A new driver is one file, one test file and one line here.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Expanders;
using RoomSupervisor.Hardware.Gpio;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.OneWire;
using RoomSupervisor.Hardware.Pwm;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>The drivers, for the site reader and for <see cref="HardwarePlan"/>.</summary>
public static class Drivers
{
    /// <summary>All drivers.</summary>
    public static IReadOnlyList<IDriver> Kinds { get; } =
    [
        new ModbusTcpDriver(), new ModbusRtuDriver(), HumidityChipDriver.Sht4x, HumidityChipDriver.Sht3x, new VoltageOutputDriver(),
        new QuadVoltageDriver(),
        new PwmChipDriver(),
        PortExpanderDriver.Mcp23017,
        PortExpanderDriver.Pcf8574,
        new GpioDriver(),
        new PwmDriver(),
        new Bme280Driver(),
        new Hts221Driver(),
        new Scd4xDriver(),
        new AnalogDriver(),
        new OneWireDriver(),
        new ClockChipDriver(),
    ];

    /// <summary>Declarations of all drivers: what a site file may say of a device.</summary>
    public static IReadOnlyList<DriverDeclaration> All { get; } = [.. Kinds.Select(kind => kind.Declaration)];
}
