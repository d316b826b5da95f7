// Gains of the two separate loops: the best of a grid on a day and seeds that no comparison uses. Must never look at a run that is reported.
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Desk.Compare;

/// <summary>One procedure for every house: a grid of gains, the lowest cost wins.</summary>
internal static class LoopTuning
{
    /// <summary>Seeds of tuning begin here; a comparison refuses seeds from here on.</summary>
    public const ulong FirstSeed = 900_000;

    /// <summary>A kelvin-hour outside the band weighs as much as this many changes heard in an hour (project choice: six an hour are the goal of ours).</summary>
    private const double KhPerChange = 0.25;

    /// <summary>Gains that are tried.</summary>
    public static IReadOnlyList<LoopGains> Grid { get; } =
    [
        .. from coil in (double[])[0.3, 1]
           from surface in (double[])[0.5, 1.5]
           from integral in (double[])[1200, 3600]
           select new LoopGains(coil, integral, surface, integral),
    ];

    /// <summary>Plays the first day of the plan with each of them.</summary>
    public static LoopGains Best(RehearsalPlan plan, Action<int>? progress = null)
    {
        var unseen = plan with { Seed = FirstSeed };
        var best = (Cost: double.PositiveInfinity, Gains: Grid[0]);
        for (var i = 0; i < Grid.Count; i++)
        {
            progress?.Invoke(i);
            var cost = Cost(Comparison.Play(unseen, new SeparateLoops(plan.Files.House, Grid[i]), 24).Measures);
            if (cost < best.Cost)
                best = (cost, Grid[i]);
        }
        return best.Gains;
    }

    /// <summary>What is made small: discomfort, and fans that are heard to change.</summary>
    internal static double Cost(ComparedMeasures measures) => measures.OutsideKh + KhPerChange * measures.HeardAnHour;
}
