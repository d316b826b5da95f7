// A design day: the hottest or coldest a designer plans for, hour by hour.
// Must never be taken for a record: sun and course are formulas, and the text of Place says so.
using System.Globalization;
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a design day is made from.</summary>
/// <param name="LatitudeDegrees">−66…66°.</param>
/// <param name="LongitudeDegrees">−180…180°, east positive.</param>
/// <param name="StandardTimeH">Hours ahead of universal time.</param>
/// <param name="AltitudeM">−400…2,500 m.</param>
/// <param name="HighestC">−40…55 °C.</param>
/// <param name="DailyRangeK">0…30 K.</param>
/// <param name="DewPointC">All day, °C; cut off at the air's temperature.</param>
/// <param name="WindMPerS">0…20 m/s.</param>
/// <param name="WindFromDegrees">0…360°.</param>
/// <param name="Date">The day, for the sun; its year counts little.</param>
public sealed record DesignDayPlan(
    double LatitudeDegrees, double LongitudeDegrees, double StandardTimeH, double AltitudeM, double HighestC, double DailyRangeK, double DewPointC,
    double WindMPerS, double WindFromDegrees, DateOnly Date)
{
    /// <summary>Without sun: an overcast winter day.</summary>
    public bool Sunless { get; init; }

    /// <summary>Temperature of the ground, °C; NaN: not said.</summary>
    public double GroundC { get; init; } = double.NaN;
}

/// <summary>
/// Course of the day by the ASHRAE Handbook Fundamentals' share of the daily range, hour by hour (from memory); clear-sky beam after Hottel, Solar Energy
/// 18 (1976) 129, 23 km visibility, and diffuse after Liu and Jordan, Solar Energy 4 (1960) 1: τd = 0.271 − 0.294·τb.
/// </summary>
public static class DesignDay
{
    // Share of the daily range below the maximum, hours 1 to 24.
    private static readonly double[] Shares =
        [0.88, 0.92, 0.95, 0.98, 1, 0.98, 0.91, 0.74, 0.55, 0.38, 0.23, 0.13, 0.05, 0, 0, 0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82];

    /// <summary>Makes the day.</summary>
    /// <param name="plan">What it is made from.</param>
    /// <exception cref="ArgumentException">Out of range; says what.</exception>
    public static Weather Make(DesignDayPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("latitude", plan.LatitudeDegrees, -66, 66, "degrees");
        PlanChecks.Demand("altitude", plan.AltitudeM, -400, 2500, "m");
        PlanChecks.Demand("highest temperature", plan.HighestC, -40, 55, "°C");
        PlanChecks.Demand("daily range", plan.DailyRangeK, 0, 30, "K");
        PlanChecks.Demand("dew point", plan.DewPointC, -60, 32, "°C");
        PlanChecks.Demand("wind", plan.WindMPerS, 0, 20, "m/s");
        MoistAir.TryPressureAtAltitude(plan.AltitudeM, out double pressure, out _);
        double[] air = new double[24], ratio = new double[24], sky = new double[24], beam = new double[24], diffuse = new double[24], global = new double[24];
        for (int i = 0; i < 24; i++)
        {
            air[i] = plan.HighestC - Shares[i] * plan.DailyRangeK;
            MoistAir.TrySaturationPressure(Math.Min(plan.DewPointC, air[i]), out double vapour, out _);
            ratio[i] = 0.621945 * vapour / (pressure - vapour);
            sky[i] = Matter.SkyC(HumidityRule.SkyRadiation(air[i], ratio[i], pressure, plan.Sunless ? 10 : 0));
            if (!plan.Sunless) (beam[i], diffuse[i], global[i]) = Hour(plan, i);
        }

        return new Weather(new EpwFile
        {
            Place = string.Create(CultureInfo.InvariantCulture, $"design day, {plan.HighestC} °C, dew point {plan.DewPointC} °C, worked out by formulas"),
            LatitudeDegrees = plan.LatitudeDegrees,
            LongitudeDegrees = plan.LongitudeDegrees,
            StandardTimeH = plan.StandardTimeH,
            AltitudeM = plan.AltitudeM,
            AirC = air,
            HumidityRatio = ratio,
            PressurePa = Same(pressure),
            SkyC = sky,
            GlobalWPerM2 = global,
            BeamWPerM2 = beam,
            DiffuseWPerM2 = diffuse,
            WindMPerS = Same(plan.WindMPerS),
            WindFromDegrees = Same(plan.WindFromDegrees),
            Repairs = [],
            FrostPointHours = 0,
            GroundC = plan.GroundC,
        });
    }

    private static double[] Same(double value)
    {
        double[] column = new double[24];
        Array.Fill(column, value);
        return column;
    }

    // Means of the hour, twelve samples: the hour in which the sun rises is a part of one.
    private static (double Beam, double Diffuse, double Global) Hour(DesignDayPlan plan, int hour)
    {
        double beam = 0, diffuse = 0, global = 0, height = Math.Min(plan.AltitudeM / 1000, 2.5);
        double a0 = 0.4237 - 0.00821 * (6 - height) * (6 - height), a1 = 0.5055 + 0.00595 * (6.5 - height) * (6.5 - height);
        double k = 0.2711 + 0.01858 * (2.5 - height) * (2.5 - height);
        double outer = 1367 * (1 + 0.033 * Math.Cos(2 * Math.PI * plan.Date.DayOfYear / 365));
        for (int i = 0; i < 12; i++)
        {
            DateTimeOffset at = new(plan.Date.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
            at = at.AddHours(hour + (i + 0.5) / 12 - plan.StandardTimeH);
            Sun.TryPosition(Sun.UniversalDays(at), plan.LatitudeDegrees, plan.LongitudeDegrees, out SunPosition sun, out _);
            if (!(sun.ElevationDegrees > 0.5)) continue;
            double up = Math.Sin(sun.ElevationDegrees * Math.PI / 180), through = a0 + a1 * Math.Exp(-k / up);
            double scattered = outer * up * Math.Max(0.271 - 0.294 * through, 0);
            beam += outer * through / 12;
            diffuse += scattered / 12;
            global += (outer * through * up + scattered) / 12;
        }

        return (beam, diffuse, global);
    }
}
