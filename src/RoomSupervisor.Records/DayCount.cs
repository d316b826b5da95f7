// Small helpers of the Records thread that count by time: bytes of the last day, and a clock that was moved. Must never ask what time it is.
namespace RoomSupervisor.Records;

/// <summary>Bytes within the last 24 h, by the hour.</summary>
internal sealed class DayCount
{
    private readonly long[] hours = new long[24];
    private long before, hour;

    /// <summary>Sum of the last 24 hours; any thread.</summary>
    public long Sum
    {
        get
        {
            var sum = 0L;
            for (var i = 0; i < hours.Length; i++)
                sum += Interlocked.Read(ref hours[i]);
            return sum;
        }
    }

    /// <summary>Tells how much has been written since start.</summary>
    public void Set(double nowS, long total)
    {
        var now = (long)(Math.Max(0, nowS) / 3600);
        for (var old = Math.Max(hour + 1, now - 23); old <= now; old++)
            Interlocked.Exchange(ref hours[old % 24], 0);
        hour = Math.Max(hour, now);
        Interlocked.Add(ref hours[hour % 24], total - before);
        before = total;
    }
}

/// <summary>Sees that wall time was moved against the monotonic clock.</summary>
internal sealed class ClockWatch
{
    /// <summary>A time server that nudges the clock is no news, s.</summary>
    private const double NewsS = 2;

    private DateTime utc;
    private double atS = double.NaN;

    /// <summary>True when the clock jumped since the last look, with seconds (negative: back).</summary>
    public bool Moved(DateTime nowUtc, double nowS, out double byS)
    {
        byS = double.IsNaN(atS) ? 0 : (nowUtc - utc).TotalSeconds - (nowS - atS);
        (utc, atS) = (nowUtc, nowS);
        return Math.Abs(byS) > NewsS;
    }
}
