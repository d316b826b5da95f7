// Every driver there is. A new driver is one file, one test file and one line here.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>The drivers, for the site reader and for <see cref="HardwarePlan"/>.</summary>
public static class Drivers
{
    /// <summary>Declarations of all drivers: what a site file may say of a device.</summary>
    public static IReadOnlyList<DriverDeclaration> All { get; } = [ModbusTcpDriver.Declaration];
}
