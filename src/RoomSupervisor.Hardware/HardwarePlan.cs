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
    private readonly List<Func<BusWorker>> makers = [];
    private volatile BusWorker[] workers = [];

    private HardwarePlan()
    {
    }

    /// <summary>The workers now; <see cref="Replace"/> puts another in the place of one. Any thread.</summary>
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
            if (driver.Declaration.CheckDevice?.Invoke(device.Settings) is { } wrong)
                plan.problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: {wrong}"));
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
        foreach (var worker in workers)
            worker.Dispose();
        workers = [];
    }

    /// <summary>
    /// A worker hangs: its points are missing from now on, it puts nothing any more, and another takes its place with devices and links of its own,
    /// which begins as at a start: safe values first, and no command given before counts. Whoever polls the old one disposes of it when its request ends.
    /// </summary>
    /// <returns>The new one, not yet polled.</returns>
    /// <exception cref="ArgumentException">It is none of this plan's workers.</exception>
    public BusWorker Replace(BusWorker old, double nowS)
    {
        BusWorker[] all = [.. workers];
        var at = Array.IndexOf(all, old);
        if (at < 0)
            throw new ArgumentException($"{old.Name} is no worker of this plan", nameof(old));
        old.Lose(nowS, forGood: true);
        all[at] = makers[at]();
        workers = all;
        return all[at];
    }

    private void Build(List<(IDriver Driver, DeviceSettings Device, OutputChannel[] Points)> found, DeviceParts parts)
    {
        foreach (var bus in found.GroupBy(one => one.Driver.BusOf(one.Device), StringComparer.Ordinal))
        {
            var own = bus.ToArray();
            makers.Add(() =>
            {
                var shared = parts with { Buses = Shared(parts.Buses) };
                return new BusWorker(bus.Key, [.. own.Select(one => one.Driver.Build(one.Device, one.Points, shared))]);
            });
        }
        workers = [.. makers.Select(make => make())];
    }

    /// <summary>The devices of one worker use one and the same bus.</summary>
    private static Buses Shared(Buses buses)
    {
        I2c.II2cBus? opened = null;
        Modbus.IModbusLink? linked = null;
        return buses with { I2c = path => opened ??= new I2c.I2cTree(buses.I2c(path)), Modbus = device => linked ??= buses.Modbus(device) };
    }

    private IDriver? DriverOf(DeviceSettings device)
    {
        var driver = Drivers.Kinds.FirstOrDefault(kind => kind.Declaration.Name == device.Driver);
        if (driver is null)
            problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: there is no driver {device.Driver}"));
        return driver;
    }

    /// <summary>The site reader has said so with line and key; here it keeps a plan from being built of anything else.</summary>
    private void CheckShared(DriverDeclaration driver, DeviceSettings device, IEnumerable<DeviceSettings> others)
    {
        foreach (var other in others.Where(other => other.Driver == driver.Name && driver.SharedPlace?.Invoke(other.Settings) == driver.SharedPlace?.Invoke(device.Settings)))
        {
            foreach (var key in driver.SharedKeys.Where(key => other.Settings.Text(key) != device.Settings.Text(key)))
                problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: {key} is {device.Settings.Text(key)}, but {other.Settings.Text(key)} at device {other.Name} ({other.Mark}) on the same line: one line, one setting"));
        }
    }

    private void CheckPlace(IDriver driver, DeviceSettings device, IReadOnlyList<DeviceSettings> others)
    {
        CheckShared(driver.Declaration, device, others);
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
