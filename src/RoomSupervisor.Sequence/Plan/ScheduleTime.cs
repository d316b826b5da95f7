// Wall time as schedules follow it, through both changes of daylight saving. In spring the missing hour is not there: what should
// begin or end in it does so with the first minute after it. In autumn an hour comes twice: its times count once, the first time, and
// while it runs again the clock stands at its last moment. So nothing begins early, and nothing that has ended begins again.
namespace RoomSupervisor.Sequence;

/// <summary>From UTC to the wall time of schedules.</summary>
public static class ScheduleTime
{
    /// <summary>Wall time of a zone for schedules; never goes back when clocks do.</summary>
    /// <param name="utc">The moment.</param>
    /// <param name="zone">Zone of the site.</param>
    public static DateTime Of(DateTime utc, TimeZoneInfo zone)
    {
        var local = TimeZoneInfo.ConvertTimeFromUtc(utc, zone);
        if (!zone.IsAmbiguousTime(local) || local - utc == Larger(zone, local))
            return local;
        var end = new DateTime(local.Ticks - local.Ticks % TimeSpan.TicksPerMinute).AddMinutes(1);
        while (zone.IsAmbiguousTime(end))
            end = end.AddMinutes(1);
        return end.AddTicks(-1);
    }

    /// <summary>The offset of the first time through: the larger one, for clocks go back to a smaller.</summary>
    private static TimeSpan Larger(TimeZoneInfo zone, DateTime local)
    {
        var offsets = zone.GetAmbiguousTimeOffsets(local);
        return offsets[0] > offsets[^1] ? offsets[0] : offsets[^1];
    }
}
