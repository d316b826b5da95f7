// Every part of a run and every wire between them, in order. Read this to know what talks to what; nothing is connected anywhere else.
using RoomSupervisor.Hardware;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>The parts of one run.</summary>
public sealed class Wiring : IDisposable
{
    private readonly HardwarePlan plan;
    private readonly List<BusThread> threads = [];

    private Wiring(HardwarePlan plan, SiteLog log, RunClock clock, ScanLoop loop)
    {
        this.plan = plan;
        Log = log;
        Clock = clock;
        Loop = loop;
    }

    public SiteLog Log { get; }

    public RunClock Clock { get; }

    public ScanLoop Loop { get; }

    /// <summary>Puts the parts of a run together; starts nothing. False with what does not fit.</summary>
    public static bool TryBuild(SiteFiles files, string logDirectory, bool isObserving, TimeProvider time, TextWriter complaints, out Wiring? wiring, out IReadOnlyList<string> problems)
    {
        var house = files.House;
        var clock = new RunClock(time, files.Site.TimeZone);

        // devices → input image → loop → leases → devices
        var inputs = new InputImage(house.InputTable.Count);
        var leases = new OutputLeases(house.OutputTable.Count);
        var wires = isObserving ? files.Wiring.Where(wire => !wire.IsOutput).ToList() : files.Wiring;
        var plan = HardwarePlan.Build(files.Devices, wires, inputs, leases);
        problems = [.. plan.Problems.Select(problem => $"{problem.Mark}: error: {problem.Text}")];
        if (problems.Count > 0)
        {
            plan.Dispose();
            wiring = null;
            return false;
        }
        var health = new HealthWatch(plan.Workers);

        // loop → ring → log
        var ring = new LogRing(4096);
        string NameOf(Owner owner, int index) => owner == Owner.Device ? health.NameOf(index) : house.NameOf(owner, index);
        string DetailOf(Owner owner, int index) => owner == Owner.Device ? health.ProblemOf(index) : health.ProblemOf(owner, index);
        var words = new LogVocabulary(NameOf, EventCatalogue.All, SequenceEvents.StageChanged.Id, house.Units) { DetailOf = DetailOf };
        var log = new SiteLog(new LogPlace(logDirectory, files.Site.TimeZone), ring, words, complaints);

        var loop = new ScanLoop(new LoopParts(house, clock, inputs, leases, health, ring, isObserving));
        wiring = new Wiring(plan, log, clock, loop);
        foreach (var worker in plan.Workers)
            wiring.threads.Add(new BusThread(worker, clock, error => log.Say(clock.Utc, clock.ElapsedS, Priority.Alarm, error)));
        return true;
    }

    public void StartBuses() => threads.ForEach(thread => thread.Start());

    /// <summary>Writes every output its safe value on every bus, best effort, and says what came of it. False when any output could not be written.</summary>
    public bool WriteSafe()
    {
        var all = true;
        foreach (var worker in plan.Workers)
        {
            var result = worker.WriteSafe(Clock.ElapsedS);
            if (result.Written > 0)
                Log.Say(Clock.Utc, Clock.ElapsedS, Priority.Note, $"{worker.Name}: safe values written to {result.Written} outputs");
            if (result.NotWritten.Count > 0)
            {
                all = false;
                Log.Say(
                    Clock.Utc, Clock.ElapsedS, Priority.Alarm,
                    $"{worker.Name}: no safe value could be written to {string.Join(", ", result.NotWritten.Select(wire => wire.PointId))} | "
                    + "means: they may still run or stand open with nobody watching the dew point | check: switch them off by hand, then see why the device does not answer");
            }
        }
        return all;
    }

    public void Dispose()
    {
        threads.ForEach(thread => thread.Dispose());
        plan.Dispose();
        Log.Dispose();
    }
}
