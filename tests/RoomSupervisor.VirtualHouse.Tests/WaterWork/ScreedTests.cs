// A screed's programme: the right day after an interruption at any minute, no day shorter than a day, never more water than the day's; what the standard asks before it may begin. EN 1264-4 from memory: cement 21 days,
// anhydrite 7, three days at 20 to 25 °C, four at the warmest.
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.WaterWork;

public class ScreedTests
{
    private static readonly DateTime Begun = new(2026, 11, 2, 8, 0, 0, DateTimeKind.Utc);

    private static ScreedPlan Plan(string steps = "3d 25 °C, 4d 45 °C") => ScreedPlan.TryRead(steps, UnitSystem.Metric, out var read, out var why)
        ? new ScreedPlan(read, ScreedKind.Cement, new DateOnly(2026, 10, 1), "sheet") : throw new ArgumentException(why);

    private static ScreedSeen There(ScreedRun run) => new(true, run.WantedC, run.WantedC - 4, run.WantedC, default);

    /// <summary>A programme of two days, cut at every minute of it in turn, for up to a day: what was saved last is all that is left.</summary>
    [Fact]
    public void Interrupted_at_any_minute_it_goes_on_at_the_right_day_with_no_more_than_that_days_water()
    {
        for (var cut = 1; cut < 2 * 1440; cut += 7)
        {
            var run = new ScreedRun("floor-loop", Plan("1d 25 °C, 1d 40 °C")) { BegunUtc = Begun, LastUtc = Begun };
            var saved = ScreedFile.Save(run);
            var (held, utc) = (0.0, Begun);
            for (var minute = 0; run.State == ScreedState.Running; minute++)
            {
                Assert.True(minute < 4 * 1440);
                if (minute == cut)
                {
                    run = ScreedFile.Load(saved)!;
                    run.Away(cut * 30);
                    utc = utc.AddSeconds(cut * 30);
                    Assert.Equal(held < 1440 - 10 ? 0 : held >= 1440 ? 1 : run.Day, run.Day);
                }
                Assert.Equal(run.Day == 0 ? 25 : 40, run.WantedC);
                utc = utc.AddMinutes(1);
                var news = run.Step(There(run), 60, utc);
                held++;
                if (minute % 10 == 9 || news != ScreedNews.Nothing)
                    saved = ScreedFile.Save(run);   // as the keeper does: every ten minutes, and at news
            }
            Assert.Equal(ScreedState.Done, run.State);
            Assert.All(run.Days.ToArray(), day => Assert.InRange(day.HeldS, 86_400, 86_460));
            Assert.InRange(held, 2 * 1440, 2 * 1440 + 10);   // ten minutes at most are held twice
            Assert.Equal(1, run.Days.ToArray().Sum(day => day.Interruptions));
            Assert.Equal(cut * 30, run.Days.ToArray().Sum(day => day.OffS), 0.1);
        }
    }

    [Fact]
    public void Time_without_its_water_does_not_count_and_is_told_once()
    {
        var run = new ScreedRun("floor-loop", Plan()) { BegunUtc = Begun };
        var utc = Begun;
        ScreedNews Minutes(int count, Func<ScreedSeen> seen)
        {
            var last = ScreedNews.Nothing;
            for (var i = 0; i < count; i++)
            {
                utc = utc.AddMinutes(1);
                if (run.Step(seen(), 60, utc) is not ScreedNews.Nothing and var news)
                    last = news;
            }
            return last;
        }
        Assert.Equal(ScreedNews.Nothing, Minutes(300, () => new ScreedSeen(true, 15, 14, 25, default)));   // warming up from cold: six hours are patience
        Assert.Equal(0, run.Days[0].HeldS);
        Assert.Equal(ScreedNews.Nothing, Minutes(100, () => There(run)));
        Assert.Equal(6000, run.Days[0].HeldS);
        Assert.Equal(ScreedNews.Interrupted, Minutes(200, () => new ScreedSeen(false, 30, 20, 25, new Reason(Cause.HighLimit))));
        Assert.Equal(6000, run.Days[0].HeldS);
        Assert.Equal(1, run.Days[0].Interruptions);
        Assert.Equal(ScreedNews.GoesOn, Minutes(1, () => There(run)));
        Assert.Equal(ScreedNews.NextDay, Minutes(1440, () => There(run)));
        Assert.Equal(1, run.Day);
        Assert.Equal(15, run.Days[0].LowestC);   // found, though it did not count
        Assert.Equal(25, run.Days[0].HighestC);
    }

