// Saturation pressure of water vapour over water and over ice, and the inverse of both, in the log domain.
// Must never mix the two: everything called "dew" is over water, everything over ice says so in its name.
using System.Runtime.CompilerServices;

namespace RoomSupervisor.Physics;

/// <summary>
/// Moist air as an ideal mixture of dry air and water vapour. Source of the forms: ASHRAE Handbook Fundamentals, chapter 1 (psychrometrics),
/// SI. Relative humidity is over WATER at every temperature, as chips and weather stations report it; 100 to 103 % counts as 100 %.
/// All functions are pure; nothing allocates.
/// </summary>
public static partial class MoistAir
{
    /// <summary>0 °C in kelvin.</summary>
    internal const double ZeroCelsius = 273.15;

    /// <summary>Molar mass of water over that of dry air (ASHRAE Handbook Fundamentals 2017, ch. 1).</summary>
    internal const double MassRatio = 0.621945;

    /// <summary>Lowest and highest temperature of the saturation forms, °C. ASHRAE gives the water form for 0…200 °C only.</summary>
    internal const double SaturationLowestC = -100, SaturationHighestC = 200;

    /// <summary>Triple point of water, °C: the highest temperature of the form over ice.</summary>
    internal const double TriplePointC = 0.01;

    /// <summary>
    /// Saturation pressure over liquid water, Pa. ASHRAE Handbook Fundamentals ch. 1 (after Hyland and Wexler 1983), published for 0…200 °C;
    /// the same form is carried on over supercooled water down to −100 °C, because humidity chips and stations mean that when they say
    /// relative humidity. Against Murphy and Koop (2005) it is within 0.8 % down
    /// to −40 °C; below that no liquid has been measured, and it is a convention.
    /// </summary>
    /// <param name="temperatureC">−100…200 °C.</param>
    /// <param name="pascals">Pa; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySaturationPressure(double temperatureC, out double pascals, out Impossible why)
    {
        pascals = double.NaN;
        if (!Allowed.Range(nameof(temperatureC), temperatureC, SaturationLowestC, SaturationHighestC, out why)) return false;
        pascals = Math.Exp(LogOverWater(temperatureC + ZeroCelsius));
        return true;
    }

    /// <summary>Saturation (sublimation) pressure over ice, Pa. ASHRAE Handbook Fundamentals ch. 1, −100…0.01 °C.</summary>
    /// <param name="temperatureC">−100…0.01 °C.</param>
    /// <param name="pascals">Pa; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySaturationPressureOverIce(double temperatureC, out double pascals, out Impossible why)
    {
        pascals = double.NaN;
        if (!Allowed.Range(nameof(temperatureC), temperatureC, SaturationLowestC, TriplePointC, out why)) return false;
        pascals = Math.Exp(LogOverIce(temperatureC + ZeroCelsius));
        return true;
    }

    // ln(Pa) over water at T kelvin; ASHRAE constants C8…C13.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static double LogOverWater(double kelvin) =>
        -5.8002206e3 / kelvin + 1.3914993 + kelvin * (-4.8640239e-2 + kelvin * (4.1764768e-5 - 1.4452093e-8 * kelvin))
        + 6.5459673 * Math.Log(kelvin);

    // d ln(Pa)/dT over water, 1/K.
    internal static double SlopeOverWater(double kelvin) =>
        (5.8002206e3 / kelvin + 6.5459673) / kelvin - 4.8640239e-2 + kelvin * (8.3529536e-5 - 4.3356279e-8 * kelvin);

    // ln(Pa) over water with both derivatives, sharing the one division they need.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static double LogOverWater(double kelvin, out double slope, out double curvature)
    {
        double inverse = 1 / kelvin, pull = 5.8002206e3 * inverse;
        slope = (pull + 6.5459673) * inverse - 4.8640239e-2 + kelvin * (8.3529536e-5 - 4.3356279e-8 * kelvin);
        curvature = 8.3529536e-5 - 8.6712558e-8 * kelvin - (2 * pull + 6.5459673) * inverse * inverse;
        return 1.3914993 - pull + kelvin * (-4.8640239e-2 + kelvin * (4.1764768e-5 - 1.4452093e-8 * kelvin)) + 6.5459673 * Math.Log(kelvin);
    }

    // ln(Pa) over ice at T kelvin; ASHRAE constants C1…C7.
    internal static double LogOverIce(double kelvin) =>
        -5.6745359e3 / kelvin + 6.3925247
        + kelvin * (-9.6778430e-3 + kelvin * (6.2215701e-7 + kelvin * (2.0747825e-9 - 9.4840240e-13 * kelvin)))
        + 4.1635019 * Math.Log(kelvin);

    // ln(Pa) over ice with both derivatives.
    internal static double LogOverIce(double kelvin, out double slope, out double curvature)
    {
        double inverse = 1 / kelvin, pull = 5.6745359e3 * inverse;
        slope = (pull + 4.1635019) * inverse - 9.6778430e-3
            + kelvin * (1.24431402e-6 + kelvin * (6.2243475e-9 - 3.7936096e-12 * kelvin));
        curvature = 1.24431402e-6 + kelvin * (1.2448695e-8 - 1.13808288e-11 * kelvin) - (2 * pull + 4.1635019) * inverse * inverse;
        return LogOverIce(kelvin);
    }

    /// <summary>
    /// Temperature, °C, whose ln saturation pressure over water is given. First guess by inverting the Magnus form of WMO-No. 8
    /// (611.2 Pa, 17.62, 243.12 °C), then one Halley step in the log domain; its error is under 2e-5 times the cube of its length in kelvin,
    /// so only a long step, at the ends of the range, is followed by Newton steps.
    /// </summary>
    internal static double TemperatureOverWater(double logPascals)
    {
        double x = logPascals - 6.4154242, kelvin = ZeroCelsius + 243.12 * x / (17.62 - x);
        double off = LogOverWater(kelvin, out double slope, out double curvature) - logPascals;
        double step = 2 * off * slope / (2 * slope * slope - off * curvature);
        kelvin -= step;
        for (int round = 0; round < 4 && Math.Abs(step) > 0.2; round++)
        {
            step = (LogOverWater(kelvin) - logPascals) / SlopeOverWater(kelvin);
            kelvin -= step;
        }

        return kelvin - ZeroCelsius;
    }

    /// <summary>The same over ice; Magnus guess with 611.2 Pa, 22.46, 272.62 °C (from memory; only a first guess, the result does not rest on it).</summary>
    internal static double TemperatureOverIce(double logPascals)
    {
        double x = logPascals - 6.4154242;
        double first = ZeroCelsius + 272.62 * x / (22.46 - x);
        double second = first - (LogOverIce(first, out double slope, out _) - logPascals) / slope;
        return second - (LogOverIce(second, out slope, out _) - logPascals) / slope - ZeroCelsius;
    }
}
