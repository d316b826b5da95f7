// Heat exchanged between a radiant surface and its room, and the difference needed for a given output.
// Must never choose between the standards in silence: where two differ, each has its own name here.
namespace RoomSupervisor.Physics;

/// <summary>
/// Exchange laws q(dT), W/m², with dT = |surface mean − operative|, K. The basic laws are EN 1264-2 and ISO 11855-2 equations 1 to 4.
/// All differences 0…60 K; a heat flow direction is the caller's business (differences are magnitudes).
/// </summary>
public static partial class RadiantSurface
{
    internal const double HighestDifferenceK = 60;

    /// <summary>Floor heating or ceiling cooling: q = 8.92·dT^1.1, W/m². EN 1264-2 basic characteristic, ISO 11855-2 eq. 1.</summary>
    /// <param name="differenceK">0…60 K.</param>
    /// <param name="wattsPerM2">W/m²; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFloorHeatingOrCeilingCooling(double differenceK, out double wattsPerM2, out Impossible why)
    {
        wattsPerM2 = double.NaN;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, HighestDifferenceK, out why)) return false;
        wattsPerM2 = 8.92 * Math.Pow(differenceK, 1.1);
        return true;
    }

    /// <summary>Difference, K, at which floor heating or ceiling cooling exchanges a heat flow: the inverse of 8.92·dT^1.1.</summary>
    /// <param name="wattsPerM2">0…800 W/m².</param>
    /// <param name="differenceK">K; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDifferenceForFloorHeatingOrCeilingCooling(double wattsPerM2, out double differenceK, out Impossible why)
    {
        differenceK = double.NaN;
        if (!Allowed.Range(nameof(wattsPerM2), wattsPerM2, 0, 800, out why)) return false;
        differenceK = Math.Pow(wattsPerM2 / 8.92, 1 / 1.1);
        return true;
    }

    /// <summary>Wall heating or cooling: q = 8·dT, W/m². ISO 11855-2 eq. 2 (EN 1264-5 uses the same 8 W/m²K).</summary>
    /// <param name="differenceK">0…60 K.</param>
    /// <param name="wattsPerM2">W/m²; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryWall(double differenceK, out double wattsPerM2, out Impossible why) =>
        TryLinear(8, differenceK, out wattsPerM2, out why);

    /// <summary>Ceiling heating: q = 6·dT, W/m². ISO 11855-2 eq. 3.</summary>
    /// <inheritdoc cref="TryWall"/>
    public static bool TryCeilingHeating(double differenceK, out double wattsPerM2, out Impossible why) =>
        TryLinear(6, differenceK, out wattsPerM2, out why);

    /// <summary>Floor cooling: q = 7·dT, W/m². ISO 11855-2 eq. 4; Olesen, AIVC 2008 (5.5 of the 7 radiant).</summary>
    /// <inheritdoc cref="TryWall"/>
    public static bool TryFloorCooling(double differenceK, out double wattsPerM2, out Impossible why) =>
        TryLinear(7, differenceK, out wattsPerM2, out why);

    /// <summary>Ceiling heating with the 6.5 W/m²K of EN 1264-5 (ISO 11855-2 says 6).</summary>
    /// <inheritdoc cref="TryWall"/>
    public static bool TryCeilingHeatingEn1264Part5(double differenceK, out double wattsPerM2, out Impossible why) =>
        TryLinear(6.5, differenceK, out wattsPerM2, out why);

    /// <summary>Floor cooling with the 6.5 W/m²K of EN 1264-5 (ISO 11855-2 says 7).</summary>
    /// <inheritdoc cref="TryWall"/>
    public static bool TryFloorCoolingEn1264Part5(double differenceK, out double wattsPerM2, out Impossible why) =>
        TryLinear(6.5, differenceK, out wattsPerM2, out why);

    private static bool TryLinear(double coefficient, double differenceK, out double wattsPerM2, out Impossible why)
    {
        wattsPerM2 = double.NaN;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, HighestDifferenceK, out why)) return false;
        wattsPerM2 = coefficient * differenceK;
        return true;
    }
}
