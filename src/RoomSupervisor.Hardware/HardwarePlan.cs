// From the site's devices and wiring to bus workers. Builds all or nothing: with problems there are no workers.
// It must never open a connection; the workers do when they are polled.
using RoomSupervisor.Hardware.Modbus;
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
    /// <param name="links">Makes the link of a device; null: a TCP connection to its host and port. Rehearsals and tests give memory.</param>
    public static HardwarePlan Build(
        IReadOnlyList<DeviceSettings> devices, IReadOnlyList<PointWiring> wiring, InputImage inputs, OutputLeases leases, Func<DeviceSettings, IModbusLink>? links = null)
    {
        var plan = new HardwarePlan();
        var byName = devices.ToLookup(device => device.Name, StringComparer.Ordinal);
        foreach (var lost in wiring.Where(one => !byName.Contains(one.Device)))
            plan.problems.Add(new PlanProblem(lost.Mark, $"{lost.PointId} is wired to device {lost.Device}, which does not exist"));
        OutputChannel[] points = [.. wiring.Where(one => !one.IsOutput).Select(one => new OutputChannel(one, -1)), .. OutputChannels.Of(wiring)];
        foreach (var device in devices)
        {
            var wired = plan.Wire(device, points.Where(one => one.Wiring.Device == device.Name));
            if (plan.problems.Count == 0)
                plan.workers.Add(new BusWorker(device.Name, [ModbusTcp(device, wired, inputs, leases, links ?? TcpLink)]));
        }
        if (plan.problems.Count > 0)
            plan.Dispose();
        return plan;
    }

    public void Dispose()
    {
        workers.ForEach(worker => worker.Dispose());
        workers.Clear();
    }

    private static ModbusTcpLink TcpLink(DeviceSettings device)
        => new(new SocketChannel(device.Settings.Text("host"), (int)device.Settings.Number("port")));

    private static ModbusDevice ModbusTcp(
        DeviceSettings device, List<(RegisterChannel, OutputChannel)> wired, InputImage inputs, OutputLeases leases, Func<DeviceSettings, IModbusLink> links)
    {
        var settings = device.Settings;
        var times = new ModbusTimes(settings.Number("timeout"), settings.Number("interval"), settings.Number("retry_at_most"));
        return new ModbusDevice(device.Name, new ModbusUnit(links(device), (byte)settings.Number("unit")), times, wired, inputs, leases);
    }

    private List<(RegisterChannel, OutputChannel)> Wire(DeviceSettings device, IEnumerable<OutputChannel> points)
    {
        var wired = new List<(RegisterChannel, OutputChannel)>();
        if (device.Driver != ModbusTcpDriver.Name)
            problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: there is no driver {device.Driver}"));
        else if (Whole(device, "port") && Whole(device, "unit"))
        {
            var taken = new Dictionary<(RegisterTable, int), PointWiring>();
            foreach (var one in points)
                Wire(device, one, wired, taken);
        }
        return wired;
    }

    private void Wire(DeviceSettings device, OutputChannel point, List<(RegisterChannel, OutputChannel)> wired, Dictionary<(RegisterTable, int), PointWiring> taken)
    {
        var wiring = point.Wiring;
        if (!device.Channels.TryGetValue(wiring.Channel, out var bag))
        {
            problems.Add(new PlanProblem(wiring.Mark, $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have"));
            return;
        }
        var channel = RegisterChannel.From(wiring.Channel, bag);
        var problem = ModbusTcpDriver.Declaration.CheckChannel!(bag) is { } wrong ? $"channel {wiring.Channel}: {wrong}" : channel.Mismatch(wiring);
        if (problem is null && wiring.IsOutput && !taken.TryAdd((channel.Table, channel.Address), wiring))
            problem = $"{wiring.PointId} would write the same {bag.Text("table")} {channel.Address} as {taken[(channel.Table, channel.Address)].PointId}: one output an address";
        if (problem is not null)
            problems.Add(new PlanProblem(wiring.Mark, problem));
        else
            wired.Add((channel, point));
    }

    private bool Whole(DeviceSettings device, string key)
    {
        var value = device.Settings.Number(key);
        if (value == Math.Floor(value))
            return true;
        problems.Add(new PlanProblem(device.Mark, $"device {device.Name}: {key} is not a whole number"));
        return false;
    }
}
