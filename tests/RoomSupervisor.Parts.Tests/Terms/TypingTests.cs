// What people type: understood where it can mean one thing, refused with what to write where it can mean two.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Terms;

public class TypingTests
{
    [Theory]
    [InlineData("24 °C", Quantity.Temperature, 24)]
    [InlineData("24,5", Quantity.Temperature, 24.5)]
    [InlineData("24.5 C", Quantity.Temperature, 24.5)]
    [InlineData("24.5c", Quantity.Temperature, 24.5)]
    [InlineData("75F", Quantity.Temperature, 215.0 / 9)]
    [InlineData("24 ° C", Quantity.Temperature, 24)]
    [InlineData("24\u00A0º\u00A0C", Quantity.Temperature, 24)]
    [InlineData("24 ℃", Quantity.Temperature, 24)]
    [InlineData("75 ℉", Quantity.Temperature, 215.0 / 9)]
    [InlineData("+24", Quantity.Temperature, 24)]
    [InlineData("−0,5 K", Quantity.TemperatureDifference, -0.5)]
    [InlineData("1 °C", Quantity.TemperatureDifference, 1)]
    [InlineData("1.8 °F", Quantity.TemperatureDifference, 1)]
    [InlineData("60 %", Quantity.Percent, 60)]
    [InlineData("60percent", Quantity.Percent, 60)]
    [InlineData("0,5%", Quantity.Percent, 0.5)]
    [InlineData("1.8 V", Quantity.Voltage, 1.8)]
    [InlineData("1800mv", Quantity.Voltage, 1.8)]
    [InlineData("40 ft", Quantity.Length, 12.192)]
    [InlineData("62 m²", Quantity.Area, 62)]
    [InlineData("62 m2", Quantity.Area, 62)]
    [InlineData("90 s", Quantity.Duration, 90)]
    [InlineData("1.5 Min", Quantity.Duration, 90)]
    [InlineData("12 l/min", Quantity.Flow, 12)]
    [InlineData("12 L/min", Quantity.Flow, 12)]
    [InlineData("3 kW", Quantity.Power, 3000)]
    [InlineData("3 KW", Quantity.Power, 3000)]
    [InlineData("650 ft2", Quantity.Area, 60.38697600)]              // 650 × 0.3048²
    [InlineData("650 sq ft", Quantity.Area, 60.38697600)]
    [InlineData("2 gpm", Quantity.Flow, 7.570823568)]                // 2 × 3.785411784 l
    [InlineData("10 kBtu/h", Quantity.Power, 2930.7107017222224)]    // 10 × 1055.05585262 / 3.6
    [InlineData("12000 BTU/hr", Quantity.Power, 3516.852842066667)]  // one ton of refrigeration
    [InlineData("6 in", Quantity.Length, 0.1524)]
    [InlineData("2 hours", Quantity.Duration, 7200)]
    [InlineData("53 gal", Quantity.Volume, 200.626824552)]
    [InlineData("47 dB", Quantity.Level, 47)]
    [InlineData("47 dB(A)", Quantity.Level, 47)]
    [InlineData("47dBA", Quantity.Level, 47)]
    [InlineData("22:30", Quantity.TimeOfDay, 1350)]
    [InlineData("7:05", Quantity.TimeOfDay, 425)]
    [InlineData("00:00", Quantity.TimeOfDay, 0)]
    [InlineData("yes", Quantity.Switch, 1)]
    [InlineData("Off", Quantity.Switch, 0)]
    [InlineData("0.06", Quantity.Number, 0.06)]
    public void Understood(string typed, Quantity quantity, double wanted)
    {
        Assert.True(QuantityText.TryRead(typed, quantity, out var value, out var problem), problem);
        Assert.Equal("", problem);
        Assert.Equal(wanted, value, 1e-9);
    }

    [Theory]
    [InlineData("", Quantity.Temperature, "is empty")]
    [InlineData("warm", Quantity.Temperature, "is not a number")]
    [InlineData(".nan", Quantity.Temperature, "is not a number")]
    [InlineData("-.inf", Quantity.Temperature, "is not a number")]
    [InlineData("NaN", Quantity.Temperature, "is not a number")]
    [InlineData("∞", Quantity.Temperature, "is not a number")]
    [InlineData("1e3", Quantity.Temperature, "unknown unit \"e3\"")]
    [InlineData("0x18", Quantity.Temperature, "unknown unit \"x18\"")]
    [InlineData("024", Quantity.Temperature, "write 24")]
    [InlineData("00", Quantity.Temperature, "write 0")]
    [InlineData("00.5", Quantity.Temperature, "write 0.5")]
    [InlineData("1,234", Quantity.Power, "write 1234 or 1.234")]
    [InlineData("1,234.5", Quantity.Power, "both a comma and a point")]
    [InlineData("1.2.3", Quantity.Power, "is not a number")]
    [InlineData("--5", Quantity.Temperature, "is not a number")]
    [InlineData("24 K", Quantity.Temperature, "a unit of a temperature difference; a temperature is wanted")]
    [InlineData("24 %", Quantity.Temperature, "a unit of a percentage")]
    [InlineData("24 °C", Quantity.Percent, "a unit of a temperature; a percentage is wanted")]
    [InlineData("5 MV", Quantity.Voltage, "unknown unit \"MV\"")]
    [InlineData("5 Ms", Quantity.Duration, "unknown unit \"Ms\"")]
    [InlineData("3 m", Quantity.Area, "an area is wanted")]
    [InlineData("3 kW", Quantity.Number, "where a plain number is wanted")]
    [InlineData("24:00", Quantity.TimeOfDay, "write 00:00")]
    [InlineData("20.30", Quantity.TimeOfDay, "write 20:30")]
    [InlineData("20h30", Quantity.TimeOfDay, "write 20:30")]
    [InlineData("8:30 pm", Quantity.TimeOfDay, "write 20:30")]
    [InlineData("12 am", Quantity.TimeOfDay, "write 00:00")]
    [InlineData("25:30", Quantity.TimeOfDay, "write it like 22:30")]
    [InlineData("noon", Quantity.TimeOfDay, "write it like 22:30")]
    [InlineData("1", Quantity.Switch, "write true or false")]
    [InlineData("maybe", Quantity.Switch, "write true or false")]
    public void Refused_with_words(string typed, Quantity quantity, string says)
    {
        Assert.False(QuantityText.TryRead(typed, quantity, out var value, out var problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
        Assert.True(double.IsNaN(value));
    }

    /// <summary>No text makes the reader throw or return something that is not a number.</summary>
    [Fact]
    public void Ten_thousand_random_texts_are_read_or_refused()
    {
        var random = new Random(4);
        const string Characters = "0123456789.,+-:% °CFKmVsh/²\u00A0−eExx∞\t\"";
        var understood = 0;
        for (var i = 0; i < 10_000; i++)
        {
            var text = string.Create(random.Next(1, 8), random, static (span, r) =>
            {
                for (var j = 0; j < span.Length; j++)
                    span[j] = Characters[r.Next(Characters.Length)];
            });
            var quantity = (Quantity)random.Next(0, (int)Quantity.Text);
            var read = QuantityText.TryRead(text, quantity, out var value, out var problem);
            Assert.Equal(read, double.IsFinite(value));
            Assert.Equal(read, problem.Length == 0);
            understood += read ? 1 : 0;
        }
        Assert.InRange(understood, 200, 9_000);
    }
}