    [Fact]
    public void Three_kelvin_too_cold_does_not_count_but_what_a_limit_of_the_floor_allows_does_and_is_noted()
    {
        var run = new ScreedRun("floor-loop", Plan("1d 40 °C"));
        run.Step(new ScreedSeen(true, 36.9, 30, 40, default), 60, Begun);
        Assert.Equal(0, run.Days[0].HeldS);
        run.Step(new ScreedSeen(true, 37, 30, 40, default), 60, Begun.AddMinutes(1));
        Assert.Equal(60, run.Days[0].HeldS);
        run.Step(new ScreedSeen(true, 33, 30, 35, default), 60, Begun.AddMinutes(2));
        Assert.Equal(120, run.Days[0].HeldS);
        Assert.Equal(60, run.Days[0].LimitedS);
    }

    [Fact]
    public void A_week_without_water_ends_it()
    {
        var run = new ScreedRun("floor-loop", Plan());
        for (var i = 0; i < 7 * 1440; i++)
            run.Step(new ScreedSeen(false, double.NaN, double.NaN, 25, default), 60, Begun.AddMinutes(i));
        Assert.Equal(ScreedState.GivenUp, run.State);
        Assert.True(double.IsNaN(run.WantedC));
    }

    [Fact]
    public void Bytes_come_back_whole_and_a_damaged_file_is_none()
    {
        var run = new ScreedRun("floor-loop", Plan()) { BegunUtc = Begun, BegunBy = "me" };
        for (var i = 0; i < 2000; i++)
            run.Step(There(run), 60, Begun.AddMinutes(i));
        var bytes = ScreedFile.Save(run);
        Assert.Equal(bytes, ScreedFile.Save(ScreedFile.Load(bytes)!));
        for (var length = 0; length < bytes.Length; length += 13)
            Assert.Null(ScreedFile.Load(bytes.AsSpan(0, length)));
    }

    [Theory]
    [InlineData("3d 25 °C, 4d 45 °C", 7)]
    [InlineData("3 days: 25\n4 d 45 °C # the warmest", 7)]
    [InlineData("1d 77F", 1)]
    public void Steps_are_read_as_typed(string text, int days)
    {
        Assert.True(ScreedPlan.TryRead(text, UnitSystem.Metric, out var steps, out var why), why);
        Assert.Equal(days, steps.Sum(step => step.Days));
        Assert.Equal(25, steps[0].SupplyC, 9);
    }

    [Theory]
    [InlineData("", "no step")]
    [InlineData("25 °C", "how many days")]
    [InlineData("3d 80 °C", "allowed")]
    [InlineData("3d 5 °C", "allowed")]
    [InlineData("0d 25 °C", "how many days")]
    [InlineData("40d 25 °C, 40d 30 °C", "80 days")]
    [InlineData("3d 25 kW", "write 3d")]
    public void What_is_no_step_is_refused(string text, string because)
    {
        Assert.False(ScreedPlan.TryRead(text, UnitSystem.Metric, out _, out var why));
        Assert.Contains(because, why, StringComparison.Ordinal);
    }

    [Fact]
    public void It_may_not_begin_too_young_too_hot_or_on_the_wrong_loop()
    {
        var house = Desk.HouseFromSiteTests.Plan("ferry-house").Files.House;
        int Loop(string id) => house.Loops.ToList().FindIndex(loop => loop.Id == id);
        var plan = Plan("3d 25 °C, 4d 40 °C");   // heating_warmest of the floor is 40 °C
        Assert.Null(plan.WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 10, 22)));
        Assert.Contains("20 days old", plan.WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 10, 21)), StringComparison.Ordinal);
        Assert.Null(plan.WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 10, 15), sheetAllowsAfterDays: 14));
        Assert.Null((plan with { Kind = ScreedKind.Anhydrite }).WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 10, 8)));
        Assert.NotNull((plan with { Kind = ScreedKind.Anhydrite }).WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 10, 7)));
        Assert.Contains("heating_warmest", Plan("1d 41 °C").WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 11, 21)), StringComparison.Ordinal);
        Assert.Contains("coils", plan.WhyNot(house, Loop("coil-loop"), new DateOnly(2026, 11, 21)), StringComparison.Ordinal);
        Assert.Contains("future", plan.WhyNot(house, Loop("floor-loop"), new DateOnly(2026, 9, 1)), StringComparison.Ordinal);
    }
}
