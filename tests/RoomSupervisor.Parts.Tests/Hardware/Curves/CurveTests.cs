// Resistance thermometers against published tables.
using RoomSupervisor.Hardware.Curves;

namespace RoomSupervisor.Parts.Tests.Hardware.Curves;

public class CurveTests
{
    /// <summary>IEC 60751, table of the Pt100 in steps of a hundredth of an ohm, times ten (values from memory of the standard's table).</summary>
    [Theory]
    [InlineData(-50, 803.1)]
    [InlineData(-40, 842.7)]
    [InlineData(-20, 921.6)]
    [InlineData(0, 1000.0)]
    [InlineData(20, 1077.9)]
    [InlineData(50, 1194.0)]
    [InlineData(100, 1385.1)]
    [InlineData(150, 1573.3)]
    [InlineData(200, 1758.6)]
    [InlineData(-200, 185.2)]
    public void Platinum_is_as_the_standard_s_table(double temperatureC, double ohms)
    {
        Assert.Equal(ohms, PlatinumThermometer.Pt1000.Ohms(temperatureC), 0.05);
        // The table is rounded to 0.1 Ω of a PT1000: 0.026 K.
        Assert.Equal(temperatureC, PlatinumThermometer.Pt1000.TemperatureC(ohms), 0.014);
    }

    [Fact]
    public void One_thousand_ohms_and_1385_06_are_nought_and_a_hundred_degrees()
    {
        Assert.Equal(1000.0, PlatinumThermometer.Pt1000.Ohms(0), 9);
        Assert.Equal(1385.06, PlatinumThermometer.Pt1000.Ohms(100), 0.0051);
    }

    [Fact]
    public void Backwards_and_forwards_platinum_is_the_same_to_a_millionth_of_a_kelvin()
    {
        for (var t = -200.0; t <= 400; t += 0.7)
            Assert.Equal(t, PlatinumThermometer.Pt1000.TemperatureC(PlatinumThermometer.Pt1000.Ohms(t)), 1e-6);
    }

    /// <summary>A table made of beta 3974 K and 10 kΩ by the Zephyr project (ntc_thermistor_table.py, Apache-2.0), cut to whole ohms.</summary>
    [Theory]
    [InlineData(-25, 146676)]
    [InlineData(-15, 78875)]
    [InlineData(-5, 44424)]
    [InlineData(5, 26075)]
    [InlineData(15, 15881)]
    [InlineData(25, 10000)]
    [InlineData(35, 6488)]
    [InlineData(45, 4326)]
    [InlineData(65, 2066)]
    [InlineData(85, 1072)]
    [InlineData(105, 596)]
    [InlineData(115, 454)]
    public void A_beta_gives_the_table_made_of_it(double temperatureC, double ohms)
    {
        var curve = Thermistor.OfBeta(10000, 3974);
        Assert.InRange(curve.Ohms(temperatureC), ohms, ohms + 1);
        Assert.InRange(temperatureC, curve.TemperatureC(ohms + 1), curve.TemperatureC(ohms));
    }

    /// <summary>Beta is defined by 25 and 85 °C (IEC 60539-1): 1451.4, 1086.7 and 1070.4 Ω by hand.</summary>
    [Theory]
    [InlineData("ntc-10k-3435", 1451.35)]
    [InlineData("ntc-10k-3950", 1086.7)]
    [InlineData("ntc-10k-3977", 1070.4)]
    public void A_generic_sensor_has_ten_kilohms_and_its_beta(string name, double ohmsAt85)
    {
        var curve = ThermometerCurves.Named(name)!;
        Assert.Equal(10000, curve.Ohms(25), 1e-6);
        Assert.Equal(ohmsAt85, curve.Ohms(85), 0.1);
    }

    /// <summary>Coefficients in public use for a 10 kΩ thermistor (1.129148e-3, 2.34125e-4, 8.76741e-8) and its table, from memory: 0 °C 32,650, 50 °C 3,603, 60 °C 2,489 Ω.</summary>
    [Theory]
    [InlineData(32650, 0)]
    [InlineData(10000, 25)]
    [InlineData(3603, 50)]
    [InlineData(2489, 60)]
    public void Steinhart_and_Hart_give_the_table_of_their_numbers(double ohms, double temperatureC)
        => Assert.Equal(temperatureC, new Thermistor(1.129148e-3, 2.34125e-4, 8.76741e-8).TemperatureC(ohms), 0.1);

    [Fact]
    public void A_curve_goes_through_the_three_points_it_was_made_of_and_near_the_others()
    {
        var whole = new Thermistor(1.129148e-3, 2.34125e-4, 8.76741e-8);
        var made = Thermistor.Through((0, whole.Ohms(0)), (25, whole.Ohms(25)), (60, whole.Ohms(60)));
        for (var t = -30.0; t <= 120; t += 5)
        {
            Assert.Equal(t, made.TemperatureC(whole.Ohms(t)), 1e-6);
            Assert.Equal(t, made.TemperatureC(made.Ohms(t)), 1e-6);
        }
    }

    [Theory]
    [InlineData("0 °C 32650, 25 °C 10000, 60 °C 2488", true)]
    [InlineData("32 °F 32650, 77 °F 10000, 140 °F 2488", true)]
    [InlineData("0 °C 32650, 25 °C 10000", false)]
    [InlineData("0 °C 32650, 25 °C 10000, 27 °C 9000", false)]
    [InlineData("0 °C 1000, 25 °C 1100, 60 °C 1230", false)]
    [InlineData("0 °C 32650, 25 °C 10000, 60 °C 9999", false)]
    [InlineData("nothing", false)]
    [InlineData("0 V 32650, 25 °C 10000, 60 °C 2488", false)]
    public void Three_points_of_a_table_are_read_or_refused(string text, bool isRead)
    {
        Assert.Equal(isRead, ThermometerCurves.TryTable(text, out var curve, out var problem));
        Assert.Equal(isRead, curve is not null && problem.Length == 0);
        if (isRead)
            Assert.Equal(25, curve!.TemperatureC(10000), 1e-9);
    }
}
