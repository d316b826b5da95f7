// How far a dew point may be off when the sensors are off by their stated accuracy.
// Must never be read as a limit of the true error: it is the root sum square of two stated accuracies, no drift, no placement.
namespace RoomSupervisor.Physics;

public static partial class MoistAir
{
    /// <summary>
    /// Partial derivatives of the dew point: dTd/dT = s(T)/s(Td) and dTd/dRH = 1/(RH·s(Td)), with s = d ln p/dT of the saturation form.
    /// (Differentiating <see cref="TryDewPoint"/>; a reading of 100 to 103 % counts as 100.)
    /// </summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">Over 0 up to 103 %, over water.</param>
    /// <param name="perKelvin">K of dew point per K of dry bulb; NaN when impossible.</param>
    /// <param name="perPercent">K of dew point per % of relative humidity; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDewPointSlopes(
        double dryBulbC, double relativeHumidityPercent, out double perKelvin, out double perPercent, out Impossible why)
    {
        perKelvin = perPercent = double.NaN;
        if (!TryDewPoint(dryBulbC, relativeHumidityPercent, out double dewPointC, out why)) return false;
        Slopes(dryBulbC, relativeHumidityPercent, dewPointC, out perKelvin, out perPercent);
        return true;
    }

    /// <summary>Error of the dew point, K, as the root sum square of the two sensors' accuracies through the partial derivatives.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">Over 0 up to 103 %, over water.</param>
    /// <param name="temperatureAccuracyK">0…20 K (±).</param>
    /// <param name="humidityAccuracyPercent">0…50 % relative humidity (±).</param>
    /// <param name="errorK">K (±); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDewPointError(
        double dryBulbC, double relativeHumidityPercent, double temperatureAccuracyK, double humidityAccuracyPercent,
        out double errorK, out Impossible why)
        => TryDewPointAndError(dryBulbC, relativeHumidityPercent, temperatureAccuracyK, humidityAccuracyPercent, out _, out errorK, out why);

    /// <summary>Dew point, °C, and its error, K, in one: what <see cref="TryDewPoint"/> and <see cref="TryDewPointError"/> say, for half the work.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">Over 0 up to 103 %, over water.</param>
    /// <param name="temperatureAccuracyK">0…20 K (±).</param>
    /// <param name="humidityAccuracyPercent">0…50 % relative humidity (±).</param>
    /// <param name="dewPointC">°C; NaN when impossible.</param>
    /// <param name="errorK">K (±); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDewPointAndError(
        double dryBulbC, double relativeHumidityPercent, double temperatureAccuracyK, double humidityAccuracyPercent,
        out double dewPointC, out double errorK, out Impossible why)
    {
        dewPointC = errorK = double.NaN;
        if (!Allowed.Range(nameof(temperatureAccuracyK), temperatureAccuracyK, 0, 20, out why)) return false;
        if (!Allowed.Range(nameof(humidityAccuracyPercent), humidityAccuracyPercent, 0, 50, out why)) return false;
        if (!TryDewPoint(dryBulbC, relativeHumidityPercent, out dewPointC, out why)) return false;
        Slopes(dryBulbC, relativeHumidityPercent, dewPointC, out double perKelvin, out double perPercent);
        double fromTemperature = perKelvin * temperatureAccuracyK;
        double fromHumidity = perPercent * humidityAccuracyPercent;
        errorK = Math.Sqrt(fromTemperature * fromTemperature + fromHumidity * fromHumidity);
        return true;
    }

    private static void Slopes(double dryBulbC, double relativeHumidityPercent, double dewPointC, out double perKelvin, out double perPercent)
    {
        double atDewPoint = SlopeOverWater(dewPointC + ZeroCelsius);
        perKelvin = SlopeOverWater(dryBulbC + ZeroCelsius) / atDewPoint;
        perPercent = 1 / (Math.Min(relativeHumidityPercent, 100) * atDewPoint);
    }
}
