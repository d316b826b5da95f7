// The same house, days, seeds, caps, quiet hours, water limits and supply reset for five controls. Must never let one begin otherwise than another, and names no winner.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Compare;

/// <summary>One control that is compared.</summary>
/// <param name="Letter">a, b, c, d, e: the same in table and picture.</param>
/// <param name="Title">A few words.</param>
/// <param name="Words">What it does, a sentence.</param>
/// <param name="Make">Makes its room rules for a run; null: ours.</param>
internal sealed record Contender(char Letter, string Title, string Words, Func<House, IRoomControl>? Make)
{
    /// <summary>True where ours goes by what it has measured of the rooms.</summary>
    public bool UsesRoomData { get; init; }
}

/// <summary>One run.</summary>
/// <param name="Seed">Its seed.</param>
/// <param name="Measures">What it gave.</param>
/// <param name="Outdoors">The weather it had, for the check that all had the same.</param>
internal sealed record ComparedRun(ulong Seed, ComparedMeasures Measures, OutdoorRecord Outdoors);

/// <summary>All runs of one control.</summary>
internal sealed record Compared(Contender Contender, IReadOnlyList<ComparedRun> Runs)
{
    /// <summary>Mean over the seeds; NaN where a run has none.</summary>
    public double Mean(Func<ComparedMeasures, double> of) => Runs.Average(run => of(run.Measures));
}

/// <summary>Plays comparisons.</summary>
internal sealed class Comparison
{
    private Comparison(RehearsalPlan plan, IReadOnlyList<int> rooms, LoopGains gains, IReadOnlyList<Compared> all) => (Plan, Rooms, Gains, All) = (plan, rooms, gains, all);

    public RehearsalPlan Plan { get; }

    /// <summary>Indices of rooms compared.</summary>
    public IReadOnlyList<int> Rooms { get; }

    /// <summary>Gains found for the separate loops.</summary>
    public LoopGains Gains { get; }

    /// <summary>By control.</summary>
    public IReadOnlyList<Compared> All { get; }

    /// <summary>The controls.</summary>
    public static IReadOnlyList<Contender> Contenders(LoopGains gains) =>
    [
        new('a', "thermostat, coil alone", "A room thermostat runs the coil's fan as fast as it may from 0.5 K over the set point to 0.5 K under it; surfaces stay shut.", house => new CoilThermostat(house)),
        new('b', "surface, fixed cut-off", "The same thermostat opens the surface; it shuts when the supply comes within 2 K of the room's dew point. No fan runs.", house => new SurfaceCutOff(house)),
        new('c', "two separate loops", "Coil and surface each have a PI loop on the room's temperature and know nothing of each other; gains were chosen on a seed that is not shown.", house => new SeparateLoops(house, gains)),
        new('d', "Room Supervisor", "This controller with fixed parameters.", null),
        new('e', "with room data", "The same, going by the rooms' capacity and coils as it measured them before, on the same days with every door and window opened five times and a seed that is not shown; not what is shipped.", null) { UsesRoomData = true },
    ];

    /// <summary>Why a plan cannot be compared; null: it can.</summary>
    public static string? WhyNot(RehearsalPlan plan)
    {
        if (ComparedWatch.RoomsOf(plan.Files.House).Length == 0)
            return "--compare: error: no room has both a coil and a cooled surface, so there is nothing to compare; choose a site that has one";
        var start = Prepared.Twin(plan, 1).Start;
        var warmest = double.NegativeInfinity;
        for (var hour = 0; hour < 24 * plan.Scenario.Days; hour++)
        {
            plan.Weather.At(start.AddHours(hour), out var now);
            warmest = Math.Max(warmest, now.AirC);
        }
        return warmest >= WarmEnoughC ? null : "--compare: error: these days are too cold for anything to be cooled, and the others only cool; allowed: days with 20 °C outdoors or more; choose others with --from";
    }

    private const double WarmEnoughC = 20;

    /// <summary>Plays every control with every seed.</summary>
    /// <param name="plan">House, days and weather.</param>
    /// <param name="seeds">Seeds, none from <see cref="LoopTuning.FirstSeed"/> on.</param>
    /// <param name="progress">Told what is played; null: nobody.</param>
    public static Comparison Of(RehearsalPlan plan, IReadOnlyList<ulong> seeds, Action<string>? progress = null)
    {
        var gains = LoopTuning.Best(plan, i => progress?.Invoke($"choosing gains of the separate loops, {i + 1} of {LoopTuning.Grid.Count}"));
        progress?.Invoke("measuring the rooms");
        var measured = RoomLearning.Of(plan);
        List<Compared> all = [];
        foreach (var contender in Contenders(gains))
        {
            List<ComparedRun> runs = [];
            foreach (var seed in seeds)
            {
                progress?.Invoke($"({contender.Letter}) {contender.Title}, seed {seed}");
                runs.Add(Play(plan with { Seed = seed }, contender.Make?.Invoke(plan.Files.House), measured: contender.UsesRoomData ? measured : null));
            }
            all.Add(new Compared(contender, runs));
        }
        return new Comparison(plan, ComparedWatch.RoomsOf(plan.Files.House), gains, all);
    }

    /// <summary>One run; null plays our own room rules.</summary>
    /// <param name="plan">What is played.</param>
    /// <param name="roomsBy">The rival's rules.</param>
    /// <param name="hours">Ends after so many at the latest.</param>
    /// <param name="measured">What ours has measured of the rooms before; null: nothing measured in pull-downs is used.</param>
    internal static ComparedRun Play(RehearsalPlan plan, IRoomControl? roomsBy, double hours = double.PositiveInfinity, RoomDataMemory[]? measured = null)
    {
        var watch = new ComparedWatch(ComparedWatch.RoomsOf(plan.Files.House));
        using var run = new Rehearsal.Rehearsal(plan, roomsBy) { AfterScan = watch.Add };
        RoomLearning.Give(run, measured);
        while (!run.IsOver && run.ElapsedS < hours * 3600)
            run.Step();
        return new ComparedRun(plan.Seed, watch.Done(run), run.Recorder.Record().Outdoor);
    }
}
