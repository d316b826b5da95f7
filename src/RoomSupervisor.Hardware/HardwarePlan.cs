// From the site's devices and wiring to bus workers. Builds all or nothing: with problems there are no workers. Knows no driver by name.
// It must never open a connection; the workers do when they are polled.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Something wrong with a device or a wiring.</summary>
/// <param name="Mark">Where it stands.</param>
/// <param name="Text">What is wrong and what to do.</param>
public sealed record PlanProblem(Mark Mark, string Text);

/// <summary>The hardware of a house: one worker a bus (a network device is a bus of its own, so that none delays another).</summary>
public sealed class HardwarePlan : IDisposable
{
    private readonly List<PlanProblem> problems = [];
    private readonly List<BusWorker> workers = [];

    private HardwarePlan()
    {
    }

    public IReadOnlyList<BusWorker> Workers => workers;

    /// <summary>Everything that is wrong; with any there are no workers.</summary>
    public IReadOnlyList<PlanProblem> Problems => problems;

    /// <summary>Builds the workers.</summary>
    /// <param name="devices">Devices of the site.</param>
    /// <param name="wiring">Which point is on which channel; the stage must be built from the same.</param>
    /// <param name="inputs">Where samples go.</param>
    /// <param name="leases">Where values of channels come from, numbered by <see cref="OutputChannels"/>.</param>
    /// <param name="buses">How buses and links are made; null: real ones. Rehearsals and tests give memory.</param>
    /// <param name="altitudeM">Height of the site, m: for sensors that go by the pressure of the air.</param>
    public static HardwarePlan Build(
        IReadOnlyList<DeviceSettings> devices, IReadOnlyList<PointWiring> wiring, InputImage inputs, OutputLeases leases, Buses? buses = null, double altitudeM = 0)
    {
        var plan = new HardwarePlan();
        var byName = devices.ToLookup(device => device.Name, StringComparer.Ordinal);
        foreach (var lost in wiring.Where(one => !byName.Contains(one.Device)))
            plan.problems.Add(new PlanProblem(lost.Mark, $"{lost.PointId} is wired to device {lost.Device}, which does not exist"));
        OutputChannel[] points = [.. wiring.Where(one => !one.IsOutput).Select(one => new OutputChannel(one, -1)), .. OutputChannels.Of(wiring)];
        List<(IDriver Driver, DeviceSettings Device, OutputChannel[] Points)> found = [];
        foreach (var device in devices)
        {
            OutputChannel[] own = [.. points.Where(one => one.Wiring.Device == device.Name)];
            if (plan.DriverOf(device) is not { } driver)
                continue;
            plan.problems.AddRange(driver.Check(device, own));
            plan.CheckPlace(driver, device, [.. found.Select(one => one.Device)]);
            found.Add((driver, device, own));
        }
        if (plan.problems.Count == 0)
            plan.Build(found, new DeviceParts(inputs, leases, buses ?? Buses.Real) { AltitudeM = altitudeM });
        return plan;
    }

    public void Dispose()
    {
        workers.ForEach(worker => worker.Dispose());
        workers.Clear();
    }

    private void Build(List<(IDriver Driver, DeviceSettings Device, OutputChannel[] Points)> found, DeviceParts parts)
    {
        foreach (var bus in found.GroupBy(one => one.Driver.BusOf(one.Device), StringComparer.Ordinal))
        {
            var shared = parts with { Buses = Shared(parts.Buses) };
            workers.Add(new BusWorker(bus.Key, [.. bus.Select(one => one.Driver.Build(one.Device, one.Points, shared))]));
        }
    }

    /// <summary>The devices of one worker use one and the same bus.</summary>
    private static Buses Shared(Buses buses)
    {
        I2c.II2cBus? opened = null;
        return buses with { I2c = path => opened ??= new I2c.I2cTree(buses.I2c(path)) };
    }

    private IDriver? DriverOf(DeviceSettings device)
    {
        var driver = Drivers.Kinds.FirstOrDefault(kind => kind.Declaration.Name == device.Driver);
        if (driver is null)
            problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: there is no driver {device.Driver}"));
        return driver;
    }

    private void CheckPlace(IDriver driver, DeviceSettings device, IReadOnlyList<DeviceSettings> others)
    {
        if (driver.Declaration.DevicePlace is not { } place)
            return;
        var twin = others.FirstOrDefault(other => Declared(other).DevicePlace?.Invoke(other.Settings) == place(device.Settings));
        if (twin is not null)
            problems.Add(new PlanProblem(device.Mark, $"device {device.Name} is at the same place as {twin.Name}, {place(device.Settings)}: one device an address"));
        else if (others.Select(other => driver.Declaration.Clash?.Invoke(device.Settings, other.Name, other.Settings)).FirstOrDefault(clash => clash is not null) is { } clash)
            problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: {clash}"));
    }

    private static DriverDeclaration Declared(DeviceSettings device) => Drivers.All.First(one => one.Name == device.Driver);
}
