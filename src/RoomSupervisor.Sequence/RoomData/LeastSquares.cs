// Section 2, rule 7: recursive least squares with forgetting for four parameters. Pure arithmetic on a struct; never allocates, never lets a covariance grow without bound or turn negative.
namespace RoomSupervisor.Sequence.RoomData;

/// <summary>
/// y = x·θ + noise of deviation one. Gain g = P·x/(λ + xᵀ·P·x), θ += g·(y − x·θ), P = (P − g·xᵀ·P)/λ (Ljung and Söderström, Theory and Practice of Recursive Identification, 1983, from memory). With
/// λ = 1 and a prior it is ordinary least squares with that prior as four further equations.
/// </summary>
public static class LeastSquares
{
    /// <summary>Row by row of the upper half: place of (i, j), i at most j.</summary>
    private static int At(int i, int j) => i <= j ? (i * (7 - i) / 2) + j : (j * (7 - j) / 2) + i;

    /// <summary>A prior: parameters independent of each other.</summary>
    public static void Begin(ref FourSquares s, ReadOnlySpan<double> at, ReadOnlySpan<double> deviation)
    {
        s.Cover = default;
        for (var i = 0; i < 4; i++)
        {
            s.At[i] = at[i];
            s.Cover[At(i, i)] = deviation[i] * deviation[i];
        }
    }

    /// <summary>Forgets one parameter alone: what it was says nothing of what it is now.</summary>
    public static void Anew(ref FourSquares s, int which, double at, double deviation)
    {
        for (var i = 0; i < 4; i++)
            s.Cover[At(i, which)] = 0;
        s.At[which] = at;
        s.Cover[At(which, which)] = deviation * deviation;
    }

    /// <summary>A parameter that wanders: its variance grows.</summary>
    public static void Loosen(ref FourSquares s, int which, double variance) => s.Cover[At(which, which)] += variance;

    public static double Deviation(in FourSquares s, int which) => Math.Sqrt(Math.Max(0, s.Cover[At(which, which)]));

    /// <summary>One equation. Gives how far off it was foreseen, in deviations of its foreseeing, and the variance of that.</summary>
    /// <param name="s">The squares.</param>
    /// <param name="x">Regressors.</param>
    /// <param name="y">Seen; noise of deviation one.</param>
    /// <param name="keeps">Forgetting factor λ, 0.9…1.</param>
    /// <param name="most">No parameter's deviation grows over this.</param>
    /// <param name="variance">Variance of the foreseeing, at least one.</param>
    public static double Add(ref FourSquares s, ReadOnlySpan<double> x, double y, double keeps, ReadOnlySpan<double> most, out double variance)
    {
        Span<double> px = stackalloc double[4];
        px.Clear();   // locals are not cleared in this project
        var foreseen = 0.0;
        var spread = 0.0;
        for (var i = 0; i < 4; i++)
        {
            foreseen += x[i] * s.At[i];
            for (var j = 0; j < 4; j++)
                px[i] += s.Cover[At(i, j)] * x[j];
            spread += x[i] * px[i];
        }
        var off = y - foreseen;
        variance = 1 + spread;
        var gain = off / (keeps + spread);
        for (var i = 0; i < 4; i++)
        {
            s.At[i] += px[i] * gain;
            for (var j = i; j < 4; j++)
                s.Cover[At(i, j)] = (s.Cover[At(i, j)] - px[i] * px[j] / (keeps + spread)) / keeps;
        }
        Bound(ref s, most);
        return off / Math.Sqrt(variance);
    }

    /// <summary>Scales rows and columns so that no deviation is over its bound: forgetting without anything new would blow them up.</summary>
    private static void Bound(ref FourSquares s, ReadOnlySpan<double> most)
    {
        for (var i = 0; i < 4; i++)
        {
            var variance = s.Cover[At(i, i)];
            if (variance <= most[i] * most[i])
                continue;
            var share = most[i] / Math.Sqrt(variance);
            for (var j = 0; j < 4; j++)
                s.Cover[At(i, j)] *= j == i ? share * share : share;
        }
    }
}
