// Draught, radiant asymmetry, warm or cold floors and vertical difference: what may spoil a room whose mean is right.
// Must never be mixed with other standards' models of the same names (ASHRAE 55-2017 has another vertical one).
namespace RoomSupervisor.Physics;

/// <summary>Which surface stands out from the others.</summary>
public enum AsymmetryKind
{
    /// <summary>A warm ceiling; differences up to 23 K.</summary>
    WarmCeiling,

    /// <summary>A cool wall; up to 15 K.</summary>
    CoolWall,

    /// <summary>A cool ceiling; up to 15 K.</summary>
    CoolCeiling,

    /// <summary>A warm wall; up to 35 K.</summary>
    WarmWall,
}

/// <summary>Local discomfort, % dissatisfied.</summary>
public static class LocalDiscomfort
{
    /// <summary>
    /// Draught rate, %: (34−ta)·(v−0.05)^0.62·(0.37·v·Tu+3.14), 0 below 0.05 m/s, at most 100. ISO 7730 (Fanger and others 1988). The exponent
    /// is on the velocity term alone.
    /// </summary>
    /// <param name="airC">18…28 °C (the standard says 20…26).</param>
    /// <param name="airSpeedMPerS">0…0.5 m/s, mean.</param>
    /// <param name="turbulencePercent">10…60 %; 40 if unknown.</param>
    /// <param name="dissatisfiedPercent">%; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDraught(
        double airC, double airSpeedMPerS, double turbulencePercent, out double dissatisfiedPercent, out Impossible why)
    {
        dissatisfiedPercent = double.NaN;
        if (!Allowed.Range(nameof(airC), airC, 18, 28, out why)) return false;
        if (!Allowed.Range(nameof(airSpeedMPerS), airSpeedMPerS, 0, 0.5, out why)) return false;
        if (!Allowed.Range(nameof(turbulencePercent), turbulencePercent, 10, 60, out why)) return false;
        double moving = Math.Max(airSpeedMPerS - 0.05, 0);
        dissatisfiedPercent = Math.Min((34 - airC) * Math.Pow(moving, 0.62) * (0.37 * airSpeedMPerS * turbulencePercent + 3.14), 100);
        return true;
    }

    /// <summary>
    /// Dissatisfied, %, by radiant asymmetry, 0 where the fitted curve dips below: 100/(1+exp(a−b·d))−c. ISO 7730 and ASHRAE 55 (curves as in
    /// public code of the latter).
    /// </summary>
    /// <param name="kind">Which surface stands out.</param>
    /// <param name="differenceK">Radiant temperature difference of half rooms, 0 K up to the range of the kind.</param>
    /// <param name="dissatisfiedPercent">%; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryAsymmetry(AsymmetryKind kind, double differenceK, out double dissatisfiedPercent, out Impossible why)
    {
        dissatisfiedPercent = double.NaN;
        (double a, double b, double c, double highest) = kind switch
        {
            AsymmetryKind.WarmCeiling => (2.84, 0.174, 5.5, 23.0),
            AsymmetryKind.CoolWall => (6.61, 0.345, 0, 15),
            AsymmetryKind.CoolCeiling => (9.93, 0.50, 0, 15),
            AsymmetryKind.WarmWall => (3.72, 0.052, 3.5, 35),
            _ => (double.NaN, double.NaN, double.NaN, double.NaN),
        };
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, highest, out why)) return false;
        dissatisfiedPercent = Math.Max(100 / (1 + Math.Exp(a - b * differenceK)) - c, 0);
        return true;
    }

    /// <summary>Dissatisfied, %, by floor temperature with shoes on: 100 − 94·exp(−1.387 + 0.118·t − 0.0025·t²). ISO 7730.</summary>
    /// <param name="floorC">5…40 °C.</param>
    /// <param name="dissatisfiedPercent">%; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFloor(double floorC, out double dissatisfiedPercent, out Impossible why)
    {
        dissatisfiedPercent = double.NaN;
        if (!Allowed.Range(nameof(floorC), floorC, 5, 40, out why)) return false;
        dissatisfiedPercent = 100 - 94 * Math.Exp(-1.387 + floorC * (0.118 - 0.0025 * floorC));
        return true;
    }

    /// <summary>Dissatisfied, %, by vertical difference between head and ankles (1.1 and 0.1 m): 100/(1+exp(5.76−0.856·d)). ISO 7730.</summary>
    /// <param name="differenceK">0…8 K, warmer above.</param>
    /// <param name="dissatisfiedPercent">%; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryVertical(double differenceK, out double dissatisfiedPercent, out Impossible why)
    {
        dissatisfiedPercent = double.NaN;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, 8, out why)) return false;
        dissatisfiedPercent = 100 / (1 + Math.Exp(5.76 - 0.856 * differenceK));
        return true;
    }
}
