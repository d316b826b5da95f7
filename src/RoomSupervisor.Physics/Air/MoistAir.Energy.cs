// Enthalpy, specific volume and density of moist air.
// Must never be fed relative humidity: these take the humidity ratio, which does not change when air is only warmed or cooled.
namespace RoomSupervisor.Physics;

public static partial class MoistAir
{
    /// <summary>Enthalpy h = 1.006·t + W·(2501+1.86·t), kJ per kg dry air, 0 for dry air at 0 °C. ASHRAE Handbook Fundamentals ch. 1.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="humidityRatio">0…5 kg/kg.</param>
    /// <param name="enthalpyKJPerKg">kJ/kg dry air; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryEnthalpy(double dryBulbC, double humidityRatio, out double enthalpyKJPerKg, out Impossible why)
    {
        enthalpyKJPerKg = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, SaturationLowestC, SaturationHighestC, out why)) return false;
        if (!Allowed.Range(nameof(humidityRatio), humidityRatio, 0, HumidityRatioHighest, out why)) return false;
        enthalpyKJPerKg = Enthalpy(dryBulbC, humidityRatio);
        return true;
    }

    /// <summary>Specific volume v = 0.287042·T·(1+1.607858·W)/p[kPa], m³ per kg dry air. ASHRAE Handbook Fundamentals ch. 1.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="humidityRatio">0…5 kg/kg.</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="volumeM3PerKg">m³/kg dry air; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySpecificVolume(
        double dryBulbC, double humidityRatio, double pressurePa, out double volumeM3PerKg, out Impossible why)
    {
        volumeM3PerKg = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, SaturationLowestC, SaturationHighestC, out why)) return false;
        if (!Allowed.Range(nameof(humidityRatio), humidityRatio, 0, HumidityRatioHighest, out why)) return false;
        if (!Allowed.Range(nameof(pressurePa), pressurePa, PressureLowestPa, PressureHighestPa, out why)) return false;
        volumeM3PerKg = SpecificVolume(dryBulbC, humidityRatio, pressurePa);
        return true;
    }

    /// <summary>Density (1+W)/v, kg of moist air per m³. ASHRAE Handbook Fundamentals ch. 1.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="humidityRatio">0…5 kg/kg.</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="densityKgPerM3">kg/m³; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDensity(double dryBulbC, double humidityRatio, double pressurePa, out double densityKgPerM3, out Impossible why)
    {
        densityKgPerM3 = double.NaN;
        if (!TrySpecificVolume(dryBulbC, humidityRatio, pressurePa, out double volume, out why)) return false;
        densityKgPerM3 = (1 + humidityRatio) / volume;
        return true;
    }

    internal static double Enthalpy(double dryBulbC, double humidityRatio) => 1.006 * dryBulbC + humidityRatio * (2501 + 1.86 * dryBulbC);

    internal static double SpecificVolume(double dryBulbC, double humidityRatio, double pressurePa) =>
        287.042 * (dryBulbC + ZeroCelsius) * (1 + 1.607858 * humidityRatio) / pressurePa;
}
