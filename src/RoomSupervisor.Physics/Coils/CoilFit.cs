// Finds a coil's two conductances from its rating points.
// Must never return a fit without how far it is off: the worst relative residual comes with it.
namespace RoomSupervisor.Physics;

/// <summary>
/// Least squares of relative residuals (total and, where rated, sensible heat) over the logarithms of the two conductances, by damped
/// Gauss-Newton with numerical slopes. Deterministic; nothing allocates.
/// </summary>
public static class CoilFit
{
    /// <summary>Fits the two reference conductances; flows and exponents stay as given.</summary>
    /// <param name="ratings">1 to 1000 rating points. A single point without sensible heat cannot part the two conductances.</param>
    /// <param name="start">Reference flows, exponents and first guess of the conductances.</param>
    /// <param name="fitted">The model; conductances NaN when impossible.</param>
    /// <param name="worstShare">Largest relative residual at the fitted points; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFit(
        ReadOnlySpan<CoilRating> ratings, in CoilModel start, out CoilModel fitted, out double worstShare, out Impossible why)
    {
        fitted = start with { Reference = new CoilConductances(double.NaN, double.NaN) };
        worstShare = double.NaN;
        if (!Allowed.Range("ratings.Length", ratings.Length, 1, 1000, out why)) return false;
        double air = Math.Log(start.Reference.AirWPerK), water = Math.Log(start.Reference.WaterWPerK), damping = 1e-3;
        if (!TrySums(ratings, start, air, water, out Sums here, out why)) return false;
        for (int round = 0; round < 100 && damping < 1e9; round++)
        {
            (double da, double dw) = here.Step(damping);
            double nextAir = Limit(air + Math.Clamp(da, -1, 1)), nextWater = Limit(water + Math.Clamp(dw, -1, 1));
            if (!TrySums(ratings, start, nextAir, nextWater, out Sums next, out why)) return false;
            bool better = next.Square < here.Square;
            bool settled = better && here.Square - next.Square < 1e-14;
            damping = better ? damping / 4 : damping * 6;
            if (better) (air, water, here) = (nextAir, nextWater, next);
            if (settled) break;
        }

        fitted = With(start, air, water);
        worstShare = here.Worst;
        return true;
    }

    private static double Limit(double logarithm) => Math.Clamp(logarithm, 1, 11);

    private static CoilModel With(in CoilModel model, double air, double water) =>
        model with { Reference = new CoilConductances(Math.Exp(air), Math.Exp(water)) };

    // Normal equations of the two unknowns.
    private record struct Sums(double Square, double Worst, double Aa, double Aw, double Ww, double Ra, double Rw)
    {
        internal void Add(double residual, double slopeAir, double slopeWater)
        {
            Square += residual * residual;
            Worst = Math.Max(Worst, Math.Abs(residual));
            Aa += slopeAir * slopeAir;
            Aw += slopeAir * slopeWater;
            Ww += slopeWater * slopeWater;
            Ra += slopeAir * residual;
            Rw += slopeWater * residual;
        }

        internal readonly (double Air, double Water) Step(double damping)
        {
            double a = Aa * (1 + damping) + 1e-12, w = Ww * (1 + damping) + 1e-12, determinant = a * w - Aw * Aw;
            return ((-Ra * w + Rw * Aw) / determinant, (-Rw * a + Ra * Aw) / determinant);
        }
    }

    private static bool TrySums(ReadOnlySpan<CoilRating> ratings, in CoilModel model, double air, double water, out Sums sums, out Impossible why)
    {
        sums = default;
        why = default;
        foreach (CoilRating rating in ratings)
        {
            if (!(Math.Abs(rating.TotalW) >= 1))
            {
                why = new Impossible("ratings.TotalW", rating.TotalW, 1, double.MaxValue);
                return false;
            }

            if (!TryGive(rating, With(model, air, water), out CoilResult at, out why)
                || !TryGive(rating, With(model, air + 1e-4, water), out CoilResult moreAir, out why)
                || !TryGive(rating, With(model, air, water + 1e-4), out CoilResult moreWater, out why)) return false;
            sums.Add(at.TotalW / rating.TotalW - 1,
                (moreAir.TotalW - at.TotalW) / rating.TotalW / 1e-4, (moreWater.TotalW - at.TotalW) / rating.TotalW / 1e-4);
            if (double.IsNaN(rating.SensibleW)) continue;
            sums.Add(at.SensibleW / rating.SensibleW - 1,
                (moreAir.SensibleW - at.SensibleW) / rating.SensibleW / 1e-4, (moreWater.SensibleW - at.SensibleW) / rating.SensibleW / 1e-4);
        }

        return true;
    }

    private static bool TryGive(in CoilRating rating, in CoilModel model, out CoilResult result, out Impossible why)
    {
        result = CoilResult.Unknown;
        return model.TryAt(rating.Input.DryAirKgPerS, rating.Input.WaterKgPerS, out CoilConductances conductances, out why)
            && Coil.TrySolve(rating.Input, conductances, out result, out why);
    }
}
