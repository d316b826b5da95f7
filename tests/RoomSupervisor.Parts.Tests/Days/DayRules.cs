// What must hold in every closed two-day run, whatever the house.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

internal static class DayRules
{
    /// <summary>Isolation (rule 5.4) is a decision about who gets which water, not a trip.</summary>
    public static bool NoFalseTrips(DayRun run) => run.Watch.Trips.All(trip => trip.Disturbed || trip.Cause == Cause.Isolated);

    public static IEnumerable<int> Mixed(DayRun run) => Enumerable.Range(0, run.House.Loops.Length).Where(loop => run.House.Loops[loop].Mixing >= 0);

    /// <summary>Full strokes a day of the mixing valve that travels most.</summary>
    public static double Travel(DayRun run) => Mixed(run).Max(loop => run.Watch.Strokes[loop]) / run.Case.Days;

    /// <summary>Everything that is broken, in words; empty: nothing.</summary>
    public static IEnumerable<string> Broken(DayRun run)
    {
        var source = run.Watch.Sources[0];
        if (!NoFalseTrips(run))
            yield return "a false trip";
        if (run.Watch.CondensingS > 0 || run.Watch.FilmGPerM2 > 5)
            yield return "wet surfaces";
        if (run.Watch.PairSwings > 8)
            yield return "two loops hunt";
        if (Travel(run) > 60)
            yield return "mixing valves travel too far";
        if (run.Watch.DeadHeaded > 0)
            yield return "a pump against shut valves";
        if (source.ShortestRunS < 600 || source.ShortestRestS < 600 || run.Watch.Sources.Any(one => one.MostStartsInAnHour > 3))
            yield return "a machine's times";
        if (run.Watch.HottestSlugK > 3 || run.Watch.BlownWarmS > 120)
            yield return "warm water in what cools";
        if (run.DifferentAfterSaving > 0)
            yield return "a saved memory goes on otherwise";
    }
}
