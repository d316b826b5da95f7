// The controller as `run` puts it together, in virtual time: the real loop, images, leases, drivers and bus workers, without threads, files and sockets.
// Must never know the virtual house: it meets it in the bytes of its devices only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Devices;
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
    private readonly double[] busyUntilS;
    private readonly LoopParts parts;

    /// <param name="files">The site.</param>
    /// <param name="time">The rehearsal's clock.</param>
    /// <param name="buses">Buses to the devices in memory.</param>
    /// <param name="memory">Memory to go on with; null: a fresh one.</param>
    /// <exception cref="InvalidOperationException">The site's devices do not fit its wiring.</exception>
    public Controller(SiteFiles files, VirtualTime time, Buses buses, Memory? memory)
    {
        House = files.House;
        Clock = new RunClock(time, files.Site.TimeZone);
        Inputs = new InputImage(House.InputTable.Count);
        var leases = Leases = new OutputLeases(OutputChannels.CountOf(files.Wiring));
        plan = HardwarePlan.Build(files.Devices, files.Wiring, Inputs, leases, buses, files.Site.AltitudeM);
        if (plan.Problems.Count > 0)
            throw new InvalidOperationException(string.Join('\n', plan.Problems.Select(problem => $"{problem.Mark}: error: {problem.Text}")));
        workers = [.. plan.Workers];
        busyUntilS = new double[workers.Length];
        // Never started: the loop only asks them how long their poll has lasted.
        threads = [.. workers.Select(worker => new BusThread(worker, Clock, _ => { }))];
        Ring = new LogRing(4096);
        parts = new LoopParts(House, Clock, Inputs, new OutputStage(files.Wiring, leases), new HealthWatch(threads), Ring, false) { Memory = memory ?? new Memory(House) };
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

    /// <summary>What channels were told.</summary>
    internal OutputLeases Leases { get; }

    /// <summary>Its buses.</summary>
    internal IReadOnlyList<BusWorker> Workers => workers;

    /// <summary>What its last scan published.</summary>
    public Runtime.Control.SnapshotBoard Board => parts.Board;

    /// <summary>Hand values on their way to it.</summary>
    public Runtime.Control.HandRequests Hands => parts.Hands;

    /// <summary>Heats new screeds up; null: nobody does.</summary>
    public Runtime.Screed.ScreedKeeper? Screed { get => parts.Screed; set => parts.Screed = value; }

    /// <summary>Follows every scan for a trace; null: nobody does.</summary>
    public Runtime.Recording.TraceTap? Tap { get => parts.Trace; set => parts.Trace = value; }

    /// <summary>Names and words of its devices' events.</summary>
    public HealthWatch Health => parts.Health;

    /// <summary>Has trends and counters kept of its scans, and the state of its rooms told once a minute, as a run does.</summary>
    public void Follow(Runtime.Recording.TrendTap trends, Runtime.Care.CareTap care) => (parts.Trends, parts.Care, parts.StatusEveryS) = (trends, care, 60);

    /// <summary>Lets every bus do what is due; one that waits for an answer is left alone until it has it or gives up.</summary>
    /// <param name="withinS">Also what falls due within this time: chips that measure in two turns tell in the same scan what they began.</param>
    public void PollBuses(double withinS = 0.05)
    {
        var nowS = Clock.ElapsedS;
        for (var i = 0; i < workers.Length; i++)
        {
            if (busyUntilS[i] > nowS || workers[i].NextDueS > nowS)
                continue;
            var spent = workers[i].Poll(nowS);
            var next = workers[i].NextDueS;
            if (spent < 0.5 && next > nowS && next <= nowS + withinS)
                spent += workers[i].Poll(next);
            busyUntilS[i] = nowS + spent;
        }
    }

    public void Dispose()
    {
        foreach (var thread in threads)
            thread.Dispose();
        plan.Dispose();
    }
}
