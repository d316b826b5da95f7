// The words for causes, the line from percent to volts, and what capping a command does to its reasons.
using System.Text.RegularExpressions;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Terms;

public class WordsAndSignalsTests
{
    [Fact]
    public void Every_cause_has_words_and_a_name_of_its_own()
    {
        var names = new HashSet<string>();
        foreach (var cause in Enum.GetValues<Cause>())
        {
            Assert.NotNull(CauseWords.Of(cause));
            Assert.Matches("^[a-z]+(-[a-z]+)*$", CauseWords.Name(cause));
            Assert.True(names.Add(CauseWords.Name(cause)), $"{CauseWords.Name(cause)} is there twice");
            Assert.True(cause == Cause.None || CauseWords.Of(cause).Text.Length > 0, $"{cause} has no text");
        }
    }

    /// <summary>A sentence with {B} and a plain number as its quantity would print a bare figure: nobody could tell what it is.</summary>
    [Fact]
    public void A_number_in_a_sentence_has_its_quantity_and_a_sentence_is_filled_completely()
    {
        foreach (var cause in Enum.GetValues<Cause>())
        {
            var words = CauseWords.Of(cause);
            var both = words.Text + words.Next;
            Assert.DoesNotMatch(new Regex("\\{[^ABC]\\}"), both);
            Assert.True(!both.Contains("{B}", StringComparison.Ordinal) || words.B != Quantity.Number, $"{cause}: B without a quantity");
            Assert.True(!both.Contains("{C}", StringComparison.Ordinal) || words.C != Quantity.Number, $"{cause}: C without a quantity");
            Assert.True(!both.Contains("{A}", StringComparison.Ordinal) || words.A != Quantity.Number || cause is Cause.RoomsAsk or Cause.RequestWaits or Cause.StartsInHour or Cause.ReadingsMissing, $"{cause}: A without a quantity");
            Assert.DoesNotContain("{", CauseWords.Sentence(new Reason(cause, 1, 2, 3), UnitSystem.Us), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_sentence_is_in_the_units_of_its_reader()
    {
        var reason = Reason.Of(Cause.WaterTooCold, 16, 17, 15.5);
        Assert.Equal("water 16 °C, needs 17 °C (air would wet it at 15.5 °C; 1.5 K kept)", CauseWords.Sentence(reason, UnitSystem.Metric));
        Assert.Equal("water 60.8 °F, needs 62.6 °F (air would wet it at 59.9 °F; 2.7 °F kept)", CauseWords.Sentence(reason, UnitSystem.Us));
    }

    /// <summary>A fan that starts at 1.8 V with 20 %: worked by hand, 35 % = 1.8 + 15/80 × 8.2 V.</summary>
    [Theory]
    [InlineData(-5, 0)]
    [InlineData(0, 0)]
    [InlineData(double.NaN, 0)]
    [InlineData(20, 1.8)]
    [InlineData(35, 3.3375)]
    [InlineData(60, 5.9)]
    [InlineData(100, 10)]
    [InlineData(140, 10)]
    public void A_fan_s_line_goes_from_its_start_to_full(double percent, double volts)
        => Assert.Equal(volts, new VoltageLine(1.8, 20, 10).VoltsFor(percent), 1e-9);

    [Theory]
    [InlineData(0, 0)]
    [InlineData(50, 5)]
    [InlineData(100, 10)]
    public void A_valve_s_line_is_ten_percent_a_volt(double percent, double volts) => Assert.Equal(volts, VoltageLine.ZeroToTen.VoltsFor(percent), 1e-9);

    [Fact]
    public void A_line_never_leaves_zero_to_full_and_never_falls()
    {
        var random = new Random(5);
        for (var i = 0; i < 1000; i++)
        {
            var line = new VoltageLine(random.NextDouble() * 5, random.NextDouble() * 60, 6 + random.NextDouble() * 4);
            var before = 0.0;
            for (var percent = -10; percent <= 120; percent++)
            {
                var volts = line.VoltsFor(percent);
                Assert.InRange(volts, 0, line.FullVoltageV);
                Assert.True(volts >= before, $"{line} falls at {percent} %");
                before = volts;
            }
        }
    }

    [Fact]
    public void The_lowest_cap_binds_and_the_next_lowest_is_the_runner_up_in_any_order()
    {
        (double Cap, Cause Cause)[] caps = [(35, Cause.HouseholdLimit), (60, Cause.DraughtLimit), (48, Cause.NoiseLimit)];
        foreach (var order in Orders(caps))
        {
            var command = new Command(100, Reason.Of(Cause.PullDown, 100), default, 0);
            foreach (var (cap, cause) in order)
                command = command.CapAt(cap, Reason.Of(cause, cap));
            Assert.Equal(35, command.Value);
            Assert.Equal(Cause.HouseholdLimit, command.Binding.Cause);
            Assert.Equal(Cause.NoiseLimit, command.RunnerUp.Cause);
        }
    }

    [Fact]
    public void A_cap_above_the_value_changes_nothing_but_the_runner_up()
    {
        var command = new Command(30, Reason.Of(Cause.CoilCarries, 30), default, 0).CapAt(60, Reason.Of(Cause.DraughtLimit, 60));
        Assert.Equal((30.0, Cause.CoilCarries, Cause.DraughtLimit), (command.Value, command.Binding.Cause, command.RunnerUp.Cause));
        Assert.Equal(Cause.CoilCarries, command.CapAt(30, Reason.Of(Cause.QuietHours, 30)).Binding.Cause);
    }

    private static IEnumerable<(double Cap, Cause Cause)[]> Orders((double Cap, Cause Cause)[] c)
        => [[c[0], c[1], c[2]], [c[0], c[2], c[1]], [c[1], c[0], c[2]], [c[1], c[2], c[0]], [c[2], c[0], c[1]], [c[2], c[1], c[0]]];
}
