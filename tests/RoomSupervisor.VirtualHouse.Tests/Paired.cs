// Differences between two lists of runs that were played with the same seeds, for tables of comparisons. Judges nothing.
namespace RoomSupervisor.VirtualHouse.Tests;

/// <summary>With less without, pair by pair.</summary>
internal sealed class Paired(IEnumerable<double> with, IEnumerable<double> without)
{
    private const double Same = 1e-3;

    private readonly double[] off = [.. with.Zip(without, (one, other) => one - other)];

    public double Median => MedianOf(off);

    /// <summary>Mean ± its standard error, and in how many of how many it is less and more.</summary>
    public (string Mean, int Less, int More, int Count) Told
    {
        get
        {
            double mean = off.Average(), error = Math.Sqrt(off.Sum(x => (x - mean) * (x - mean)) / (off.Length - 1) / off.Length);
            return (FormattableString.Invariant($"{mean:+0.000;-0.000;0.000} ± {error:0.000}"), off.Count(x => x < -Same), off.Count(x => x > Same), off.Length);
        }
    }

    /// <summary>Of an even number the upper of the two middle ones.</summary>
    public static double MedianOf(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }
}
