// Section 4 on the bench: demand, floors, slew, then caps, and the reason that goes with them.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class FanTests
{
    private static Rig PulledDown(House house)
    {
        var rig = new Rig(house);
        rig.Air(27, 45);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        return rig;
    }

    [Fact]
    public void Rule_4_2_the_household_s_limit_binds_and_the_draught_limit_would_bind_next()
    {
        var rig = PulledDown(TestHouse.OneRoom(household: [("fan_at_most", 35)], coil: [("draught_fan_at_most", 60)]));
        rig.Run(240);
        Assert.Equal(35, rig.Fan.Value);
        Assert.Equal("household's limit 35 %; draught would allow 60 %", CauseWords.Sentence(rig.Fan, UnitSystem.Metric));
        // Start 1.8 V at 20 %, 10 V at 100 %: 35 % lies at 1.8 + 15/80 · 8.2 V.
        Assert.Equal(3.3375, rig.House.Coils[0].Kind.Line.VoltsFor(rig.Fan.Value), 1e-9);
    }

    [Fact]
    public void Rule_4_2_quiet_hours_over_midnight_bind_from_their_minute_on_and_end_at_theirs()
    {
        var rig = PulledDown(TestHouse.OneRoom(quiet: [("from", 22 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 25)]));
        rig.Local = new DateTime(2026, 7, 14, 22, 20, 0, DateTimeKind.Unspecified);
        rig.Run(595);
        Assert.True(rig.Fan.Value > 25);
        rig.Run(10);
        Assert.Equal(25, rig.Fan.Value);
        Assert.Equal(Cause.QuietHours, rig.Fan.Binding.Cause);
        rig.Local = new DateTime(2026, 7, 15, 6, 59, 50, DateTimeKind.Unspecified);
        rig.Run(5);
        Assert.Equal(25, rig.Fan.Value);
        rig.Run(60);
        Assert.True(rig.Fan.Value > 25);
    }

    /// <summary>From full speed to 25 % are 30.1 dB (50·log10 4), at 6 dB a minute 5 min and 1 s.</summary>
    [Fact]
    public void Rule_4_2_the_fan_comes_down_beforehand_at_the_quiet_rate_and_is_there_at_the_minute()
    {
        var rig = PulledDown(TestHouse.OneRoom(quiet: [("from", 22 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 25)]));
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Local = new DateTime(2026, 7, 14, 22, 24, 0, DateTimeKind.Unspecified);
        rig.Run(58);
        Assert.Equal(100, rig.Fan.Value);
        var before = 100.0;
        rig.EachScan = r =>
        {
            Assert.True(50 * Math.Log10(before / r.Fan.Value) <= 0.1 + 1e-9, $"{r.Local:HH:mm:ss}: {before} to {r.Fan.Value} %");   // 6 dB/min in a second
            before = r.Fan.Value;
        };
        rig.Run(182);
        Assert.Equal("quiet hours from 22:30 on allow 25 %: at most 43 % by now; pull-down would use 100 %", CauseWords.Sentence(rig.Fan, UnitSystem.Metric));
        Assert.Equal(25 * Math.Pow(10, 12.0 / 50), rig.Fan.Value, 1e-6);   // two minutes before: 12 dB over it
        rig.Run(119);
        Assert.InRange(rig.Fan.Value, 25, 25.2);
        rig.Run(2);
        Assert.Equal(25, rig.Fan.Value);
        Assert.Equal(Cause.QuietHours, rig.Fan.Binding.Cause);
    }

    [Fact]
    public void Rule_4_2_quiet_hours_that_are_written_two_minutes_ahead_are_led_down_to_at_the_rate_and_met_at_their_minute()
    {
        var rig = PulledDown(TestHouse.OneRoom());
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Local = new DateTime(2026, 7, 14, 22, 28, 0, DateTimeKind.Unspecified);
        rig.House = rig.House.WithHousehold(0, TestHouse.Fill(rig.House.Rooms[0].Household.Copy(), HouseholdRoom.QuietParameters, ("from", 22 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 25)));
        rig.Run(60);
        Assert.Equal(100 * Math.Pow(10, -6.0 / 50), rig.Fan.Value, 1e-6);   // 6 dB in a minute
        rig.Run(59);
        Assert.True(rig.Fan.Value > 55);
        rig.Run(2);
        Assert.Equal(25, rig.Fan.Value);
    }

    [Fact]
    public void Rule_4_2_quiet_hours_without_any_fan_lead_down_to_its_slowest_speed_and_stop_it_with_the_minute()
    {
        var rig = PulledDown(TestHouse.OneRoom(quiet: [("from", 22 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 0)]));
        rig.Local = new DateTime(2026, 7, 14, 22, 23, 0, DateTimeKind.Unspecified);
        rig.Run(419);
        Assert.InRange(rig.Fan.Value, 20, 20.2);
        rig.Run(1);
        Assert.Equal(0, rig.Fan.Value);
    }

    [Fact]
    public void Rule_4_2_a_noise_allowance_lifts_quiet_hours_until_its_time_and_never_the_room_s_own_limit()
    {
        var house = TestHouse.OneRoom(household: [("fan_at_most", 60)], quiet: [("from", 20 * 60), ("to", 7 * 60), ("fan_at_most", 25)]);
        TestHouse.Fill(house.Rooms[0].Household, HouseholdRoom.AllowanceParameters, ("until", 22 * 60));
        var rig = PulledDown(house);
        rig.Local = new DateTime(2026, 7, 14, 20, 30, 0, DateTimeKind.Unspecified);
        rig.RunUntil(r => r.Fan.Value >= 60, 400);
        rig.Run(600);
        Assert.Equal(60, rig.Fan.Value);
        Assert.Equal(Cause.HouseholdLimit, rig.Fan.Binding.Cause);
        rig.Local = new DateTime(2026, 7, 14, 21, 58, 0, DateTimeKind.Unspecified);
        rig.Run(1);
        Assert.Equal(Cause.QuietHoursComing, rig.Fan.Binding.Cause);
        rig.Run(120);
        Assert.Equal((25, Cause.QuietHours), (rig.Fan.Value, rig.Fan.Binding.Cause));
    }

    /// <summary>In spring the clock of schedules jumps over the hour in which quiet hours begin: the limit is met at once, nothing led down to it.</summary>
    [Fact]
    public void Rule_4_2_in_the_night_without_the_hour_quiet_hours_hold_with_the_first_minute_after_it()
    {
        var rig = PulledDown(TestHouse.OneRoom(quiet: [("from", 2 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 25)]));
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Local = new DateTime(2026, 3, 29, 1, 59, 50, DateTimeKind.Unspecified);
        rig.Run(8);
        Assert.Equal(100, rig.Fan.Value);
        rig.Local = new DateTime(2026, 3, 29, 3, 0, 0, DateTimeKind.Unspecified);
        rig.Scan();
        Assert.Equal((25, Cause.QuietHours), (rig.Fan.Value, rig.Fan.Binding.Cause));
    }

    /// <summary>In autumn the clock of schedules stands at its last moment while an hour runs again (ScheduleTime): what begins then is led down to once, and not held an hour early.</summary>
    [Fact]
    public void Rule_4_2_in_the_night_with_the_hour_twice_quiet_hours_after_it_do_not_begin_an_hour_early()
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
        var rig = PulledDown(TestHouse.OneRoom(quiet: [("from", 3 * 60), ("to", 7 * 60), ("fan_at_most", 25)]));
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        var utc = new DateTime(2026, 10, 25, 0, 58, 0, DateTimeKind.Utc);   // 02:58 for the first time
        rig.EachScan = r => r.Local = ScheduleTime.Of(utc = utc.AddSeconds(1), zone).AddSeconds(-1);
        rig.Run(60);
        Assert.Equal(Cause.QuietHoursComing, rig.Fan.Binding.Cause);
        rig.EachScan = r => r.Local = ScheduleTime.Of(utc = utc.AddSeconds(1), zone).AddSeconds(-1);
        rig.Run(600);
        Assert.Equal(100, rig.Fan.Value, 6);
        rig.Run(3060);
        Assert.Equal(25, rig.Fan.Value);
    }

    [Fact]
    public void Rule_4_2_the_noise_limit_is_turned_into_speed_by_fifty_log_of_the_speed_ratio()
    {
        var rig = PulledDown(TestHouse.OneRoom(household: [("noise_at_most", 32)]));
        rig.Run(240);
        Assert.Equal(100 * Math.Pow(10, (32.0 - 47.0) / 50), rig.Fan.Value, 1e-9);   // −15 dB is half speed (AMCA/ASHRAE fan law, from memory)
        Assert.Equal(Cause.NoiseLimit, rig.Fan.Binding.Cause);
        Assert.InRange(rig.Fan.Value, 49, 51);
    }

    [Fact]
    public void Rule_4_3_a_limit_under_the_start_speed_means_off_and_says_so()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 15)]));
        rig.Air(27, 45);
        rig.Run(400);
        Assert.Equal(0, rig.Fan.Value);
        Assert.NotEqual(Stage.PullDown, rig.Stage);
    }

    [Fact]
    public void Rule_4_4_from_the_start_speed_the_fan_gets_louder_by_twenty_decibels_a_minute()
    {
        var rig = PulledDown(TestHouse.OneRoom(sequence: [("kick_for", 0)]));
        Assert.Equal(20, rig.Fan.Value);
        rig.Run(30);
        Assert.Equal(20 * Math.Pow(10, 10.0 / 50), rig.Fan.Value, 1e-6);   // 10 dB in half a minute
        Assert.Equal(Cause.RisingSlowly, rig.Fan.Binding.Cause);
    }

    [Fact]
    public void Rule_4_5_a_start_kick_of_three_seconds_never_goes_over_a_cap()
    {
        var free = PulledDown(TestHouse.OneRoom());
        Assert.Equal(30, free.Fan.Value);
        free.Run(4);
        Assert.True(free.Fan.Value < 30);
        var capped = PulledDown(TestHouse.OneRoom(household: [("fan_at_most", 24)]));
        Assert.Equal(24, capped.Fan.Value);
    }

    [Fact]
    public void Rule_4_4_stopping_for_protection_is_immediate_from_full_speed()
    {
        var rig = PulledDown(TestHouse.OneRoom());
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Set("room.coil.drip_tray_full", 1);
        rig.Scan();
        Assert.Equal(0, rig.Fan.Value);
    }

    [Fact]
    public void A_new_cap_is_met_in_the_scan_that_brings_it()
    {
        var rig = PulledDown(TestHouse.OneRoom());
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Household(("fan_at_most", 40));
        rig.Scan();
        Assert.Equal(40, rig.Fan.Value);
    }

    [Fact]
    public void A_new_cap_under_the_start_speed_stops_a_running_fan_in_the_scan_that_brings_it()
    {
        var rig = PulledDown(TestHouse.OneRoom());
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Household(("fan_at_most", 15));
        rig.Scan();
        Assert.Equal(0, rig.Fan.Value);
        Assert.Equal(Cause.LimitUnderStartSpeed, rig.Fan.Binding.Cause);
    }

    [Fact]
    public void Rule_8_4_a_hand_value_holds_for_its_time_says_its_end_and_does_not_defeat_a_full_tray()
    {
        var rig = new Rig();
        rig.Run(5);
        var fan = rig.House.OutputTable.IndexOf("room.coil.fan");
        Assert.True(HandValues.IsAllowed(rig.House, fan, 60, 300, out _));
        HandValues.Set(rig.Memory, fan, 60, 300);
        rig.Run(10);
        Assert.Equal(60, rig.Fan.Value);
        Assert.Equal("set by hand, ends in 4.9 min", CauseWords.Sentence(rig.Fan.Binding, UnitSystem.Metric));
        rig.Set("room.coil.drip_tray_full", 1);
        rig.Run(2);
        Assert.Equal(0, rig.Fan.Value);
        rig.Set("room.coil.drip_tray_full", 0);
        rig.Run(300);
        Assert.Equal(0, rig.Fan.Value);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.HandValueEnded.Id);
        Assert.False(HandValues.IsAllowed(rig.House, fan, 60, 5 * 3600, out var why));
        Assert.Contains("4 h", why, StringComparison.Ordinal);
    }

    /// <summary>The wish comes just before the hand lets go: what turns already is not kicked, and goes on from its start speed by 20 dB a minute.</summary>
    [Fact]
    public void Rule_4_5_a_fan_that_a_hand_has_turning_gets_no_kick_when_it_is_left_to_the_rules()
    {
        var asked = PulledDown(TestHouse.OneRoom());
        asked.RunUntil(r => r.Fan.Value > 0, 300);
        Assert.Equal(30, asked.Fan.Value);                       // from rest it is kicked

        var rig = new Rig(TestHouse.OneRoom());
        rig.Air(27, 45);
        rig.Scan();
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("room.coil.fan"), 60, asked.NowS - 1);
        rig.Scan();
        rig.RunUntil(r => r.Fan.Binding.Cause != Cause.HandValue, 300);
        Assert.InRange(rig.NowS - asked.NowS, -2, 2);
        for (var s = 0; s < 5; s++, rig.Scan())
            Assert.InRange(rig.Fan.Value, 20, 20 * Math.Pow(10, 20 * (s + 4) / 60.0 / 50));
    }
}
