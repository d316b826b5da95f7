// A rehearsal: the controller as it runs, against the virtual house, in virtual time and in one thread. The same plan gives the same run, bit for bit.
// Must never help the controller: what it does not read from a device it does not get.
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Wall time spent, s, by part of a scan: measured in one scan of a hundred and scaled.</summary>
public sealed class Budget
{
    /// <summary>Building, plant, weather, household.</summary>
    public double BuildingS { get; internal set; }

    /// <summary>Sensors, devices and buses.</summary>
    public double BusesS { get; internal set; }

    /// <summary>The scan: images, step, output stage.</summary>
    public double StepS { get; internal set; }

    /// <summary>Measures, samples, trace.</summary>
    public double RecordingS { get; internal set; }

    /// <summary>All of the run as a watch sees it.</summary>
    public double WholeS { get; internal set; }
}

/// <summary>One run.</summary>
public sealed class Rehearsal : IDisposable
{
    /// <summary>Memory is kept this often by a controller that runs, s: what a power cut leaves.</summary>
    public const double KeptEveryS = 300;

    // For the budget only: what a run costs is the one thing about it that is real.
    private static readonly TimeProvider Watch = TimeProvider.System;

    private readonly RehearsalPlan plan;
    private readonly VirtualTime time;
    private readonly SensorSet sensors;
    private readonly StandInHouse devices;
    private readonly PlantWires wires;
    private readonly ScenarioFaults faults;
    private readonly bool keepsMemory;
    private readonly IRoomControl? roomsBy;
    private readonly Runtime.Recording.TraceTap? tap;
    private bool usesRoomData;
    private byte[]? kept;
    private double keptAtS, offSinceS;
    private long scans;

    /// <param name="plan">What is played.</param>
    /// <param name="roomsBy">Other rules in the place of our room rules, for comparisons; null: ours.</param>
    public Rehearsal(RehearsalPlan plan, IRoomControl? roomsBy = null)
    {
        (this.plan, this.roomsBy) = (plan, roomsBy);
        House = plan.Files.House;
        ScanS = Math.Max(1, Math.Round(House.Settings.ScanPeriodS));
        Run = Prepared.House(plan, 1.0 / plan.StepsPerScan);
        time = new VirtualTime(Run.Start);
        devices = StandInHouse.Build(plan.Files.Devices, plan.Files.Wiring);
        sensors = new SensorSet(House, Run, plan.Building, plan.BuildingFile.SensorErrorPercent / 100, plan.Seed, plan.Built);
        wires = new PlantWires(House, devices, Run.Plant, plan.Built);
        plan.Built?.Break(House, Run.Plant);
        faults = new ScenarioFaults(plan.Scenario, devices, time);
        keepsMemory = plan.Scenario.Breakages.Any(breakage => breakage.What == "power-cut");
        Controller = NewController(null);
        wires.Apply();
        Recorder = new Recorder(plan, this);
    }

    public House House { get; }

    /// <summary>Whether control goes by what it has measured of the rooms, which only a comparison asks for.</summary>
    internal bool UsesRoomData
    {
        set
        {
            usesRoomData = value;
            if (Controller is { } controller)
                controller.Memory.RoomDataFor = value ? RoomDataUses.Tried : RoomDataUses.Shipped;
        }
    }

    /// <summary>Building, plant, weather and household.</summary>
    public HouseRun Run { get; }

    /// <summary>The controller; null while the board has no power.</summary>
    public Controller? Controller { get; private set; }

    /// <summary>What every sensor shows; somebody's hands may hold one.</summary>
    internal SensorSet Sensors => sensors;

    /// <summary>The devices in memory.</summary>
    internal StandInHouse Devices => devices;

    /// <summary>What is played.</summary>
    internal RehearsalPlan Plan => plan;

    /// <summary>Length of a scan, s.</summary>
    public double ScanS { get; }

    /// <summary>Seconds since the run began.</summary>
    public double ElapsedS => time.ElapsedS;

    /// <summary>Measures and samples.</summary>
    public Recorder Recorder { get; }

    /// <summary>Where wall time went.</summary>
    public Budget Budget { get; } = new();

    /// <summary>Standing error of each room's temperature sensor, K.</summary>
    public IReadOnlyList<double> SensorBiasK => sensors.BiasK;

    /// <summary>The wall clock as the board has it, universal time.</summary>
    public DateTime BoardUtc => time.GetUtcNow().UtcDateTime;

    /// <summary>What each input shows; NaN: nothing. For the trace.</summary>
    internal ReadOnlySpan<double> Shown => sensors.Shown;

    /// <summary>Where the trace goes; null: none.</summary>
    public TraceWriter? Trace { get; init; }

