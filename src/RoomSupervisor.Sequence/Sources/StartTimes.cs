// When a source has started within the last hour, to the second. Packed, without references: it stands in Memory as it is. Must never forget a start
// early: compressors wear by their starts.
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Sequence;

/// <summary>The starts of the last hour, oldest first; of more than <see cref="Most"/> the latest.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct StartTimes
{
    /// <summary>How many are held, and the largest limit that can be asked for.</summary>
    public const int Most = 12;

    private const double HourS = 3600;

    private Ages ages;

    /// <summary>Starts of the last hour.</summary>
    public int Count { get; private set; }

    /// <summary>Counts one now.</summary>
    public void Add()
    {
        if (Count == Most)
            DropOldest();
        ages[Count++] = 0;
    }

    /// <summary>Time passes, s; what is older than an hour is forgotten.</summary>
    public void Pass(double dt)
    {
        for (var i = 0; i < Count; i++)
            ages[i] += dt;
        while (Count > 0 && ages[0] >= HourS)
            DropOldest();
    }

    /// <summary>Time until fewer than so many starts lie within the last hour, s; 0: now.</summary>
    public readonly double UntilFewerThan(int most) => Count < most ? 0 : HourS - ages[Count - most];

    private void DropOldest()
    {
        Count--;
        for (var i = 0; i < Count; i++)
            ages[i] = ages[i + 1];
    }

    [InlineArray(Most)]
    private struct Ages
    {
        private double first;
    }
}
