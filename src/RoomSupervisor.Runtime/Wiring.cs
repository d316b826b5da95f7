// Every part of a run and every wire between them, in order. Read this to know what talks to what; nothing is connected anywhere else.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>The parts of one run.</summary>
public sealed class Wiring : IDisposable
{
    private readonly HardwarePlan plan;
    private readonly BusThread[] threads;
    private readonly BusKeeper keeper;
    private readonly LoopParts parts;
    private readonly (Func<Owner, int, string> NameOf, string Logs) explain;
    private TraceTexts? texts;
    private Notifier? notifier;
    private CareBook? care;
    private SecondCopy? copy;
    private string takenUp = "", openFiles = "";
    private IReadOnlyList<string> screeds = [];

    private Wiring(HardwarePlan plan, BusThread[] threads, SiteLog log, RunClock clock, (ScanLoop Loop, LoopParts Parts) loop, (Func<Owner, int, string> NameOf, string Logs) explain)
    {
        this.explain = explain;
        this.plan = plan;
        this.threads = threads;
        keeper = new BusKeeper(threads, plan.Replace, clock);
        Log = log;
        Clock = clock;
        Loop = loop.Loop;
        parts = loop.Parts;
    }

    public SiteLog Log { get; }

    public RunClock Clock { get; }

    public ScanLoop Loop { get; }

    /// <summary>The buses, for who shows how they and their devices are doing. Any thread.</summary>
    public IReadOnlyList<BusThread> Buses => threads;

    /// <summary>The reload, where the files are watched.</summary>
    public ReloadThread? Reload { get; private set; }

    /// <summary>What clients of the control socket may look at and touch.</summary>
    public required ControlParts Control { get; init; }

    /// <summary>The control socket, where there is one.</summary>
    public ControlService? Service { get; private set; }

    /// <summary>Puts the parts of a run together; starts nothing. False with what does not fit. With <paramref name="isByHand"/> only a hand moves outputs; tests give <paramref name="buses"/> and keep the console quiet; with <paramref name="trace"/> every scan is recorded, with <paramref name="notify"/> a command is run at alarms.</summary>
    public static bool TryBuild(
        SiteFiles files, string logDirectory, bool isObserving, TimeProvider time, TextWriter complaints, out Wiring? wiring, out IReadOnlyList<string> problems,
        Buses? buses = null, bool isQuiet = false, bool isByHand = false, TraceTexts? trace = null, string? notify = null)
    {
        var house = files.House;
        var clock = new RunClock(time, files.Site.TimeZone);

        // devices → input image → loop → output stage → leases → devices
        var inputs = new InputImage(house.InputTable.Count);
        var wires = isObserving ? files.Wiring.Where(wire => !wire.IsOutput).ToList() : files.Wiring;
        var leases = new OutputLeases(OutputChannels.CountOf(wires));
        var plan = HardwarePlan.Build(files.Devices, wires, inputs, leases, buses, files.Site.AltitudeM);
        problems = [.. plan.Problems.Select(problem => $"{problem.Mark}: error: {problem.Text}")];
        if (problems.Count > 0)
        {
            plan.Dispose();
            wiring = null;
            return false;
        }

        // loop → rings → log and trends
        var ring = new LogRing(4096);
        HealthWatch? health = null;
        Wiring? made = null;
        string NameOf(Owner owner, int index) => owner == Owner.Device ? health!.NameOf(index) : house.NameOf(owner, index);
        var words = new LogVocabulary(NameOf, EventCatalogue.All, SequenceEvents.StageChanged.Id, house.Units)
        {
            InDriversWords = happening => happening.EventId == BoardEvents.FilesOpen.Id ? made?.openFiles ?? "" : health!.InDriversWords(happening),
        };
        var tap = new TrendTap(house);
        var traceTap = trace is null ? null : new TraceTap(house);
        SiteLog? log = null;
        var careTap = isObserving || isByHand ? null : new CareTap(house, new CareLimits(files.Site.FilterAfterS, files.Site.CoilCleaningAfterS));
        var care = careTap is null ? null : new CareBook(careTap);
        var copy = isObserving || isByHand || files.Site.SecondCopy.Length == 0 ? null
            : new SecondCopy(files.Site.SecondCopy, () => (clock.Utc, clock.ElapsedS), (priority, line) => log?.Say(clock.Utc, clock.ElapsedS, priority, line));
        LoopParts? loopParts = null;
        notify ??= files.Site.Notify is { Length: > 0 } declared && !isByHand ? declared : null;
        var notifier = notify is null ? null : new Notifier(notify, files.Site.Name, (priority, line) => log?.Say(clock.Utc, clock.ElapsedS, priority, line));
        var records = new LogParts
        {
            Alarmed = notifier is null ? null : (utc, what, where, text) => notifier.Tell(new Notice(utc, what.Priority, where, text, what.Household)),
            Clock = () => (clock.Utc, clock.ElapsedS),
            Head = () => EffectiveConfiguration.Lines(files),
            Trends = new TrendRecorder(Path.Combine(logDirectory, TrendRecorder.FileName), tap.Ring, tap.Series),
            Guests = [.. new IRecordsGuest?[]
            {
                trace is null ? null : new TraceRecorder(Path.Combine(logDirectory, TraceRecorder.FolderName), traceTap!, files.Site.TimeZone, trace.Of), care, copy,
            }.OfType<IRecordsGuest>()],
            AlsoWritten = () => Volatile.Read(ref loopParts)?.Keeper?.Written ?? 0,
        };
        log = new SiteLog(new LogPlace(logDirectory, files.Site.TimeZone, ToConsole: !isQuiet && !isByHand), ring, words, complaints, records);

        if (notify is not null && !File.Exists(notify))
            log.Say(clock.Utc, 0, Priority.Warning, $"notify: {notify} is not there | means: nobody is told of alarms by it | check: site.notify, or run --notify; the service's user must be able to run it");

        // a thread a bus; what hangs, throws or stops answering → log
        BusThread[] threads = [.. plan.Workers.Select(worker => new BusThread(worker, clock, error => log.Say(clock.Utc, clock.ElapsedS, Priority.Alarm, error)))];
        health = new HealthWatch(threads);

        var parts = new LoopParts(house, clock, inputs, new OutputStage(wires, leases), health, ring, isObserving)
        {
            Trends = tap,
            Trace = traceTap,
            Care = careTap,
            StatusEveryS = 60,
            ByHand = isByHand ? new OnlyByHand(house, wires) : null,
        };

        Volatile.Write(ref loopParts, parts);

        // loop → board → control socket → hand values → loop
        var control = new ControlParts(files, wires, parts.Board, leases, clock)
        {
            Workers = () => plan.Workers,
            BusHealth = bus => threads[bus].Health(clock.ElapsedS),
            Hands = parts.Hands,
            IsObserving = isObserving,
            IsByHand = isByHand,
        };
        wiring = made = new Wiring(plan, threads, log, clock, (new ScanLoop(parts), parts), (NameOf, logDirectory)) { Control = control, texts = trace, notifier = notifier, care = care, copy = copy };
        return true;
    }

