// The clock of a rehearsal: stands still until it is moved. Must never ask the machine what time it is.
namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Monotonic and wall time under the rehearsal's hand. The wall clock may be off; the monotonic one never is.</summary>
public sealed class VirtualTime(DateTimeOffset start) : TimeProvider
{
    private long ticks;

    /// <summary>How far the board's wall clock is off the true time, s.</summary>
    public double WallOffS { get; set; }

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <summary>Seconds since the start.</summary>
    public double ElapsedS => ticks / (double)TimeSpan.TicksPerSecond;

    /// <summary>Moves it forward.</summary>
    public void Advance(double seconds) => ticks += (long)Math.Round(seconds * TimeSpan.TicksPerSecond);

    /// <inheritdoc/>
    public override long GetTimestamp() => ticks;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => start.AddTicks(ticks).AddSeconds(WallOffS);
}
