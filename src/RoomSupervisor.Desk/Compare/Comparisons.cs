// The door to comparisons for whoever starts them: whether one can be played, and playing it into a table, a JSON and a page. Must never play what it has refused.
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Comparisons of our room rules with simpler ones.</summary>
public static class Comparisons
{
    /// <summary>Why these days cannot be compared, as a message about <c>--compare</c> or <c>--seeds</c>; null: they can.</summary>
    /// <param name="plan">House, days and weather.</param>
    /// <param name="last">The highest seed.</param>
    public static string? WhyNot(RehearsalPlan plan, ulong last)
        => last >= LoopTuning.FirstSeed
            ? $"--seeds {last}: error: seeds from {LoopTuning.FirstSeed} on are for choosing gains and are never reported; allowed: lower ones"
            : Comparison.WhyNot(plan);

    /// <summary>Plays all controls with every seed and writes what was asked for.</summary>
    /// <param name="plan">House, days and weather.</param>
    /// <param name="first">First seed.</param>
    /// <param name="last">Last seed.</param>
    /// <param name="table">Gets the table.</param>
    /// <param name="json">Gets the JSON; null: none.</param>
    /// <param name="page">Gets the page; null: none.</param>
    /// <param name="progress">Told what is played; null: nobody.</param>
    public static void Play(RehearsalPlan plan, ulong first, ulong last, TextWriter table, Stream? json, TextWriter? page, Action<string>? progress)
    {
        List<ulong> seeds = [];
        for (var seed = first; seed <= last; seed++)
            seeds.Add(seed);
        var comparison = Comparison.Of(plan, seeds, progress);
        CompareTable.Write(table, comparison);
        if (json is not null)
            CompareTable.WriteJson(json, comparison);
        if (page is not null)
            CompareReport.Write(page, comparison);
    }
}
