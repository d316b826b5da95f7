// Half-hour windows of a run in which the room ought to be quiet, and how far the true air strays in them. Never counts the opening or the pull-down.
namespace RoomSupervisor.Parts.Tests.Closed;

internal static class SteadyWindows
{
    private const int Window = 1800;

    /// <summary>Farthest from the set point, K, in windows without and with a start or stop of the coil; 0 where there is no such window.</summary>
    public static (double Without, double With) Of(List<Moment> moments, int recovered)
    {
        var (without, with) = (0.0, 0.0);
        foreach (var from in Begins(recovered))
        {
            var window = moments.GetRange(from, Window);
            var starts = Enumerable.Range(1, Window - 1).Any(i => window[i].FanPercent > 0 != window[i - 1].FanPercent > 0);
            var farthest = window.Max(m => Math.Abs(m.AirC - ClosedHouse.WantedC));
            if (starts)
                with = Math.Max(with, farthest);
            else
                without = Math.Max(without, farthest);
        }
        return (without, with);
    }

    private static IEnumerable<int> Begins(int recovered)
    {
        for (var from = ClosedRun.OpensAtS - 2 * Window; from < ClosedRun.OpensAtS; from += Window)
            yield return from;
        for (var from = recovered + 3600; from + Window <= ClosedRun.EndsAtS; from += Window)
            yield return from;
    }
}