    /// <summary>Follows every scan as a run that records does; whoever gives it takes its pages after each scan. Null: nobody.</summary>
    public Runtime.Recording.TraceTap? Tap
    {
        get => tap;
        init
        {
            tap = value;
            Controller!.Tap = value;
        }
    }

    /// <summary>Told after each scan; for tests and campaigns.</summary>
    public Action<Rehearsal>? AfterScan { get; init; }

    public bool IsOver => Run.IsOver;

    /// <summary>Runs to the end.</summary>
    /// <param name="progress">Told now and then; null: nobody.</param>
    public void RunToEnd(Action<Rehearsal>? progress = null)
    {
        var begun = Watch.GetTimestamp();
        while (!IsOver)
        {
            Step();
            if (scans % 3600 == 0 && progress is not null)
            {
                Budget.WholeS = Watch.GetElapsedTime(begun).TotalSeconds;
                progress(this);
            }
        }
        Budget.WholeS = Watch.GetElapsedTime(begun).TotalSeconds;
        Recorder.Finish();
    }

    /// <summary>One scan.</summary>
    public void Step()
    {
        var measured = scans % 97 == 0;
        var start = measured ? Watch.GetTimestamp() : 0;
        Recorder.BeforeHouse();
        var steps = plan.StepsPerScan * (int)Math.Max(1, Math.Round(ScanS));
        for (var i = 0; i < steps; i++)
        {
            Run.Step();
            sensors.Step(scans);
        }
        var house = measured ? Watch.GetTimestamp() : 0;
        time.Advance(ScanS);
        faults.Set(Run.WallSeconds());
        Power();
        devices.At(Controller?.Clock.ElapsedS ?? time.ElapsedS);
        var read = ReadOnlySpan<double>.Empty;
        if (Controller is { } controller)
        {
            read = sensors.Shown;
            for (var i = 0; i < read.Length; i++)
                devices.SetInput(i, read[i]);
            controller.PollBuses();
            Trace?.BeforeScan(this);
            var before = measured ? Watch.GetTimestamp() : 0;
            controller.Loop.Scan();
            var after = measured ? Watch.GetTimestamp() : 0;
            controller.PollBuses();
            Count(measured, start, house, before, after);
            Keep(controller);
        }
        wires.Apply();
        var recording = measured ? Watch.GetTimestamp() : 0;
        Recorder.AfterScan();
        AfterScan?.Invoke(this);
        if (measured)
            Budget.RecordingS += 97 * Watch.GetElapsedTime(recording).TotalSeconds;
        scans++;
    }

    private void Count(bool measured, long start, long house, long before, long after)
    {
        if (!measured)
            return;
        Budget.BuildingS += 97 * Watch.GetElapsedTime(start, house).TotalSeconds;
        Budget.StepS += 97 * Watch.GetElapsedTime(before, after).TotalSeconds;
        Budget.BusesS += 97 * (Watch.GetElapsedTime(house, before).TotalSeconds + Watch.GetElapsedTime(after, Watch.GetTimestamp()).TotalSeconds);
    }

    private void Keep(Controller controller)
    {
        if (!keepsMemory || time.ElapsedS - keptAtS < KeptEveryS)
            return;
        (kept, keptAtS) = (MemoryFile.Save(controller.Memory, House), time.ElapsedS);
    }

    /// <summary>Board and devices lose power and come back; memory is what was last kept.</summary>
    private void Power()
    {
        var isOff = Run.Plant.PowerCut;
        if (isOff && Controller is not null)
        {
            Controller.Dispose();
            Controller = null;
            offSinceS = time.ElapsedS;
        }
        faults.PowerOff = isOff;
        if (isOff || Controller is not null)
            return;
        Memory? memory = null;
        if (kept is not null && MemoryFile.TryLoad(kept, House, out var resumed, out _))
        {
            Resume.Prepare(House, resumed, time.ElapsedS - keptAtS);
            memory = resumed;
        }
        Controller = NewController(memory);
        LastOffS = time.ElapsedS - offSinceS;
    }

    private Controller NewController(Memory? memory)
    {
        var made = new Controller(plan.Files, time, devices.Buses, memory);
        made.Memory.RoomsBy = roomsBy;
        made.Tap = tap;
        tap?.AskForMemory();   // another life, another clock
        made.Memory.RoomDataFor = usesRoomData ? RoomDataUses.Tried : RoomDataUses.Shipped;
        return made;
    }

    /// <summary>How long the last power cut lasted, s; NaN: there was none.</summary>
    public double LastOffS { get; private set; } = double.NaN;

    public void Dispose() => Controller?.Dispose();
}
