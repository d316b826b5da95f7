// The two clocks of a run: monotonic seconds since start for everything that is timed, wall time for stamps and schedules. The only
// place of the program that asks what time it is.
namespace RoomSupervisor.Runtime;

/// <summary>Clock of one run.</summary>
public sealed class RunClock(TimeProvider provider, TimeZoneInfo zone)
{
    private readonly long started = provider.GetTimestamp();

    /// <summary>Monotonic seconds since this clock was made.</summary>
    public double ElapsedS => provider.GetElapsedTime(started).TotalSeconds;

    public DateTime Utc => provider.GetUtcNow().UtcDateTime;

    /// <summary>Wall time for schedules; stands still while an hour comes twice.</summary>
    public DateTime LocalOf(DateTime utc) => Sequence.ScheduleTime.Of(utc, zone);
}
