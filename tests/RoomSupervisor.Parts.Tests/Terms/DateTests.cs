// Dates and days of the week as people write them. ISO 8601 is the one form; everything else is told how to write it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Terms;

public class DateTests
{
    [Theory]
    [InlineData("2027-02-06", Quantity.Date, "2027-02-06")]
    [InlineData("2027-02-06 18:00", Quantity.Date, "2027-02-06 18:00")]
    [InlineData("2027-02-06T18:00", Quantity.DateTime, "2027-02-06 18:00")]
    [InlineData("2028-02-29", Quantity.Date, "2028-02-29")]
    [InlineData("2026-12-24 0:00", Quantity.DateTime, "2026-12-24 00:00")]
    public void A_date_is_read_and_shown_again(string text, Quantity quantity, string shown)
    {
        Assert.True(QuantityText.TryRead(text, quantity, out var minutes, out var problem), problem);
        Assert.Equal(shown, Quantities.Show(minutes, quantity, UnitSystem.Metric));
        Assert.Equal(DateText.TimeOf(minutes), DateTime.Parse(shown, System.Globalization.CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("06/02/2027", "write 2027-02-06 or 2027-06-02")]
    [InlineData("13/02/2027", "write 2027-02-13")]
    [InlineData("02/13/2027", "write 2027-02-13")]
    [InlineData("6.2.27", "write 2027-02-06 or 2027-06-02")]
    [InlineData("31/31/2027", "write it like 2027-02-06")]
    [InlineData("2027-2-6", "write 2027-02-06")]
    [InlineData("2027/02/06", "write 2027-02-06")]
    [InlineData("2027-02-29", "that month has 28")]
    [InlineData("2027-13-01", "no month 13")]
    [InlineData("1999-01-01", "years 2020 to 2099")]
    [InlineData("6 Feb 2027", "write it like 2027-02-06")]
    [InlineData("tomorrow", "write it like 2027-02-06")]
    [InlineData("2027-02-06 25:00", "is not a time of day")]
    [InlineData("", "is empty")]
    public void Any_other_date_is_told_how_to_write_it(string text, string says)
    {
        Assert.False(QuantityText.TryRead(text, Quantity.Date, out var minutes, out var problem));
        Assert.True(double.IsNaN(minutes));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void A_moment_needs_its_time()
    {
        Assert.False(QuantityText.TryRead("2026-12-24", Quantity.DateTime, out _, out var problem));
        Assert.Contains("write it like 2026-12-24 22:00", problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mon-fri", "mon-fri", 5)]
    [InlineData("Mon - Fri", "mon-fri", 5)]
    [InlineData("sat, sun", "sat, sun", 2)]
    [InlineData("fri-mon", "mon, fri-sun", 4)]
    [InlineData("every-day", "every-day", 7)]
    [InlineData("Monday, wed,friday", "mon, wed, fri", 3)]
    [InlineData("weekend", "sat, sun", 2)]
    [InlineData("tues", "tue", 1)]
    public void Days_are_read_and_shown_again(string text, string shown, int count)
    {
        Assert.True(DayWords.TryRead(text, out var days, out _));
        Assert.Equal(shown, DayWords.Show(days));
        Assert.Equal(count, System.Numerics.BitOperations.PopCount(days));
        Assert.True(DayWords.TryRead(shown, out var again, out _) && again == days);
    }

    [Theory]
    [InlineData("mo", "mo")]
    [InlineData("mon-fry", "mon-fry")]
    [InlineData("mon,,fri", "mon,,fri")]
    [InlineData("payday", "payday")]
    [InlineData("mon-wed-fri", "mon-wed-fri")]
    public void What_is_no_day_is_named(string text, string wrong)
    {
        Assert.False(DayWords.TryRead(text, out var days, out var named));
        Assert.Equal((0, wrong), (days, named));
    }
}