    /// <summary>files → reload → loop, log, disk.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="state">The controller's own folder.</param>
    /// <param name="start">What the run started with.</param>
    public void Watch(string directory, StateFolder state, StartResult start)
    {
        void Say(Priority priority, string line) => Log.Say(Clock.Utc, Clock.ElapsedS, priority, line);
        void Trouble(string line) => Say(RuntimeEvents.StateNotKept.Priority, $"{RuntimeEvents.StateNotKept.Text}: {line} | means: {RuntimeEvents.StateNotKept.Meaning} | check: {RuntimeEvents.StateNotKept.Check}");
        var keep = new Keeping(directory, state, start.Files!.Site.TimeZone, Trouble);
        Reload = new ReloadThread(new ReloadParts(directory, Clock, Loop.Swap, Say, keep) { Knows = texts is null ? null : texts.Know }, start, Drivers.All);
        if (parts.IsObserving)
            return;   // who watches has nothing to go on with
        care?.Keep(state);
        copy?.Begin(new PackWish(directory, state, explain.Logs, TimeSpan.Zero) { OnlyState = true });
        takenUp = MemoryKeeper.TakeUp(parts.House, state, Clock.Utc, parts.Memory);
        parts.Keeper = new MemoryKeeper(parts.House, state, Trouble);
        // programmes of new screeds → loops; their file lives longer than any memory
        parts.Screed = new ScreedKeeper(parts.House, state, Trouble);
        screeds = parts.Screed.TakeUp(Clock.Utc);
    }

    /// <summary>What was found at the start, for the first scan to tell. Before <see cref="StartHelpers"/>.</summary>
    public void TellAtStart(in Happening happening) => parts.AtStart = [.. parts.AtStart, happening];

    /// <summary>Files that anybody may read or change, in words; told with the first scan.</summary>
    public void TellOpen(IReadOnlyList<string> open)
    {
        if (open.Count == 0)
            return;
        openFiles = string.Join("; ", open);
        TellAtStart(new Happening(BoardEvents.FilesOpen.Id, Owner.Site, 0, Reason.Of(Cause.None, open.Count)));
    }

