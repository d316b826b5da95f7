// Dew point (over water at every temperature), frost point, and the way back to relative humidity.
// Must never answer a dew point for a humidity that has none: the guard against wet surfaces stands on this.
namespace RoomSupervisor.Physics;

public static partial class MoistAir
{
    /// <summary>Highest reading of relative humidity, %, that still counts (as 100 %): sensors may read a little over in saturated air.</summary>
    public const double HighestRelativeHumidityPercent = 103;

    /// <summary>True when a reading is over 100 % yet still taken as 100 %: worth a note beside the value.</summary>
    /// <param name="relativeHumidityPercent">%; any number.</param>
    public static bool IsOverSaturatedReading(double relativeHumidityPercent) =>
        relativeHumidityPercent > 100 && relativeHumidityPercent <= HighestRelativeHumidityPercent;

    /// <summary>
    /// Dew point over water, °C. Exact inversion of <see cref="TrySaturationPressure"/> (error below 1e-6 K for −40…60 °C and 1…100 %).
    /// </summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">Over 0 up to 103 %, over water; also not so dry that the dew point falls under −100 °C.</param>
    /// <param name="dewPointC">°C, never above the dry bulb; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDewPoint(double dryBulbC, double relativeHumidityPercent, out double dewPointC, out Impossible why)
    {
        dewPointC = double.NaN;
        if (!TryLogVapourPressure(dryBulbC, relativeHumidityPercent, out double log, out why)) return false;
        double dewPoint = TemperatureOverWater(log);
        dewPointC = dewPoint < dryBulbC ? dewPoint : dryBulbC;
        return true;
    }

    /// <summary>
    /// Frost point: the temperature at which ice would be in balance with the air's vapour, °C. Relative humidity still over water.
    /// Only defined where it lies at or under the triple point. Inverts <see cref="TrySaturationPressureOverIce"/>.
    /// </summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="relativeHumidityPercent">Over 0 up to 103 %, over water; the vapour pressure must not exceed that of the triple point.</param>
    /// <param name="frostPointC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible; for air too moist to have a frost point it names the relative humidity.</param>
    public static bool TryFrostPoint(double dryBulbC, double relativeHumidityPercent, out double frostPointC, out Impossible why)
    {
        frostPointC = double.NaN;
        if (!TryLogVapourPressure(dryBulbC, relativeHumidityPercent, out double log, out why)) return false;
        double excess = log - LogAtTriplePoint;
        if (excess > 1e-9)
        {
            why = new Impossible(nameof(relativeHumidityPercent), relativeHumidityPercent, 0, relativeHumidityPercent * Math.Exp(-excess));
            return false;
        }

        frostPointC = TemperatureOverIce(log);
        return true;
    }

    /// <summary>Relative humidity over water, %, of air with a dew point over water.</summary>
    /// <param name="dryBulbC">−100…200 °C.</param>
    /// <param name="dewPointC">−100 °C up to the dry bulb (a little above counts as saturated, as long as it means no more than 103 %).</param>
    /// <param name="relativeHumidityPercent">%, over 0 up to 100; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryRelativeHumidity(double dryBulbC, double dewPointC, out double relativeHumidityPercent, out Impossible why)
    {
        relativeHumidityPercent = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, SaturationLowestC, SaturationHighestC, out why)) return false;
        if (!Allowed.Range(nameof(dewPointC), dewPointC, SaturationLowestC, SaturationHighestC, out why)) return false;
        double percent = 100 * Math.Exp(LogOverWater(dewPointC + ZeroCelsius) - LogOverWater(dryBulbC + ZeroCelsius));
        if (percent > HighestRelativeHumidityPercent)
        {
            why = new Impossible(nameof(dewPointC), dewPointC, SaturationLowestC, dryBulbC);
            return false;
        }

        relativeHumidityPercent = Math.Min(percent, 100);
        return true;
    }

    private static readonly double LogAtTriplePoint = LogOverIce(TriplePointC + ZeroCelsius);

    private static readonly double LogAtLowest = LogOverWater(SaturationLowestC + ZeroCelsius);

    // ln of the vapour pressure in Pa; refuses vapour so thin that its dew point lies under the range of the saturation form.
    private static bool TryLogVapourPressure(double dryBulbC, double relativeHumidityPercent, out double log, out Impossible why)
    {
        log = double.NaN;
        if (!Allowed.Range(nameof(dryBulbC), dryBulbC, SaturationLowestC, SaturationHighestC, out why)) return false;
        if (!Allowed.Range(nameof(relativeHumidityPercent), relativeHumidityPercent, 0, HighestRelativeHumidityPercent, out why)) return false;
        double saturated = LogOverWater(dryBulbC + ZeroCelsius);
        double vapour = saturated + (relativeHumidityPercent < 100 ? Math.Log(0.01 * relativeHumidityPercent) : 0);
        if (!(vapour >= LogAtLowest))
        {
            why = new Impossible(nameof(relativeHumidityPercent), relativeHumidityPercent,
                100 * Math.Exp(LogAtLowest - saturated), HighestRelativeHumidityPercent);
            return false;
        }

        log = vapour;
        return true;
    }
}
