// Moist air against published values and other fluid-property formulations, one source a check.
// Must never mix sources in one check: each names its own.
using Xunit;
using Xunit.Abstractions;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class MoistAirTests(ITestOutputHelper output)
{
    private void Within(Worst worst, double tolerance)
    {
        output.WriteLine(worst.ToString());
        Assert.True(worst.Value <= tolerance, worst.ToString());
    }

    [Theory] // ASHRAE Handbook Fundamentals 2017 ch. 1 Table 3, as quoted in psychrolib's test file; 300 ppm is ASHRAE's own claim
    [InlineData(5, 872.6)]
    [InlineData(25, 3169.7)]
    [InlineData(50, 12351.3)]
    [InlineData(100, 101418.0)]
    [InlineData(150, 476101.4)]
    public void Saturation_pressure_over_water_equals_ashrae_table_3(double celsius, double pascals) =>
        Near(pascals, Of(MoistAir.TrySaturationPressure, celsius), pascals * 3e-4);

    [Theory] // the same table, over ice; at −60 °C it has three digits
    [InlineData(-60, 1.08, 0.01)]
    [InlineData(-20, 103.24, 0.031)]
    [InlineData(-5, 401.74, 0.121)]
    public void Saturation_pressure_over_ice_equals_ashrae_table_3(double celsius, double pascals, double tolerance) =>
        Near(pascals, Of(MoistAir.TrySaturationPressureOverIce, celsius), tolerance);

    [Fact] // IAPWS-IF97 region 4 (python3-iapws 1.5.3), 1…80 °C
    public void Saturation_pressure_equals_iapws_if97_within_200_ppm()
    {
        Worst worst = new("pws against IF97, relative");
        foreach (double[] c in Numbers("reference/water_if97.csv")) worst.Add(Of(MoistAir.TrySaturationPressure, c[0]) / c[6] - 1, $"{c[0]} °C");
        Within(worst, 2e-4);
    }

    [Fact] // IAPWS R14-08 sublimation pressure (python3-iapws 1.5.3), −40…0 °C
    public void Sublimation_pressure_equals_iapws_r14_within_330_ppm()
    {
        Worst worst = new("ice against R14-08, relative");
        foreach (double[] c in Numbers("reference/psat_ice_r14.csv")) worst.Add(Of(MoistAir.TrySaturationPressureOverIce, c[0]) / c[1] - 1, $"{c[0]} °C");
        Within(worst, 3.3e-4);
    }

    [Fact] // Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, eq. 10, supercooled water (from memory): 0.8 % is 0.08 K of dew point
    public void Over_supercooled_water_the_extended_form_stays_near_murphy_and_koop()
    {
        Worst worst = new("supercooled water against Murphy and Koop, relative");
        for (double t = -40; t <= 0; t++)
        {
            double k = t + 273.15;
            double ln = 54.842763 - 6763.22 / k - 4.210 * Math.Log(k) + 0.000367 * k
                + Math.Tanh(0.0415 * (k - 218.8)) * (53.878 - 1331.22 / k - 9.44523 * Math.Log(k) + 0.014025 * k);
            worst.Add(Of(MoistAir.TrySaturationPressure, t) / Math.Exp(ln) - 1, $"{t} °C");
        }

        Within(worst, 0.008);
    }

    [Theory] // WMO-No. 8 Magnus form's worked examples in a humidity chip's application note; Magnus itself is within 0.05 K here
    [InlineData(25, 10, -8.77, 0.08)]
    [InlineData(50, 90, 47.90, 0.05)]
    public void Dew_point_agrees_with_the_magnus_examples(double dryBulb, double percent, double dewPoint, double tolerance) =>
        Near(dewPoint, Of(MoistAir.TryDewPoint, dryBulb, percent), tolerance);

    [Theory] // pythermalcomfort's test file, ±0.1 K there; a second library
    [InlineData(31.6, 59.6, 22.778)]
    [InlineData(29.3, 75.4, 24.497)]
    [InlineData(27.1, 66.4, 20.302)]
    [InlineData(10, 50, 0.064)]
    [InlineData(40, 50, 27.587)]
    public void Dew_point_agrees_with_a_second_library(double dryBulb, double percent, double dewPoint) =>
        Near(dewPoint, Of(MoistAir.TryDewPoint, dryBulb, percent), 0.005);

    [Fact] // psychrolib: vapour at 348.99 Pa has its frost point at −6.64 °C and its dew point over supercooled water at −7.49 °C (WMO Magnus)
    public void Dew_over_water_and_frost_over_ice_are_told_apart()
    {
        double percent = 100 * 348.99 / Of(MoistAir.TrySaturationPressure, 5);
        Near(-6.64, Of(MoistAir.TryFrostPoint, 5, percent), 0.006, "frost");
        Near(-7.49, Of(MoistAir.TryDewPoint, 5, percent), 0.05, "dew");
    }

    [Theory] // ASHRAE Handbook Fundamentals 2017 ch. 1 Table 1, as quoted in psychrolib's test file
    [InlineData(-500, 107478)]
    [InlineData(0, 101325)]
    [InlineData(500, 95461)]
    [InlineData(1000, 89875)]
    [InlineData(4000, 61640)]
    [InlineData(10000, 26436)]
    public void Pressure_at_altitude_equals_ashrae_table_1(double metres, double pascals) =>
        Near(pascals, Of(MoistAir.TryPressureAtAltitude, metres), 1);

    [Theory] // ASHRAE Handbook Fundamentals 2017 ch. 1 Table 2 (real gas), as quoted in psychrolib's test file; ideal gas is 0.5–1 % off
    [InlineData(5, 0.005425, 18639)]
    [InlineData(25, 0.020173, 76504)]
    [InlineData(50, 0.086863, 275353)]
    public void Saturated_air_is_within_one_percent_of_the_real_gas(double celsius, double ratio, double joules)
    {
        AirState air = Air(celsius, 100);
        Near(ratio, air.HumidityRatio, ratio * 0.01, "W");
        Near(joules, air.EnthalpyKJPerKg * 1000, joules * 0.01, "h");
    }

    [Fact] // ASHRAE Handbook Fundamentals 2017 ch. 1 Example 1, with the tolerances of reading its chart
    public void Ashrae_example_1_at_40_over_20()
    {
        Assert.True(AirState.TryFromWetBulb(40, 20, 101325, out AirState a, out Impossible why), why.ToString());
        Near(0.0065, a.HumidityRatio, 1e-4);
        Near(7, a.DewPointC, 0.5);
        Near(14, a.RelativeHumidityPercent, 1);
        Near(56.7, a.EnthalpyKJPerKg, 0.1);
        Near(0.896, a.SpecificVolumeM3PerKg, 0.00896);
    }

    [Theory] // psychrolib's test file: W from dry and wet bulb at 95,461 Pa, with that file's own tolerance of 0.03 %
    [InlineData(30, 25, 0.0192281274)]
    [InlineData(-1, -5, 0.00120399820)]
    public void Humidity_ratio_from_wet_bulb_equals_the_library(double dryBulb, double wetBulb, double ratio) =>
        Near(ratio, Of(MoistAir.TryHumidityRatioFromWetBulb, dryBulb, wetBulb, 95461), ratio * 3e-4);

    [Fact] // psychrolib's test file
    public void Enthalpy_volume_and_wet_bulb_equal_the_library()
    {
        Near(81.316, Of(MoistAir.TryEnthalpy, 30, 0.02), 5e-4);
        Near(0.940855, Of(MoistAir.TrySpecificVolume, 30, 0.02, 95461), 1e-6);
        Near(3.9267, Of(MoistAir.TryWetBulb, 7, 61, 100_000), 0.001);
    }

    [Theory] // psychrolib 2.5.0: 12 g/kg as a dew point at 0, 500, 1000 and 1500 m
    [InlineData(0, 16.84)]
    [InlineData(500, 15.90)]
    [InlineData(1000, 14.96)]
    [InlineData(1500, 14.02)]
    public void Twelve_grams_per_kilogram_is_another_dew_point_at_another_height(double metres, double dewPoint) =>
        Near(dewPoint, Of(MoistAir.TryDewPointFromHumidityRatio, 0.012, Of(MoistAir.TryPressureAtAltitude, metres)), 0.006);

    [Theory] // central differences on psychrolib; root sum square for ±0.3 K and ±2 %
    [InlineData(20, 50, 0.654)]
    [InlineData(24, 50, 0.670)]
    [InlineData(25, 60, 0.595)]
    [InlineData(26, 60, 0.599)]
    [InlineData(26, 65, 0.569)]
    [InlineData(28, 70, 0.549)]
    [InlineData(30, 50, 0.695)]
    public void Sensor_error_on_the_dew_point_equals_the_table(double dryBulb, double percent, double error) =>
        Near(error, Of(MoistAir.TryDewPointError, dryBulb, percent, 0.3, 2.0), 0.001);
}
