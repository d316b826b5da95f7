// One state of moist air with all its properties, made from dry bulb, pressure and any one measure of humidity.
// Must never hold a part that does not belong to the rest: the only ways to make one compute all of it, or fail.
namespace RoomSupervisor.Physics;

/// <summary>A state of moist air. Made by the Try… functions; on failure the state is <see cref="Unknown"/> (NaN throughout).</summary>
public readonly record struct AirState
{
    /// <summary>Dry bulb, °C.</summary>
    public double DryBulbC { get; private init; }

    /// <summary>Relative humidity over water, %, at most 100.</summary>
    public double RelativeHumidityPercent { get; private init; }

    /// <summary>Dew point over water, °C.</summary>
    public double DewPointC { get; private init; }

    /// <summary>Thermodynamic wet bulb, °C (iced below 0 °C).</summary>
    public double WetBulbC { get; private init; }

    /// <summary>kg water per kg dry air.</summary>
    public double HumidityRatio { get; private init; }

    /// <summary>kJ per kg dry air.</summary>
    public double EnthalpyKJPerKg { get; private init; }

    /// <summary>m³ per kg dry air.</summary>
    public double SpecificVolumeM3PerKg { get; private init; }

    /// <summary>kg of moist air per m³.</summary>
    public double DensityKgPerM3 { get; private init; }

    /// <summary>Total pressure, Pa.</summary>
    public double PressurePa { get; private init; }

    /// <summary>No state: every part NaN.</summary>
    public static readonly AirState Unknown = new()
    {
        DryBulbC = double.NaN,
        RelativeHumidityPercent = double.NaN,
        DewPointC = double.NaN,
        WetBulbC = double.NaN,
        HumidityRatio = double.NaN,
        EnthalpyKJPerKg = double.NaN,
        SpecificVolumeM3PerKg = double.NaN,
        DensityKgPerM3 = double.NaN,
        PressurePa = double.NaN,
    };

    /// <summary>State from relative humidity over water. Dry bulb −60…90 °C, humidity over 0 up to 103 %, pressure 20,000…200,000 Pa.</summary>
    public static bool TryFromRelativeHumidity(
        double dryBulbC, double relativeHumidityPercent, double pressurePa, out AirState state, out Impossible why)
    {
        state = Unknown;
        if (!MoistAir.TryWetBulb(dryBulbC, relativeHumidityPercent, pressurePa, out double wetBulb, out why)) return false;
        if (!MoistAir.TryDewPoint(dryBulbC, relativeHumidityPercent, out double dewPoint, out why)) return false;
        if (!MoistAir.TryHumidityRatio(dryBulbC, relativeHumidityPercent, pressurePa, out double ratio, out why)) return false;
        double volume = MoistAir.SpecificVolume(dryBulbC, ratio, pressurePa);
        state = new AirState
        {
            DryBulbC = dryBulbC,
            RelativeHumidityPercent = Math.Min(relativeHumidityPercent, 100),
            DewPointC = dewPoint,
            WetBulbC = wetBulb,
            HumidityRatio = ratio,
            EnthalpyKJPerKg = MoistAir.Enthalpy(dryBulbC, ratio),
            SpecificVolumeM3PerKg = volume,
            DensityKgPerM3 = (1 + ratio) / volume,
            PressurePa = pressurePa,
        };
        return true;
    }

    /// <summary>State from dew point over water, °C: −100 °C up to the dry bulb. Other ranges as for relative humidity.</summary>
    public static bool TryFromDewPoint(double dryBulbC, double dewPointC, double pressurePa, out AirState state, out Impossible why)
    {
        state = Unknown;
        return MoistAir.TryRelativeHumidity(dryBulbC, dewPointC, out double percent, out why)
            && TryFromRelativeHumidity(dryBulbC, percent, pressurePa, out state, out why);
    }

    /// <summary>State from wet bulb, °C, at most the dry bulb. Other ranges as for relative humidity.</summary>
    public static bool TryFromWetBulb(double dryBulbC, double wetBulbC, double pressurePa, out AirState state, out Impossible why)
    {
        state = Unknown;
        return MoistAir.TryHumidityRatioFromWetBulb(dryBulbC, wetBulbC, pressurePa, out double ratio, out why)
            && TryFromHumidityRatio(dryBulbC, ratio, pressurePa, out state, out why);
    }

    /// <summary>State from humidity ratio, kg/kg, over 0 up to saturation. Other ranges as for relative humidity.</summary>
    public static bool TryFromHumidityRatio(double dryBulbC, double humidityRatio, double pressurePa, out AirState state, out Impossible why)
    {
        state = Unknown;
        return MoistAir.TryRelativeHumidityFromHumidityRatio(dryBulbC, humidityRatio, pressurePa, out double percent, out why)
            && TryFromRelativeHumidity(dryBulbC, percent, pressurePa, out state, out why);
    }
}
