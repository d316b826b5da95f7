// Thermodynamic wet bulb from dry bulb and humidity, and humidity ratio from a wet bulb.
// Must never iterate without bound: the root is bracketed by physics and the loop ends after a fixed count.
namespace RoomSupervisor.Physics;

public static partial class MoistAir
{
    /// <summary>Lowest and highest dry bulb of the wet-bulb equation, °C.</summary>
    internal const double WetBulbLowestC = -60, WetBulbHighestC = 90;

    /// <summary>
    /// Thermodynamic wet bulb, °C. ASHRAE Handbook Fundamentals ch. 1 eqs. 33 and 35, solved by Halley steps. At 0 °C and above the bulb
    /// is wet with water; below it is covered with ice, and vapour pressure over ice is used. The two forms overlap by a little at 0 °C;
    /// where both have a solution the wet one is taken. Below 0 °C air over ice saturation (relative humidity is over water) warms an iced
    /// bulb: there the result may lie above the dry bulb by some tenths of a kelvin.
    /// </summary>
    /// <param name="dryBulbC">−60…90 °C.</param>
    /// <param name="relativeHumidityPercent">0…103 %, over water.</param>
    /// <param name="pressurePa">20,000…200,000 Pa, and above the vapour pressure.</param>
    /// <param name="wetBulbC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryWetBulb(
        double dryBulbC, double relativeHumidityPercent, double pressurePa, out double wetBulbC, out Impossible why)
    {
        wetBulbC = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, WetBulbLowestC, WetBulbHighestC, out why)) return false;
        if (!TryHumidityRatio(dryBulbC, relativeHumidityPercent, pressurePa, out double ratio, out why)) return false;
        wetBulbC = WetBulb(dryBulbC, relativeHumidityPercent, ratio, pressurePa);
        return true;
    }

    /// <summary>Humidity ratio, kg/kg, from dry and wet bulb. ASHRAE Handbook Fundamentals ch. 1 eqs. 33 and 35.</summary>
    /// <param name="dryBulbC">−60…90 °C.</param>
    /// <param name="wetBulbC">°C; not so far below the dry bulb that the air would hold less than no water, nor above it.</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="humidityRatio">kg/kg; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryHumidityRatioFromWetBulb(
        double dryBulbC, double wetBulbC, double pressurePa, out double humidityRatio, out Impossible why)
    {
        humidityRatio = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, WetBulbLowestC, WetBulbHighestC, out why)) return false;
        if (!Allowed.Range(nameof(pressurePa), pressurePa, PressureLowestPa, PressureHighestPa, out why)) return false;
        double lowest = WetBulb(dryBulbC, 0, 0, pressurePa);
        // Iced bulbs in air over ice saturation stand a little above the dry bulb; warm ones never do.
        double highest = dryBulbC < 0 ? Math.Min(dryBulbC + 1, 0) : dryBulbC;
        if (!Allowed.Range(nameof(wetBulbC), wetBulbC, lowest - 1e-9, highest, out why)) return false;
        double kelvin = wetBulbC + ZeroCelsius;
        double vapour = Math.Exp(wetBulbC >= 0 ? LogOverWater(kelvin) : LogOverIce(kelvin));
        if (!Allowed.Range(nameof(pressurePa), pressurePa, vapour * 1.1, PressureHighestPa, out why)) return false;
        double saturated = MassRatio * vapour / (pressurePa - vapour);
        double ratio = wetBulbC >= 0
            ? ((2501 - 2.326 * wetBulbC) * saturated - 1.006 * (dryBulbC - wetBulbC)) / (2501 + 1.86 * dryBulbC - 4.186 * wetBulbC)
            : ((2830 - 0.24 * wetBulbC) * saturated - 1.006 * (dryBulbC - wetBulbC)) / (2830 + 1.86 * dryBulbC - 2.1 * wetBulbC);
        humidityRatio = Math.Max(ratio, 0);
        return true;
    }

    private static readonly double VapourAtZero = Math.Exp(LogOverWater(ZeroCelsius));

    // The balance is multiplied by (p − pws), so it has no pole where water would boil. Humidity is only for the first guess.
    private static double WetBulb(double dryBulbC, double percent, double ratio, double pressurePa)
    {
        double atZero = 2501 * MassRatio * VapourAtZero
            - (1.006 * dryBulbC + ratio * (2501 + 1.86 * dryBulbC)) * (pressurePa - VapourAtZero);
        bool wet = atZero <= 0;
        double latent = wet ? 2501 : 2830, latentSlope = wet ? 2.326 : 0.24, liquid = wet ? 4.186 : 2.1;
        double heldSlope = 1.006 + ratio * liquid;
        // Within about 3 K for a house's air.
        double x = dryBulbC - Math.Max(1 - 0.01 * percent, 0) * Math.Max(0.33 * dryBulbC + 6, 0);
        x = wet ? Math.Max(x, 0) : Math.Min(x, 0);
        for (int step = 0; step < 12; step++)
        {
            double kelvin = x + ZeroCelsius;
            double slope, curvature;
            double vapour = Math.Exp(wet ? LogOverWater(kelvin, out slope, out curvature) : LogOverIce(kelvin, out slope, out curvature));
            curvature += slope * slope;
            double heat = (latent - latentSlope * x) * MassRatio;
            double held = 1.006 * (dryBulbC - x) + ratio * (latent + 1.86 * dryBulbC - liquid * x);
            double balance = heat * vapour - held * (pressurePa - vapour);
            double sum = heat + held;
            double first = vapour * (sum * slope - latentSlope * MassRatio - heldSlope) + heldSlope * pressurePa;
            double second = vapour * (sum * curvature - 2 * slope * (latentSlope * MassRatio + heldSlope));
            double move = 2 * balance * first / (2 * first * first - balance * second);
            x -= move;
            // The error left is about 2e-3 times the cube of the move.
            if (Math.Abs(move) < 0.03) break;
        }

        return wet ? Math.Min(x, dryBulbC) : x;
    }
}
