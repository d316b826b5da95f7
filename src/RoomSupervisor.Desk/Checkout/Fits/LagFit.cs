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
    /// <param name="drifts">True where what it comes to rest at may itself move by a straight line meanwhile, as the air of a room does: a third linear unknown.</param>
    public static bool TryFind(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double leastHeight, out LagFit fit, bool drifts = false)
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
            if (Solve(times, values, Math.Exp(at), drifts).Squares is var squares && squares < least)
                (best, least) = (at, squares);
        }
        var step = (high - low) / Coarse;
        var (from, to) = (best - step, best + step);
        for (var i = 0; i < 60; i++)
        {
            double left = to - Golden * (to - from), right = from + Golden * (to - from);
            if (Solve(times, values, Math.Exp(left), drifts).Squares < Solve(times, values, Math.Exp(right), drifts).Squares)
                to = right;
            else
                from = left;
        }
        var lagS = Math.Exp((from + to) / 2);
        var (end, height, rest) = Solve(times, values, lagS, drifts);
        var whole = Whole(values);
        fit = new LagFit(lagS, end, height, Math.Sqrt(rest / times.Length), whole > 0 ? 1 - rest / whole : 0);
        // A time constant at the edge of what was looked at was not found, and a curve explained by less than nine tenths is no decay.
        return Math.Abs(height) >= leastHeight && lagS < span * 1.9 && lagS > span / 190 && fit.Share > 0.9;
    }

    /// <summary>Normal equations of end, drift and height, by elimination; without drift that unknown is held at 0.</summary>
    private static (double End, double Height, double Squares) Solve(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double lagS, bool drifts)
    {
        Span<double> rows = stackalloc double[12];
        Span<double> one = stackalloc double[3];
        var span = times[^1] - times[0];
        rows.Clear();
        for (var i = 0; i < times.Length; i++)
        {
            var t = times[i] - times[0];
            (one[0], one[1], one[2]) = (1, drifts ? t / span : 0, Math.Exp(-t / lagS));
            for (var r = 0; r < 3; r++)
            {
                for (var c = 0; c < 3; c++)
                    rows[4 * r + c] += one[r] * one[c];
                rows[4 * r + 3] += one[r] * values[i];
            }
        }
        if (!drifts)
            rows[5] = 1;
        if (!Eliminate(rows))
            return (values[0], 0, double.PositiveInfinity);
        var (end, drift, height) = (rows[3], rows[7], rows[11]);
        double squares = 0;
        for (var i = 0; i < times.Length; i++)
        {
            var t = times[i] - times[0];
            var left = values[i] - end - drift * t / span - height * Math.Exp(-t / lagS);
            squares += left * left;
        }
        return (end, height, squares);
    }

    /// <summary>Three equations in rows of four, solved in place (Gauss and Jordan, textbook); false where they say nothing.</summary>
    private static bool Eliminate(Span<double> rows)
    {
        for (var p = 0; p < 3; p++)
        {
            if (!(Math.Abs(rows[5 * p]) > 1e-10))
                return false;
            for (var c = 3; c >= p; c--)
                rows[4 * p + c] /= rows[5 * p];
            for (var r = 0; r < 3; r++)
            {
                var times = rows[4 * r + p];
                if (r == p)
                    continue;
                for (var c = p; c < 4; c++)
                    rows[4 * r + c] -= times * rows[4 * p + c];
            }
        }
        return true;
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
