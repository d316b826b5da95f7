// Whether every device with outputs is said to drop them by itself when the board dies. A warning only: nobody can see from here how a
// module is set up. Needs no house.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class TimeOutChecks
{
    /// <summary>Warns of each device that carries an output and whose own time-out is not said, where its driver knows of one, or that cannot have one.</summary>
    public static void Check(Problems problems, IEnumerable<DeviceSettings> devices, IReadOnlyList<DriverDeclaration> drivers, IEnumerable<PointSpec> specs)
    {
        var withOutputs = specs.Where(spec => spec.Name.IsOutput).Select(spec => spec.Device).ToHashSet(StringComparer.Ordinal);
        foreach (var device in devices.Where(device => withOutputs.Contains(device.Name)))
        {
            var driver = drivers.First(driver => driver.Name == device.Driver);
            if (driver.KeepsOutputs)
                problems.Warn(device.Mark, $"devices.{device.Name}", "", "has no time-out of its own: if the board dies, its outputs stay as they are", "cut the supply of what hangs on it by the relay of site.health.ok (it falls off in frost too: a frost thermostat must then lead past it to what keeps frost out; wiring lists it), or use it only where that does no harm");
            if (driver.OwnTimeOutKey is not { } key || IsSaid(device.Settings, key))
                continue;
            problems.Warn(
                device.Mark, $"devices.{device.Name}.{key}", "", "is not said: if the board dies, its outputs stay as they are",
                $"set the module up to switch its outputs off when nobody talks to it, and write how soon, such as {key}: 60 s");
        }
    }

    private static bool IsSaid(SettingBag settings, string key) => settings.Has(key) && !double.IsNaN(settings.Number(key));
}
