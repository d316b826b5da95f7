// Which humidity a weather row means, when its dew point and its relative humidity do not say the same.
// Must never split the difference: one column is believed, and the report says which.
using System.Globalization;
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

internal static class HumidityRule
{
    /// <summary>What a row's humidity is.</summary>
    internal readonly record struct Result(double HumidityRatio, bool Frost, string? Rule, string Field, string Was, double Now);

    /// <summary>
    /// They agree within what rounding allows: the dew point counts (it is given to 0.1 K), under 0 °C the humidity, since some months
    /// carry a frost point there. They contradict: the dew point counts, because at the seams of typical years temperature and dew point are smoothed
    /// over and the humidity is not; the row is reported.
    /// </summary>
    internal static Result Decide(double airC, double dewPointC, double humidityPercent, double pressurePa, bool seam)
    {
        string was = string.Create(CultureInfo.InvariantCulture, $"{humidityPercent} % beside a dew point of {dewPointC} °C at {airC} °C");
        if (dewPointC > airC + 0.05)
            return new(FromDewPoint(airC, pressurePa), false, "a dew point above the air is taken as saturated air", "dew point", was, airC);
        double humidity = Math.Clamp(humidityPercent, 1, 100);
        // Rounding: half a percent and a tenth of a kelvin, twice over.
        double allowed = 0.4 + 1 / (humidity * 0.064);
        bool dewGiven = MoistAir.TryDewPoint(airC, humidity, out double dew, out _), frostGiven = MoistAir.TryFrostPoint(airC, humidity, out double frost, out _);
        if (dewPointC < 0)
        {
            if (dewGiven && Math.Abs(dew - dewPointC) <= allowed) return new(FromDewPoint(dewPointC, pressurePa), false, null, "", "", 0);
            if (frostGiven && Math.Abs(frost - dewPointC) <= allowed) return new(FromDewPoint(dew, pressurePa), true, null, "", "", 0);
        }
        else if (dewGiven && Math.Abs(dew - dewPointC) <= allowed)
        {
            return new(FromDewPoint(dewPointC, pressurePa), false, null, "", "", 0);
        }

        MoistAir.TryRelativeHumidity(airC, dewPointC, out double now, out _);
        string rule = seam
            ? "month seam: humidity contradicts the dew point, which is smoothed over the seam; the dew point counts"
            : "humidity contradicts the dew point; the dew point counts";
        return new(FromDewPoint(dewPointC, pressurePa), false, rule, "relative humidity", was, now);
    }

    /// <summary>
    /// Infrared of the sky, W/m²: σT⁴·(0.787 + 0.764·ln(Td/273))·(1 + 0.0224N − 0.0035N² + 0.00028N³), dew point in K, cloud N in tenths: Walton 1983
    /// after Clark and Allen 1978, from memory.
    /// </summary>
    internal static double SkyRadiation(double airC, double ratio, double pressurePa, double cover)
    {
        MoistAir.TryDewPointFromHumidityRatio(ratio, pressurePa, out double dew, out _);
        double kelvin = airC + 273.15, cloud = 1 + cover * (0.0224 + cover * (-0.0035 + cover * 0.00028));
        return Matter.StefanBoltzmann * kelvin * kelvin * kelvin * kelvin * (0.787 + 0.764 * Math.Log((dew + 273.15) / 273)) * cloud;
    }

    private static double FromDewPoint(double dewPointC, double pressurePa)
    {
        MoistAir.TrySaturationPressure(dewPointC, out double vapour, out _);
        return 0.621945 * vapour / (pressurePa - vapour);
    }
}
