// Notices a chip that has stopped measuring and gives its last value for ever, as chips measured one time at a demand were seen to do.
// It must never judge by few readings: two neighbouring ones are often equal.
// Source of the trap: dotnet/iot issue 1132. That a live sensor's last digit never stands still for ten minutes: common practice, no published source.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>Watches the raw bits of a measurement.</summary>
internal sealed class SameValueWatch
{
    /// <summary>Seconds without any change of the last digit after which a chip counts as stopped, and the fewest readings in that time.</summary>
    private const double LongestS = 600;
    private const int Fewest = 20;

    private long last = long.MinValue;
    private double sinceS;
    private int times;

    /// <summary>A measurement came.</summary>
    /// <param name="raw">Its bits, all that should change.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <returns>True while it has been the same for too long.</returns>
    public bool IsStuck(long raw, double nowS)
    {
        if (raw != last)
            (last, sinceS, times) = (raw, nowS, 0);
        return ++times >= Fewest && nowS - sinceS >= LongestS;
    }
}
