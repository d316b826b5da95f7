// Humidity ratio and its ways to and from relative humidity and dew point; air pressure at a height.
// Must never take a pressure for granted: every figure in kg/kg moves with the site's height.
namespace RoomSupervisor.Physics;

public static partial class MoistAir
{
    /// <summary>Lowest and highest total pressure of moist air, Pa (heights of about 11,000 m down to a mine).</summary>
    internal const double PressureLowestPa = 20_000, PressureHighestPa = 200_000;

    /// <summary>Highest humidity ratio worked with, kg/kg (saturated air at 90 °C at sea level is about 1.4).</summary>
    internal const double HumidityRatioHighest = 5;

    /// <summary>Humidity ratio W = 0.621945·pw/(p−pw), kg water per kg dry air. ASHRAE Handbook Fundamentals ch. 1.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">0…103 %, over water. 0 % gives 0.</param>
    /// <param name="pressurePa">20,000…200,000 Pa, and above the vapour pressure.</param>
    /// <param name="humidityRatio">kg/kg, at most 5; NaN when impossible.</param>
    /// <param name="why">What was impossible; where vapour would fill the whole pressure it names the relative humidity.</param>
    public static bool TryHumidityRatio(
        double dryBulbC, double relativeHumidityPercent, double pressurePa, out double humidityRatio, out Impossible why)
    {
        humidityRatio = double.NaN;
        if (!TrySaturationPressure(dryBulbC, out double saturated, out why))
        {
            why = why with { Parameter = nameof(dryBulbC) };
            return false;
        }

        if (!Allowed.Range(nameof(relativeHumidityPercent), relativeHumidityPercent, 0, HighestRelativeHumidityPercent, out why)) return false;
        if (!Allowed.Range(nameof(pressurePa), pressurePa, PressureLowestPa, PressureHighestPa, out why)) return false;
        double vapour = saturated * Math.Min(relativeHumidityPercent, 100) / 100;
        double highest = pressurePa * HumidityRatioHighest / (MassRatio + HumidityRatioHighest);
        if (vapour > highest)
        {
            why = new Impossible(nameof(relativeHumidityPercent), relativeHumidityPercent, 0, 100 * highest / saturated);
            return false;
        }

        humidityRatio = MassRatio * vapour / (pressurePa - vapour);
        return true;
    }

    /// <summary>Dew point over water, °C, from humidity ratio. ASHRAE Handbook Fundamentals ch. 1, inverted.</summary>
    /// <param name="humidityRatio">kg/kg, over 0 up to 5, and not so small that the dew point falls under −100 °C.</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="dewPointC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDewPointFromHumidityRatio(double humidityRatio, double pressurePa, out double dewPointC, out Impossible why)
    {
        dewPointC = double.NaN;
        if (!Allowed.Range(nameof(humidityRatio), humidityRatio, 0, HumidityRatioHighest, out why)) return false;
        if (!Allowed.Range(nameof(pressurePa), pressurePa, PressureLowestPa, PressureHighestPa, out why)) return false;
        double log = Math.Log(VapourPressure(humidityRatio, pressurePa));
        if (!(log >= LogAtLowest))
        {
            double thinnest = Math.Exp(LogAtLowest);
            why = new Impossible(nameof(humidityRatio), humidityRatio, MassRatio * thinnest / (pressurePa - thinnest), HumidityRatioHighest);
            return false;
        }

        dewPointC = TemperatureOverWater(log);
        return true;
    }

    /// <summary>Relative humidity over water, %, from humidity ratio.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="humidityRatio">kg/kg, 0 up to saturation (up to 103 % counts as 100).</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="relativeHumidityPercent">%, 0…100; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryRelativeHumidityFromHumidityRatio(
        double dryBulbC, double humidityRatio, double pressurePa, out double relativeHumidityPercent, out Impossible why)
    {
        relativeHumidityPercent = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, SaturationLowestC, SaturationHighestC, out why)) return false;
        if (!Allowed.Range(nameof(humidityRatio), humidityRatio, 0, HumidityRatioHighest, out why)) return false;
        if (!Allowed.Range(nameof(pressurePa), pressurePa, PressureLowestPa, PressureHighestPa, out why)) return false;
        double saturated = Math.Exp(LogOverWater(dryBulbC + ZeroCelsius));
        double percent = 100 * VapourPressure(humidityRatio, pressurePa) / saturated;
        if (percent > HighestRelativeHumidityPercent)
        {
            why = new Impossible(nameof(humidityRatio), humidityRatio, 0, MassRatio * saturated / (pressurePa - saturated));
            return false;
        }

        relativeHumidityPercent = Math.Min(percent, 100);
        return true;
    }

    /// <summary>
    /// Air pressure at a height of the standard atmosphere, Pa: 101325·(1−2.25577e-5·z)^5.2559. ASHRAE Handbook Fundamentals ch. 1 eq. 3.
    /// </summary>
    /// <param name="altitudeM">−5000…11,000 m above sea level.</param>
    /// <param name="pressurePa">Pa; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryPressureAtAltitude(double altitudeM, out double pressurePa, out Impossible why)
    {
        pressurePa = double.NaN;
        if (!Allowed.Range(nameof(altitudeM), altitudeM, -5000, 11000, out why)) return false;
        pressurePa = 101325 * Math.Pow(1 - 2.25577e-5 * altitudeM, 5.2559);
        return true;
    }

    // Vapour pressure, Pa, of air with a humidity ratio.
    internal static double VapourPressure(double humidityRatio, double pressurePa) =>
        humidityRatio * pressurePa / (MassRatio + humidityRatio);
}
