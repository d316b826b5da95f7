// What a household wants at which moment: read like a diary. Times are wall time; the two changes of daylight saving are those of
// America/New_York as the tz database has them (14 March 2027 02:00, 1 November 2026 and 7 November 2027 02:00).
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ScheduleTests
{
    private const string Week = """
        rooms:
          weaving-room:
            cool_above: 25 °C
            heat_below: 20 °C
            fan_at_most: 60 %
            quiet:
              from: 20:30
              to: 07:30
              fan_at_most: 25 %
            noise_allowance:
              until: 22:30
            week:
              evening:
                days: mon-fri
                from: 18:00
                to: 22:30
                cool_above: 23 °C
                heat_below: 21 °C
              night:
                days: fri, sat
                from: 22:00
                to: 06:00
                heat_below: 17 °C
        absence:
          from: 2027-02-06
          to: 2027-02-20
        """;

    private static HouseholdRoom Room(string text)
    {
        var result = SiteTexts.Read(SiteTexts.SiteText, text);
        Assert.True(result.Files is not null, string.Join('\n', result.Problems));
        return result.Files.House.Rooms[0].Household;
    }

    private static DateTime At(string moment) => DateTime.Parse(moment, System.Globalization.CultureInfo.InvariantCulture);

    [Theory]
    [InlineData("2026-11-23 17:59:59", 25, 20, WishRule.Usual)]   // a Monday
    [InlineData("2026-11-23 18:00", 23, 21, WishRule.Week)]
    [InlineData("2026-11-23 22:29:59", 23, 21, WishRule.Week)]
    [InlineData("2026-11-23 22:30", 25, 20, WishRule.Usual)]
    [InlineData("2026-11-27 21:59", 23, 21, WishRule.Week)]       // Friday evening
    [InlineData("2026-11-27 22:00", 25, 17, WishRule.Week)]       // the night begins later and wins; its cool_above is the room's own
    [InlineData("2026-11-28 05:59", 25, 17, WishRule.Week)]       // Saturday morning still belongs to Friday's night
    [InlineData("2026-11-28 06:00", 25, 20, WishRule.Usual)]
    [InlineData("2026-11-29 03:00", 25, 17, WishRule.Week)]       // Sunday morning belongs to Saturday
    [InlineData("2026-11-30 03:00", 25, 20, WishRule.Usual)]      // Monday morning belongs to Sunday, which has none
    public void A_week_has_its_periods(string moment, double cool, double heat, WishRule rule)
    {
        var wanted = Schedule.Now(Room(Week), At(moment));
        Assert.Equal((cool, heat, rule), (wanted.CoolAboveC, wanted.HeatBelowC, wanted.Rule));
    }

    /// <summary>The first day away begins at midnight; six hours before the day of return begins, the usual temperatures hold again.</summary>
    [Theory]
    [InlineData("2027-02-05 23:59", WishRule.Week, 17)]
    [InlineData("2027-02-06 00:00", WishRule.Absence, 16)]
    [InlineData("2027-02-19 17:59", WishRule.Absence, 16)]
    [InlineData("2027-02-19 18:00", WishRule.Week, 21)]
    [InlineData("2027-02-20 00:00", WishRule.Week, 17)]
    public void Away_dates_are_relaxed_and_end_before_the_return(string moment, WishRule rule, double heat)
    {
        var wanted = Schedule.Now(Room(Week), At(moment));
        Assert.Equal((rule, heat), (wanted.Rule, wanted.HeatBelowC));
    }

    [Fact]
    public void An_absence_with_times_and_its_own_lead_begins_and_ends_at_the_minute()
    {
        var room = Room("rooms:\n  weaving-room:\n    cool_above: 24\nabsence:\n  from: 2027-02-06 09:30\n  to: 2027-02-20 18:00\n  back_before: 2 h\n  cool_above: 30 °C\n");
        Assert.Equal(24, Schedule.Now(room, At("2027-02-06 09:29")).CoolAboveC);
        Assert.Equal(30, Schedule.Now(room, At("2027-02-06 09:30")).CoolAboveC);
        Assert.Equal(30, Schedule.Now(room, At("2027-02-20 15:59")).CoolAboveC);
        Assert.Equal(24, Schedule.Now(room, At("2027-02-20 16:00")).CoolAboveC);
    }

    [Fact]
    public void Quiet_hours_begin_after_the_allowance_and_never_lift_the_room_s_own_limit()
    {
        var room = Room(Week);
        Assert.Equal((60, false), Fan("2026-11-23 20:29"));
        Assert.Equal((60, false), Fan("2026-11-23 20:30"));
        Assert.Equal((60, false), Fan("2026-11-23 22:29"));
        Assert.Equal((25, true), Fan("2026-11-23 22:30"));
        Assert.Equal((25, true), Fan("2026-11-24 07:29"));
        Assert.Equal((60, false), Fan("2026-11-24 07:30"));

        (double, bool) Fan(string moment)
        {
            var wanted = Schedule.Now(room, At(moment));
            return (wanted.FanAtMostPercent, wanted.IsQuiet);
        }
    }

    [Fact]
    public void A_one_off_wish_wins_over_everything_and_ends_by_itself()
    {
        var room = Room(Week.Replace("    week:", "    once:\n      until: 2027-02-10 22:00\n      cool_above: 22 °C\n    week:", StringComparison.Ordinal));
        Assert.Equal((22.0, 21.0, WishRule.Once), Now("2026-11-23 18:00"));       // heat_below goes on as the evening has it
        Assert.Equal((22.0, 16.0, WishRule.Once), Now("2027-02-10 21:59"));       // away, and yet
        Assert.Equal((28.0, 16.0, WishRule.Absence), Now("2027-02-10 22:00"));

        (double, double, WishRule) Now(string moment)
        {
            var wanted = Schedule.Now(room, At(moment));
            return (wanted.CoolAboveC, wanted.HeatBelowC, wanted.Rule);
        }
    }

    [Fact]
    public void The_next_change_is_the_next_moment_at_which_something_is_wanted_otherwise()
    {
        var room = Room(Week);
        Assert.Equal(At("2026-11-23 18:00"), Schedule.NextChange(room, At("2026-11-23 12:00")));
        Assert.Equal(At("2026-11-23 22:30"), Schedule.NextChange(room, At("2026-11-23 18:00")));   // 20:30 changes nothing: the allowance
        Assert.Equal(At("2026-11-24 07:30"), Schedule.NextChange(room, At("2026-11-23 22:30")));
        Assert.Equal(DateTime.MaxValue, Schedule.NextChange(new HouseholdRoom(), At("2026-11-23 12:00")));
        // Stepping a fortnight by its changes sees what stepping it minute by minute sees.
        var next = Schedule.NextChange(room, At("2027-01-30 00:00"));
        for (var at = At("2027-01-30 00:00"); at < At("2027-02-22 00:00"); at = at.AddMinutes(1))
        {
            if (Schedule.Now(room, at) == Schedule.Now(room, at.AddMinutes(-1)))
                continue;
            if (at <= At("2027-01-30 00:00"))
                continue;
            Assert.Equal(at, next);
            next = Schedule.NextChange(room, at);
        }
    }

    [Fact]
    public void A_heat_below_that_nobody_wrote_keeps_a_dead_band_under_cool_above()
    {
        Assert.Equal(20.5, Schedule.Now(Room("rooms:\n  weaving-room:\n    cool_above: 24\n"), At("2026-11-23 12:00")).HeatBelowC);
        Assert.Equal(18, Schedule.Now(Room("rooms:\n  weaving-room:\n    cool_above: 19\n"), At("2026-11-23 12:00")).HeatBelowC);
    }

    [Fact]
    public void Asking_what_holds_allocates_nothing()
    {
        var room = Room(Week);
        var at = At("2026-11-23 12:00");
        var sum = Ask();   // once before it counts: what is made ready on first use is made then
        var before = GC.GetAllocatedBytesForCurrentThread();
        sum += Ask();
        var after = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(before, after);
        Assert.True(sum > 0);

        double Ask()
        {
            var total = 0.0;
            for (var i = 0; i < 1000; i++)
                total += Schedule.Now(room, at.AddMinutes(i * 17)).CoolAboveC + Schedule.NextChange(room, at.AddMinutes(i * 17)).Minute;
            return total;
        }
    }

    /// <summary>Spring: 01:59:59 is followed by 03:00:00. What should begin at 02:30 begins at 03:00; what lies wholly in the missing hour does not happen.</summary>
    [Fact]
    public void In_the_missing_hour_a_period_begins_with_the_first_minute_after_it()
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("America/New_York");
        var late = Room("rooms:\n  weaving-room:\n    week:\n      late: {from: 02:30, to: 05:00, cool_above: 26 °C}\n      lost: {from: 02:10, to: 02:20, cool_above: 28 °C}\n");
        Assert.Equal(24, Cool(late, zone, "2027-03-14 06:59:59"));   // 01:59:59 EST
        Assert.Equal(26, Cool(late, zone, "2027-03-14 07:00:00"));   // 03:00 EDT
        Assert.Equal(26, Cool(late, zone, "2027-03-14 08:59:59"));
        Assert.Equal(24, Cool(late, zone, "2027-03-14 09:00:00"));   // 05:00 EDT
        Assert.Equal(0, Enumerable.Range(0, 24 * 60).Count(minute => Cool(late, zone, "2027-03-14 05:00:00", minute) == 28));
    }

    /// <summary>Autumn: 01:00 to 02:00 comes twice. Its times count the first time; nothing begins twice, nothing that ended comes back.</summary>
    [Fact]
    public void In_the_hour_that_comes_twice_times_count_the_first_time()
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("America/New_York");
        var room = Room("rooms:\n  weaving-room:\n    week:\n      late: {from: 01:30, to: 02:00, cool_above: 26 °C}\n    once:\n      until: 2026-11-01 01:15\n      cool_above: 22 °C\n");
        var seen = Enumerable.Range(0, 4 * 60).Select(minute => Cool(room, zone, "2026-11-01 04:00:00", minute)).ToList();   // from 00:00 EDT, minute by minute
        var changes = Enumerable.Range(1, seen.Count - 1).Where(i => seen[i] != seen[i - 1]).Select(i => (i, seen[i])).ToList();
        // 01:15 EDT the wish ends, 01:30 EDT the period begins, 02:00 EST (three hours after 00:00 EDT) it ends: once each.
        Assert.Equal([(75, 24), (90, 26), (180, 24)], changes);
    }

    [Fact]
    public void Schedule_time_never_goes_back_in_any_change_of_two_years()
    {
        foreach (var name in new[] { "America/New_York", "Europe/Brussels", "Australia/Lord_Howe", "UTC" })
        {
            var zone = TimeZoneInfo.FindSystemTimeZoneById(name);
            var last = DateTime.MinValue;
            for (var utc = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc); utc.Year < 2028; utc = utc.AddMinutes(7))
            {
                var local = ScheduleTime.Of(utc, zone);
                Assert.True(local >= last, $"{name} {utc:u}: {local} after {last}");
                last = local;
            }
        }
    }

    /// <summary>Whatever is accepted keeps the dead band at every moment, and its limits.</summary>
    [Fact]
    public void Whatever_is_accepted_keeps_a_dead_band_at_every_moment()
    {
        var random = new Random(11);
        var accepted = 0;
        for (var i = 0; i < 400; i++)
        {
            var text = $"rooms:\n  weaving-room:\n    cool_above: {random.Next(20, 28)}\n    heat_below: {random.Next(15, 23)}\n"
                + $"    week:\n      a: {{from: 06:00, to: 12:00, cool_above: {random.Next(19, 28)}}}\n      b: {{from: 10:00, to: 02:00, heat_below: {random.Next(15, 24)}}}\n"
                + $"    once: {{until: 2026-11-24 15:00, cool_above: {random.Next(18, 28)}}}\nabsence: {{from: 2026-11-24, to: 2026-11-26, heat_below: {random.Next(10, 20)}}}\n";
            var result = SiteTexts.Read(SiteTexts.SiteText, text);
            if (result.Files is null)
                continue;
            accepted++;
            for (var at = At("2026-11-23 00:00"); at < At("2026-11-27 00:00"); at = at.AddMinutes(30))
            {
                var wanted = Schedule.Now(result.Files.House.Rooms[0].Household, at);
                Assert.True(wanted.CoolAboveC - wanted.HeatBelowC >= 1 && wanted.HeatBelowC is >= 5 and <= 28 && wanted.CoolAboveC is >= 18 and <= 32, $"{text}{at}: {wanted}");
            }
        }
        Assert.InRange(accepted, 60, 340);
    }

    private static double Cool(HouseholdRoom room, TimeZoneInfo zone, string utc, int minutesLater = 0)
        => Schedule.Now(room, ScheduleTime.Of(DateTime.SpecifyKind(At(utc), DateTimeKind.Utc).AddMinutes(minutesLater), zone)).CoolAboveC;
}
