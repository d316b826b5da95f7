// A metal ceiling or wall panel by its tested characteristic, and the difference needed for an output.
// Must never guess a rating: rated output, rated difference and exponent come from the panel's own test report.
namespace RoomSupervisor.Physics;

/// <summary>
/// Panel characteristic P = K·dT^n in the form of EN 14240 (chilled ceilings), with dT = |room − mean water|, K. The standard itself was
/// not read; the form is common in published test reports. Exponents near 1.0 to 1.1.
/// </summary>
public static class Panel
{
    /// <summary>Output P = rated·(dT/ratedDifference)^n, W/m².</summary>
    /// <param name="ratedWattsPerM2">1…1000 W/m² at the rated difference.</param>
    /// <param name="ratedDifferenceK">0.5…80 K.</param>
    /// <param name="exponent">0.8…1.6.</param>
    /// <param name="differenceK">0…80 K.</param>
    /// <param name="wattsPerM2">W/m²; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryOutput(
        double ratedWattsPerM2, double ratedDifferenceK, double exponent, double differenceK, out double wattsPerM2, out Impossible why)
    {
        wattsPerM2 = double.NaN;
        if (!TryRating(ratedWattsPerM2, ratedDifferenceK, exponent, out why)) return false;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, 80, out why)) return false;
        wattsPerM2 = ratedWattsPerM2 * Math.Pow(differenceK / ratedDifferenceK, exponent);
        return true;
    }

    /// <summary>Difference, K, between room and mean water at which the panel gives an output.</summary>
    /// <param name="ratedWattsPerM2">1…1000 W/m² at the rated difference.</param>
    /// <param name="ratedDifferenceK">0.5…80 K.</param>
    /// <param name="exponent">0.8…1.6.</param>
    /// <param name="wattsPerM2">0…2000 W/m².</param>
    /// <param name="differenceK">K; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDifferenceFor(
        double ratedWattsPerM2, double ratedDifferenceK, double exponent, double wattsPerM2, out double differenceK, out Impossible why)
    {
        differenceK = double.NaN;
        if (!TryRating(ratedWattsPerM2, ratedDifferenceK, exponent, out why)) return false;
        if (!Allowed.Range(nameof(wattsPerM2), wattsPerM2, 0, 2000, out why)) return false;
        differenceK = ratedDifferenceK * Math.Pow(wattsPerM2 / ratedWattsPerM2, 1 / exponent);
        return true;
    }

    private static bool TryRating(double ratedWattsPerM2, double ratedDifferenceK, double exponent, out Impossible why) =>
        Allowed.Range(nameof(ratedWattsPerM2), ratedWattsPerM2, 1, 1000, out why)
        && Allowed.Range(nameof(ratedDifferenceK), ratedDifferenceK, 0.5, 80, out why)
        && Allowed.Range(nameof(exponent), exponent, 0.8, 1.6, out why);
}
