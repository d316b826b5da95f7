// The controller as `run` puts it together, in virtual time: the real loop, images, leases, drivers and bus workers, without threads, files and sockets.
// Must never know the virtual house: it meets it in the bytes of its devices only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>One life of a controller, from power on to power off.</summary>
public sealed class Controller : IDisposable
{
    private readonly HardwarePlan plan;
    private readonly BusWorker[] workers;
    private readonly BusThread[] threads;

    /// <param name="files">The site.</param>
    /// <param name="time">The rehearsal's clock.</param>
    /// <param name="links">Links to the devices in memory.</param>
    /// <param name="memory">Memory to go on with; null: a fresh one.</param>
    /// <exception cref="InvalidOperationException">The site's devices do not fit its wiring.</exception>
    public Controller(SiteFiles files, VirtualTime time, Func<DeviceSettings, IModbusLink> links, Memory? memory)
    {
        House = files.House;
        Clock = new RunClock(time, files.Site.TimeZone);
        Inputs = new InputImage(House.InputTable.Count);
        var leases = new OutputLeases(OutputChannels.CountOf(files.Wiring));
        plan = HardwarePlan.Build(files.Devices, files.Wiring, Inputs, leases, links);
        if (plan.Problems.Count > 0)
            throw new InvalidOperationException(string.Join('\n', plan.Problems.Select(problem => $"{problem.Mark}: error: {problem.Text}")));
        workers = [.. plan.Workers];
        // Never started: the loop only asks them how long their poll has lasted.
        threads = [.. workers.Select(worker => new BusThread(worker, Clock, _ => { }))];
        Ring = new LogRing(4096);
        var parts = new LoopParts(House, Clock, Inputs, new OutputStage(files.Wiring, leases), new HealthWatch(threads), Ring, false) { Memory = memory ?? new Memory(House) };
        Memory = parts.Memory;
        Loop = new ScanLoop(parts);
    }

    public House House { get; }

    public RunClock Clock { get; }

    public InputImage Inputs { get; }

    public LogRing Ring { get; }

    /// <summary>What the sequence remembers; read only.</summary>
    public Memory Memory { get; }

    public ScanLoop Loop { get; }

    /// <summary>Lets every bus do what is due.</summary>
    public void PollBuses()
    {
        var nowS = Clock.ElapsedS;
        foreach (var worker in workers)
        {
            if (worker.NextDueS <= nowS)
                worker.Poll(nowS);
        }
    }

    public void Dispose()
    {
        foreach (var thread in threads)
            thread.Dispose();
        plan.Dispose();
    }
}
