// What a reader of °F and feet sees: temperatures shifted, differences and rates never, and no sentence in metric.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Terms;

public class UsUnitsTests
{
    // NIST SP 811, appendix B: t/°F = 1.8 t/°C + 32, a difference of 1 K = 1.8 °F; foot 0.3048 m, US gallon 3.785411784 l, BTU(IT) 1055.05585262 J.
    [Theory]
    [InlineData(Quantity.Temperature, 24, "75.2 °F")]
    [InlineData(Quantity.Temperature, 0, "32 °F")]
    [InlineData(Quantity.TemperatureDifference, 1, "1.8 °F")]
    [InlineData(Quantity.TemperatureDifference, 0, "0 °F")]
    [InlineData(Quantity.TemperatureDifference, -0.5, "-0.9 °F")]
    [InlineData(Quantity.TemperatureRate, 2, "3.6 °F/min")]
    [InlineData(Quantity.Length, 12.192, "40 ft")]
    [InlineData(Quantity.Area, 62, "667 ft²")]
    [InlineData(Quantity.Flow, 12, "3.17 gpm")]
    [InlineData(Quantity.Power, 3000, "10.24 kBtu/h")]
    [InlineData(Quantity.Volume, 200, "52.8 gal")]
    [InlineData(Quantity.Pressure, 150, "21.8 psi")]
    [InlineData(Quantity.Percent, 35, "35 %")]
    [InlineData(Quantity.Level, 47, "47 dB")]
    public void Shown(Quantity quantity, double value, string wanted) => Assert.Equal(wanted, Quantities.Show(value, quantity, UnitSystem.Us));

    [Theory]
    [InlineData(700, "700 s")]
    [InlineData(90, "90 s")]
    [InlineData(600, "10 min")]
    [InlineData(5400, "90 min")]
    [InlineData(36000, "10 h")]
    [InlineData(7260, "121 min")]
    public void A_time_is_shown_exactly_in_the_largest_unit_that_loses_nothing(double seconds, string wanted)
        => Assert.Equal(wanted, Quantities.ShowExactly(seconds, Quantity.Duration, UnitSystem.Metric));

    [Fact]
    public void No_reason_is_told_in_metric()
    {
        foreach (var cause in Enum.GetValues<Cause>())
        {
            var command = new Command(35, new Reason(cause, 21.5f, 22.5f, 23.5f), new Reason(cause, 21.5f, 22.5f, 23.5f), 0);
            Assert.DoesNotMatch(@"\d ?(°C|K|m²|kW|W|m|l/min|kPa)\b", CauseWords.Sentence(command, UnitSystem.Us));
        }
        Assert.Equal("dew point rising 1.8 °F/min, now 60.8 °F (worst case)", CauseWords.Sentence(new Reason(Cause.DewPointRising, 1, 16, 0), UnitSystem.Us));
    }

    [Fact]
    public void Advice_on_a_slip_is_in_the_reader_s_units()
    {
        Assert.False(QuantityText.TryRead("warm", Quantity.Temperature, UnitSystem.Us, out _, out var problem));
        Assert.Contains("write it like \"75 °F\"", problem, StringComparison.Ordinal);
        foreach (var quantity in Enum.GetValues<Quantity>().Where(quantity => quantity is not Quantity.Text))
        {
            foreach (var units in Enum.GetValues<UnitSystem>())
                Assert.True(QuantityText.TryRead(QuantityText.Example(quantity, units), quantity, out _, out var why), $"{quantity}: {why}");
        }
    }
}
