// How much air passes a door between rooms, an opening to the outside, and the cracks of a closed room.
// Must never take air from nowhere: what goes in at one place comes out there or at another.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Air exchange, m³/s each way.</summary>
public static class AirExchange
{
    /// <summary>
    /// Two-way flow through a tall opening between two still rooms, (Cd/3)·W·H·√(g·H·dT/T): Brown and Solvason, Natural convection through
    /// rectangular openings in partitions, Int. J. Heat and Mass Transfer 5 (1962) 859. The difference is that of virtual temperatures: humid air is light.
    /// </summary>
    /// <param name="areaM2">0…200 m².</param>
    /// <param name="heightM">0.1…10 m.</param>
    /// <param name="discharge">0.2…1; 0.6 usual, 0.4 to 0.8 measured.</param>
    /// <param name="oneVirtualK">Virtual temperature, K.</param>
    /// <param name="otherVirtualK">Virtual temperature, K.</param>
    public static double Door(double areaM2, double heightM, double discharge, double oneVirtualK, double otherVirtualK) =>
        discharge / 3 * areaM2 * Math.Sqrt(9.80665 * heightM * Math.Abs(oneVirtualK - otherVirtualK) * 2 / (oneVirtualK + otherVirtualK));

    /// <summary>
    /// One opening to the outside, wind and buoyancy together: (A/2)·√(0.01 + 0.001·v² + 0.0035·H·|dT|): de Gids and Phaff, Ventilation rates
    /// and energy consumption due to open windows, Air Infiltration Review 4 (1982); also EN 16798-7. At no wind it stands beside the tall
    /// opening's formula with Cd 0.48.
    /// </summary>
    /// <param name="areaM2">Free area, 0…100 m².</param>
    /// <param name="heightM">0.1…10 m.</param>
    /// <param name="windMPerS">At 10 m, 0…40 m/s.</param>
    /// <param name="differenceK">Of virtual temperatures, K.</param>
    public static double Opening(double areaM2, double heightM, double windMPerS, double differenceK) =>
        areaM2 / 2 * Math.Sqrt(0.01 + 0.001 * windMPerS * windMPerS + 0.0035 * heightM * Math.Abs(differenceK));

    /// <summary>
    /// Cracks: A·√(fs·|dT| + fw·v²), Sherman and Grimsrud 1980 in the form of the ASHRAE Handbook Fundamentals with its coefficients for one
    /// storey and moderate shelter, fs 0.000145 and fw 0.000104 (l/s)²/(cm⁴·K) and (l/s)²/(cm⁴·(m/s)²), from memory.
    /// </summary>
    /// <param name="leakageM2">Effective leakage area, 0…1 m².</param>
    /// <param name="windMPerS">0…40 m/s.</param>
    /// <param name="differenceK">K.</param>
    public static double Cracks(double leakageM2, double windMPerS, double differenceK) =>
        10 * leakageM2 * Math.Sqrt(0.000145 * Math.Abs(differenceK) + 0.000104 * windMPerS * windMPerS);

    /// <summary>
    /// Wind through two openings and the doors between: Cd·A·v·√dCp with 1/A² the sum over the way (orifices in series; the form of EN 16798-7's cross
    /// ventilation, Cd 0.6). Turbulence behind each orifice is taken as lost.
    /// </summary>
    /// <param name="seriesPerM4">Sum of 1/A² over the way, 1/m⁴.</param>
    /// <param name="windMPerS">At the house, 0…40 m/s.</param>
    /// <param name="pressureDifference">Difference of wind pressure coefficients, over 0.</param>
    public static double Through(double seriesPerM4, double windMPerS, double pressureDifference) =>
        0.6 * windMPerS * Math.Sqrt(pressureDifference / seriesPerM4);

    /// <summary>
    /// Wind pressure coefficient of a low house's wall, sheltered as among others: 0.4·cos towards the wind, −0.25 on all other sides (smoothed from the tables
    /// of AIVC Technical Note 44, from memory).
    /// </summary>
    /// <param name="windFromDegrees">Where the wind comes from.</param>
    /// <param name="azimuthDegrees">Where the wall faces.</param>
    public static double WindPressure(double windFromDegrees, double azimuthDegrees)
    {
        double towards = Math.Cos((windFromDegrees - azimuthDegrees) * Math.PI / 180);
        return towards > 0 ? -0.25 + 0.65 * towards : -0.25;
    }

    /// <summary>Virtual temperature, K: that of dry air of the same density. W as kg/kg dry air.</summary>
    public static double VirtualK(double airC, double humidityRatio) => (airC + 273.15) * (1 + 1.607858 * humidityRatio) / (1 + humidityRatio);
}
