// Air through an open door and a tilted window.
// Must never be taken for infiltration of a closed room: these are open.
namespace RoomSupervisor.Physics;

/// <summary>Air exchange through large openings.</summary>
public static class Openings
{
    /// <summary>
    /// Two-way flow through an open door between two still rooms, m³/h each way: (Cd/3)·A·√(g·H·dT/T). Brown and Solvason, Int. J. Heat Mass
    /// Transfer 5 (1962), from memory.
    /// </summary>
    /// <param name="widthM">0.1…10 m.</param>
    /// <param name="heightM">0.1…10 m.</param>
    /// <param name="warmC">−40…60 °C, not under the cold side.</param>
    /// <param name="coldC">−40…60 °C.</param>
    /// <param name="discharge">Cd, 0.2…1; about 0.6 (0.4 to 0.8 measured at doors).</param>
    /// <param name="flowM3PerH">m³/h each way; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDoor(
        double widthM, double heightM, double warmC, double coldC, double discharge, out double flowM3PerH, out Impossible why)
    {
        flowM3PerH = double.NaN;
        if (!Allowed.Range(nameof(widthM), widthM, 0.1, 10, out why)) return false;
        if (!Allowed.Range(nameof(heightM), heightM, 0.1, 10, out why)) return false;
        if (!Allowed.Range(nameof(coldC), coldC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(warmC), warmC, coldC, 60, out why)) return false;
        if (!Allowed.Range(nameof(discharge), discharge, 0.2, 1, out why)) return false;
        double mean = (warmC + coldC) / 2 + MoistAir.ZeroCelsius;
        flowM3PerH = 3600 * discharge / 3 * widthM * heightM * Math.Sqrt(9.80665 * heightM * (warmC - coldC) / mean);
        return true;
    }

    /// <summary>
    /// Share of a window's opening that a bottom-hung sash frees: 2.6e-7·a³ − 1.19e-4·a² + 1.86e-2·a. EN 15242:2007 (from memory).
    /// </summary>
    /// <param name="angleDegrees">0…180°; tilted windows stand at 5 to 10°.</param>
    /// <param name="share">0…1; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryTiltShare(double angleDegrees, out double share, out Impossible why)
    {
        share = double.NaN;
        if (!Allowed.Range(nameof(angleDegrees), angleDegrees, 0, 180, out why)) return false;
        share = Math.Min(angleDegrees * (1.86e-2 + angleDegrees * (-1.19e-4 + angleDegrees * 2.6e-7)), 1);
        return true;
    }

    /// <summary>
    /// Single-sided airing through one window, m³/h: 3600·(A/2)·√(0.01 + 0.001·v² + 0.0035·H·|dT|). EN 15242:2007 (from memory), after
    /// measurements by de Gids and Phaff.
    /// </summary>
    /// <param name="openAreaM2">Free area, 0…20 m² (window area times tilt share).</param>
    /// <param name="heightM">0.1…5 m.</param>
    /// <param name="insideC">−40…60 °C.</param>
    /// <param name="outsideC">−40…60 °C.</param>
    /// <param name="windMPerS">0…40 m/s, meteorological.</param>
    /// <param name="flowM3PerH">m³/h; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryWindow(
        double openAreaM2, double heightM, double insideC, double outsideC, double windMPerS, out double flowM3PerH, out Impossible why)
    {
        flowM3PerH = double.NaN;
        if (!Allowed.Range(nameof(openAreaM2), openAreaM2, 0, 20, out why)) return false;
        if (!Allowed.Range(nameof(heightM), heightM, 0.1, 5, out why)) return false;
        if (!Allowed.Range(nameof(insideC), insideC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(outsideC), outsideC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(windMPerS), windMPerS, 0, 40, out why)) return false;
        double square = 0.01 + 0.001 * windMPerS * windMPerS + 0.0035 * heightM * Math.Abs(insideC - outsideC);
        flowM3PerH = 1800 * openAreaM2 * Math.Sqrt(square);
        return true;
    }
}
