// How often something has happened within the last hour, in twelve bins of five minutes and the one that is being filled. Packed, without references: it
// stands in Memory as it is. Must never forget an hour early: it remembers 60 to 65 minutes.
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Sequence;

/// <summary>A count over a rolling hour.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct HourCount
{
    private const int Bins = 13;
    private const double BinS = 300;

    private FiveMinutes bins;
    private byte at;
    private double binForS;

    /// <summary>Happenings of the last 60 to 65 min.</summary>
    public int Count { get; private set; }

    /// <summary>Counts one; more than 255 in five minutes count as 255.</summary>
    public void Add()
    {
        if (bins[at] == byte.MaxValue)
            return;
        bins[at]++;
        Count++;
    }

    /// <summary>Time passes.</summary>
    public void Pass(double dt)
    {
        binForS += dt;
        if (binForS >= Bins * BinS)
            this = default;
        while (binForS >= BinS)
        {
            binForS -= BinS;
            at = (byte)((at + 1) % Bins);
            Count -= bins[at];
            bins[at] = 0;
        }
    }

    [InlineArray(Bins)]
    private struct FiveMinutes
    {
        private byte first;
    }
}