    /// <summary>control socket → what the loop publishes and takes. Without one the run goes on and says so.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="path">Path of the socket.</param>
    /// <param name="time">Clock for rates.</param>
    /// <param name="why">Why there is none; empty when there is.</param>
    /// <returns>False when a living run answers there: two runs share a folder.</returns>
    public bool Listen(string directory, string path, TimeProvider time, out string why)
    {
        var say = new ControlSay((priority, line) => Log.Say(Clock.Utc, Clock.ElapsedS, priority, line), time);
        var house = Control.Files.House;
        var facts = new ExplainParts(Log, StateFolder.Of(directory), explain.Logs, explain.NameOf)
        {
            Care = () => [.. care is null ? [] : CareWork.Due(CarePart.Of(house), care.Now(), care.Limits), .. parts.Screed?.Lines() ?? []],
            More = care is null ? [] : [new CareRequest(Control, care, Log.AskToSpill, say)],
        };
        // The screeds come with the watch over the files, after this.
        IReadOnlyList<IControlRequest> more = [.. facts.Requests(Control), new WaterRequest(Control), new ScreedRequest(Control, () => parts.Screed, say)];
        if (ControlService.TryMake(Control, directory, path, say, time, more, out var service, out var isTaken, out why))
            Service = service;
        return !isTaken;
    }

    /// <summary>Starts what works beside the loop.</summary>
    public void StartHelpers()
    {
        if (takenUp.Length > 0)
            Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Note, takenUp);
        foreach (var line in screeds)
            Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Note, line);
        foreach (var thread in threads)
            thread.Start();
        keeper.Start();
        Reload?.Start();
        parts.Keeper?.Start();
        parts.Screed?.Start();
        Service?.Start();
    }

    /// <summary>An orderly stop: the memory is kept for the next start.</summary>
    public void KeepMemory()
    {
        parts.Keeper?.KeepAtStop(parts.Memory, Clock.Utc);
        parts.Screed?.KeepAtStop();
    }

    /// <summary>Writes every output its safe value, best effort, on all buses at once: one that hangs holds up no other. Then says what came of it.</summary>
    /// <returns>False when any output could not be written.</returns>
    public bool WriteSafe()
    {
        var nowS = Clock.ElapsedS;
        keeper.Stop();
        foreach (var thread in threads)
            thread.AskToStop();
        // Threads of their own: the pool would start the last of many slow buses late.
        var results = new SafeWriteResult[plan.Workers.Count];
        Thread[] writers = [.. plan.Workers.Select((worker, i) => new Thread(() => results[i] = WriteSafe(worker, nowS)) { IsBackground = true })];
        foreach (var writer in writers)
            writer.Start();
        foreach (var writer in writers)
            writer.Join();
        for (var i = 0; i < results.Length; i++)
            Tell(plan.Workers[i].Name, results[i]);
        return results.All(result => result.NotWritten.Count == 0);
    }

    public void Dispose()
    {
        Service?.Dispose();
        keeper.Dispose();
        Reload?.Dispose();
        parts.Keeper?.Dispose();
        parts.Screed?.Dispose();
        foreach (var thread in threads)
            thread.Dispose();
        plan.Dispose();
        Log.Dispose();
        notifier?.Dispose();   // after the log: its last words are alarms too
    }

    private SafeWriteResult WriteSafe(BusWorker worker, double nowS)
    {
        try
        {
            return worker.WriteSafe(nowS);
        }
#pragma warning disable CA1031 // A driver that throws now must not keep the other buses from their safe values.
        catch (Exception e)
#pragma warning restore CA1031
        {
            Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Alarm, $"{worker.Name}: driver error while writing safe values: {e.GetType().Name}: {e.Message}");
            return new SafeWriteResult(0, [.. worker.Devices.SelectMany(device => Enumerable.Range(0, device.ChannelCount).Select(i => device.Channel(i).Wiring)).Where(wire => wire.IsOutput)]);
        }
    }

    private static string Outputs(int count) => count == 1 ? "1 output" : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{count} outputs");

    private void Tell(string bus, SafeWriteResult result)
    {
        foreach (var error in result.Errors)
            Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Alarm, error);
        if (result.Written > 0)
            Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Note, $"{bus}: safe values written to {Outputs(result.Written)}");
        if (result.NotWritten.Count == 0)
            return;
        Log.Say(
            Clock.Utc, Clock.ElapsedS, Priority.Alarm,
            $"{bus}: no safe value could be written to {string.Join(", ", result.NotWritten.Select(wire => wire.PointId))} | "
            + "means: they may still run or stand open with nobody watching the dew point | check: switch them off by hand, then see why the device does not answer");
    }
}
