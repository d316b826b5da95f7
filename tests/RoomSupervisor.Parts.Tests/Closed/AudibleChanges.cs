// Audible changes of a fan (section 4, rule 6): a start, a stop, a change of direction of 3 dB and more; a steady fade counts once. Never counts what happens
// in a pull-down, in easing off or while a door is open.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Closed;

internal static class AudibleChanges
{
    private const double HeardDb = 3;

    public static int MostInAnHour(List<Moment> moments)
    {
        var changes = When(moments).Order().ToArray();
        var most = 0;
        for (var (first, last) = (0, 0); last < changes.Length; last++)
        {
            while (changes[last] - changes[first] >= 3600)
                first++;
            most = Math.Max(most, last - first + 1);
        }
        return most;
    }

    /// <summary>Seconds at which something is heard.</summary>
    private static IEnumerable<int> When(List<Moment> moments)
    {
        var (extreme, direction) = (double.NaN, 0);
        for (var i = 600; i < moments.Count; i++)
        {
            var counts = moments[i].Stage is not (Stage.PullDown or Stage.EasingOff or Stage.Opening) && moments[i - 1].Stage is not (Stage.PullDown or Stage.EasingOff or Stage.Opening);
            var (now, before) = (moments[i].FanPercent, moments[i - 1].FanPercent);
            if (now > 0 != before > 0)
            {
                (extreme, direction) = (double.NaN, 0);
                if (counts)
                    yield return i;
            }
            if (now <= 0)
                continue;
            var level = 50 * Math.Log10(now);
            if (!counts || double.IsNaN(extreme))
            {
                (extreme, direction) = (level, 0);
                continue;
            }
            if (direction >= 0 && level > extreme || direction <= 0 && level < extreme)
            {
                // Going on in the same direction, or not yet decided and moving away by 3 dB.
                if (direction == 0 && Math.Abs(level - extreme) < HeardDb)
                    continue;
                if (direction == 0)
                {
                    direction = Math.Sign(level - extreme);
                    yield return i;
                }
                extreme = level;
            }
            else if (Math.Abs(level - extreme) >= HeardDb)
            {
                (extreme, direction) = (level, -direction);
                yield return i;
            }
        }
    }
}
