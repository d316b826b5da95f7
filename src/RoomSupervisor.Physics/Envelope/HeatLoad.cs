// Heat a room or house needs in the coldest weather it is designed for: the simplified method of EN 12831-1.
// Must never count sun, people or devices: the design night has none. Nor may it be taken for the detailed method (ground, neighbours and infiltration by their own formulas).
namespace RoomSupervisor.Physics;

/// <summary>
/// EN 12831-1:2017, clause 7 (simplified): transmission A·(U + ΔU)·f·(θi − θe) and ventilation V·n·0.34·(θi − θe). Factors and air changes are those of its tables
/// B.1, B.11 and B.12 at second hand, as open data give them; the standard itself was not read.
/// </summary>
public static class HeatLoad
{
    /// <summary>Factor of a part to the open air (table B.11).</summary>
    public const double Outside = 1;

    /// <summary>Factor of a part to an unheated space or another building (table B.11).</summary>
    public const double Unheated = 0.5;

    /// <summary>Factor of a part on the ground (table B.11).</summary>
    public const double Ground = 0.3;

    /// <summary>Factor of a part to a heated space of somebody else (table B.11).</summary>
    public const double Heated = 0.3;

    /// <summary>Air changes that single rooms are reckoned with, 1/h (table B.12).</summary>
    public const double RoomChangesPerH = 0.5;

    /// <summary>Heat of a cubic metre of air a kelvin, Wh/(m³·K), as the standard has it.</summary>
    public const double AirWhPerM3K = 0.34;

    /// <summary>Heat through one part, W; 0 where outside is as warm as inside or warmer.</summary>
    /// <param name="areaM2">0…100,000 m².</param>
    /// <param name="uWPerM2K">0.02…7 W/(m²·K).</param>
    /// <param name="bridgesWPerM2K">Addition for thermal bridges, 0…0.5 W/(m²·K).</param>
    /// <param name="factor">What lies behind, 0…1: one of the constants.</param>
    /// <param name="insideC">0…35 °C.</param>
    /// <param name="outsideC">−60…35 °C.</param>
    /// <param name="watts">W; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryTransmission(
        double areaM2, double uWPerM2K, double bridgesWPerM2K, double factor, double insideC, double outsideC, out double watts, out Impossible why)
    {
        watts = double.NaN;
        if (!Allowed.Range(nameof(areaM2), areaM2, 0, 100_000, out why)) return false;
        if (!Allowed.Range(nameof(uWPerM2K), uWPerM2K, 0.02, 7, out why)) return false;
        if (!Allowed.Range(nameof(bridgesWPerM2K), bridgesWPerM2K, 0, 0.5, out why)) return false;
        if (!Allowed.Range(nameof(factor), factor, 0, 1, out why)) return false;
        if (!Temperatures(insideC, outsideC, out why)) return false;
        watts = areaM2 * (uWPerM2K + bridgesWPerM2K) * factor * Math.Max(insideC - outsideC, 0);
        return true;
    }

    /// <summary>Heat for outdoor air, W; 0 where outside is as warm as inside or warmer.</summary>
    /// <param name="volumeM3">0…1e6 m³ of inner volume.</param>
    /// <param name="changesPerH">0…20 changes an hour.</param>
    /// <param name="insideC">0…35 °C.</param>
    /// <param name="outsideC">−60…35 °C.</param>
    /// <param name="watts">W; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryVentilation(double volumeM3, double changesPerH, double insideC, double outsideC, out double watts, out Impossible why)
    {
        watts = double.NaN;
        if (!Allowed.Range(nameof(volumeM3), volumeM3, 0, 1e6, out why)) return false;
        if (!Allowed.Range(nameof(changesPerH), changesPerH, 0, 20, out why)) return false;
        if (!Temperatures(insideC, outsideC, out why)) return false;
        watts = volumeM3 * changesPerH * AirWhPerM3K * Math.Max(insideC - outsideC, 0);
        return true;
    }

    private static bool Temperatures(double insideC, double outsideC, out Impossible why) =>
        Allowed.Range(nameof(insideC), insideC, 0, 35, out why) && Allowed.Range(nameof(outsideC), outsideC, -60, 35, out why);
}
