// One life of the real run, start to stop, over stand-ins of every kind of device in virtual time: after a crash that left everything on, with failing calls.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.House.Tests.FailNth;

/// <summary>A life and what came of it.</summary>
internal sealed class OneLife
{
    public const double LastsS = 12;
    private const double StepS = 0.5, LateS = 4;
    private const string InMemory = "/dev/shm";
    private static readonly Lazy<SiteFiles> Site = new(Quick);

    private readonly Hand hand = new();
    private readonly FailingCalls calls;
    private readonly bool[] isLeftOn, isSettled;
    private readonly double[] left;

    public OneLife(int at, Failing how, bool isForGood, bool crashes = false)
    {
        House = StandInHouse.Build(Site.Value.Devices, Site.Value.Wiring);
        LeaveEverythingOn();
        isLeftOn = [.. Enumerable.Range(0, House.Outputs.Count).Select(i => !IsSafe(i))];
        left = [.. Enumerable.Range(0, House.Outputs.Count).Select(House.Output)];
        isSettled = new bool[isLeftOn.Length];
        calls = new FailingCalls(at, how, isForGood, () => hand.ElapsedS) { After = WatchFirstChange };
        // Hundreds of lives, each with its log and trends: what a disk takes to make them last is none of this test's business, so they stand in memory where the system has a place for that.
        var folder = Directory.CreateDirectory(Path.Combine(Directory.Exists(InMemory) ? InMemory : Path.GetTempPath(), $"fail-nth-{Guid.NewGuid():N}"));
        Assert.True(Wiring.TryBuild(Site.Value, folder.FullName, false, hand, TextWriter.Null, out var wiring, out _, calls.Around(House.Buses, Site.Value.Devices), isQuiet: true));
        Exit = SiteRun.Run(Site.Value, wiring!, false, scans: parts => Live(parts, crashes));
        Log = File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log"));
        folder.Delete(true);
    }

    public StandInHouse House { get; }

    public int Exit { get; }

    public string[] Log { get; }

    public int Calls => calls.Count;

    public string Failed => calls.Failed;

    public double FailedAtS => calls.FailedAtS;

    /// <summary>Outputs that were left on by the crash and whose first change was not to their safe value.</summary>
    public List<string> NotSafeFirst { get; } = [];

    /// <summary>How many outputs moved away from safe while it ran.</summary>
    public int Moved { get; private set; }

    public bool HasOutputs(string device) => House.Outputs.Any(one => one.Device == device);

    public int LeftOn => isLeftOn.Count(one => one);

    /// <summary>By hand: at a stop in summer everything is off or shut, and the three-point valve is driven shut; a 2–10 V drive rests at 2 V.</summary>
    public bool IsSafe(int output)
    {
        var wiring = House.Outputs[output];
        return Math.Abs(House.Output(output) - (wiring.Role == ChannelRole.Shuts ? 1 : wiring.PointId == "workshop.coil.valve" ? 2 : 0)) < 0.01;
    }

    /// <summary>The example with waiting times so short that most outputs move within seconds.</summary>
    private static SiteFiles Quick()
    {
        const string Waits = "\nsequence:\n  start_apart: 0 s\n  dwell: 0 s\n  source_minimum_off: 0 s\n  rise: 300 dB/min\n  pull_down_wait: 1 s\n  surface_wait: 1 s\n  opening_wait: 1 s\n";
        var site = File.ReadAllText(Root.At("config", "garden-studio", "site.yaml"))
            .Replace("opening_time: 60 s", "opening_time: 2 s", StringComparison.Ordinal).Replace("    drip_tray_switch: true", "    valve_opening_time: 1 s\n    drip_tray_switch: true", StringComparison.Ordinal);
        var result = SiteReader.Read(site + Waits, File.ReadAllText(Root.At("config", "garden-studio", "household.yaml")), Drivers.All);
        return result.Files ?? throw new InvalidOperationException(string.Join('\n', result.Problems));
    }

    /// <summary>What an earlier life left when it was killed: everything at its most, of relays that exclude each other one.</summary>
    private void LeaveEverythingOn()
    {
        var (inputs, leases) = (new InputImage(Site.Value.House.InputTable.Count), new OutputLeases(House.Outputs.Count));
        using var plan = HardwarePlan.Build(Site.Value.Devices, Site.Value.Wiring, inputs, leases, House.Buses);
        foreach (var worker in plan.Workers)
            worker.Poll(0);
        for (var i = 0; i < House.Outputs.Count; i++)
        {
            var wiring = House.Outputs[i];
            var full = wiring.Role is ChannelRole.Shuts || wiring.Step > 1 ? 0 : wiring.Quantity == Quantity.Switch ? 1 : 100;
            leases.Put(i, new Command(full, default, default, 0), 0, 1000);
        }
        for (var t = 1; t <= 3; t++)
        {
            foreach (var worker in plan.Workers)
                worker.Poll(t);
        }
    }

    /// <summary>
    /// The loop is first, and the board's own buses come late, as they may: what the network's sensors made the loop command waits for them already, and must
    /// not go out before the safe values.
    /// </summary>
    private void Live(Wiring parts, bool crashes)
    {
        double[] resumeAtS = [.. parts.Buses.Select(bus => bus.Worker.Name == "io-1" ? 0 : LateS)];
        foreach (var input in Site.Value.Wiring.Where(one => !one.IsOutput))
            House.SetInput(input.Index, input.PointId switch { var id when id.EndsWith("humidity", StringComparison.Ordinal) => 45, var id when id.EndsWith("air.temperature", StringComparison.Ordinal) => 29, var id when id.Contains("supply", StringComparison.Ordinal) || id.Contains("buffer", StringComparison.Ordinal) => 19, _ => 0 });
        for (var turn = 0; turn * StepS < LastsS; turn++, hand.Advance(StepS))
        {
            House.At(hand.ElapsedS);
            if (turn % 2 == 0)
                parts.Loop.Scan();
            for (var bus = 0; bus < parts.Buses.Count; bus++)
            {
                if (hand.ElapsedS >= resumeAtS[bus])
                    resumeAtS[bus] = hand.ElapsedS + parts.Buses[bus].Poll();
            }
            Moved = Math.Max(Moved, Enumerable.Range(0, House.Outputs.Count).Count(i => !IsSafe(i)));
            if (crashes && hand.ElapsedS >= LastsS - 1)
                throw new InvalidOperationException("an error of our own");
        }
    }

    private void WatchFirstChange()
    {
        for (var i = 0; i < isSettled.Length; i++)
        {
            if (!isLeftOn[i] || isSettled[i])
                continue;
            var now = House.Output(i);
            if (now == left[i])
                continue;
            isSettled[i] = true;
            if (!IsSafe(i))
                NotSafeFirst.Add($"{House.Outputs[i].PointId} {House.Outputs[i].Channel} at {now}");
        }
    }

    /// <summary>A clock that is moved by hand.</summary>
    private sealed class Hand : TimeProvider
    {
        private long ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public double ElapsedS => ticks / (double)TimeSpan.TicksPerSecond;

        public void Advance(double seconds) => ticks += (long)(seconds * TimeSpan.TicksPerSecond);

        public override long GetTimestamp() => ticks;

        public override DateTimeOffset GetUtcNow() => new DateTimeOffset(2026, 7, 17, 12, 0, 0, TimeSpan.Zero).AddTicks(ticks);
    }
}
