// The time constant of something that goes to rest by itself: a sensor that is let go, a slab after a step. Must never give a number where the curve shows none.
namespace RoomSupervisor.Desk.Checkout.Fits;

/// <summary>Value = <paramref name="End"/> + <paramref name="Height"/> · exp(−t/<paramref name="LagS"/>), with the root of the mean square of what is left, and the share of the curve it explains, 0…1.</summary>
public readonly record struct LagFit(double LagS, double End, double Height, double LeftRms, double Share)
{
    private const double Golden = 0.6180339887498949;

    /// <summary>
    /// Least squares: for each time constant the best end and height are the solution of two linear equations; the time constant itself is searched for by golden section on its logarithm,
    /// after a coarse look for the right valley. False where fewer than six points, less than <paramref name="leastHeight"/> of movement, or a curve that is no decay.
    /// </summary>
    /// <param name="times">Seconds, rising.</param>
    /// <param name="values">Values.</param>
    /// <param name="leastHeight">Least height that counts, in the unit of the values.</param>
    /// <param name="fit">What was found.</param>
    public static bool TryFind(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double leastHeight, out LagFit fit)
    {
        fit = default;
        if (times.Length < 6 || times.Length != values.Length)
            return false;
        var span = times[^1] - times[0];
        if (!(span > 0))
            return false;
        double low = Math.Log(span / 200), high = Math.Log(span * 2), best = low, least = double.PositiveInfinity;
        const int Coarse = 60;
        for (var i = 0; i <= Coarse; i++)
        {
            var at = low + i * (high - low) / Coarse;
            if (Solve(times, values, Math.Exp(at)).Squares is var squares && squares < least)
                (best, least) = (at, squares);
        }
        var step = (high - low) / Coarse;
        var (from, to) = (best - step, best + step);
        for (var i = 0; i < 60; i++)
        {
            double left = to - Golden * (to - from), right = from + Golden * (to - from);
            if (Solve(times, values, Math.Exp(left)).Squares < Solve(times, values, Math.Exp(right)).Squares)
                to = right;
            else
                from = left;
        }
        var lagS = Math.Exp((from + to) / 2);
        var (end, height, rest) = Solve(times, values, lagS);
        var whole = Whole(values);
        fit = new LagFit(lagS, end, height, Math.Sqrt(rest / times.Length), whole > 0 ? 1 - rest / whole : 0);
        // A time constant at the edge of what was looked at was not found, and a curve explained by less than nine tenths is no decay.
        return Math.Abs(height) >= leastHeight && lagS < span * 1.9 && lagS > span / 190 && fit.Share > 0.9;
    }

    private static (double End, double Height, double Squares) Solve(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double lagS)
    {
        double n = times.Length, e = 0, ee = 0, v = 0, ev = 0;
        for (var i = 0; i < times.Length; i++)
        {
            var x = Math.Exp(-(times[i] - times[0]) / lagS);
            (e, ee, v, ev) = (e + x, ee + x * x, v + values[i], ev + x * values[i]);
        }
        var determinant = n * ee - e * e;
        if (!(Math.Abs(determinant) > 1e-12))
            return (v / n, 0, double.PositiveInfinity);
        var height = (n * ev - e * v) / determinant;
        var end = (v - height * e) / n;
        double squares = 0;
        for (var i = 0; i < times.Length; i++)
        {
            var left = values[i] - end - height * Math.Exp(-(times[i] - times[0]) / lagS);
            squares += left * left;
        }
        return (end, height, squares);
    }

    private static double Whole(ReadOnlySpan<double> values)
    {
        double mean = 0, sum = 0;
        foreach (var value in values)
            mean += value / values.Length;
        foreach (var value in values)
            sum += (value - mean) * (value - mean);
        return sum;
    }
}
