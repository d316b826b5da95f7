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

    /// <summary>What is wrong with the device beyond what its declaration checks, or with a point wired to it; nothing when all is well.</summary>
    IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points);

    /// <summary>The device with its wired points (outputs with their lease). Called only when <see cref="Check"/> found nothing.</summary>
    IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts);
}

/// <summary>What devices are built with.</summary>
/// <param name="Inputs">Where samples go.</param>
/// <param name="Leases">Where values of channels come from.</param>
/// <param name="Buses">How buses and links are made.</param>
public sealed record DeviceParts(InputImage Inputs, OutputLeases Leases, Buses Buses)
{
    /// <summary>Height of the site above the sea, m.</summary>
    public double AltitudeM { get; init; }
}
