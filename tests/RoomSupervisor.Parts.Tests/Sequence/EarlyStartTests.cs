// Section 2, optimum start, on the bench: a room of one warmth that comes to its set point at a pace the test sets. What the virtual house makes of it stands in shared/reference/how-good.md.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class EarlyStartTests
{
    /// <summary>Usual minutes for each kelvin by a coil, what comes before anything is felt, and what counts as there: as the rule has them.</summary>
    private const double UsualMin = 8, DeadMin = 3, ThereK = 0.3;

    /// <summary>It looks once a minute, and its lead, made for a sensor two minutes behind, takes the bench's air for up to two minutes further than it is: so much later a room may be there, min.</summary>
    private const double SlackMin = -3;

    /// <summary>A room that stays at 27 °C until its set point asks for less, and then falls a kelvin in so many minutes once a while has passed.</summary>
    private sealed class WarmRoom
    {
        public WarmRoom(string early = "2 h", params (string Path, string Value)[] more)
        {
            Rig = new Rig();
            Write([("cool_above", "29 °C"), ("heat_below", "17 °C"), ("week.day.from", "13:00"), ("week.day.to", "18:00"), ("week.day.cool_above", "24 °C"), ("start_early_at_most", early), .. more]);
            Rig.Memory.RoomDataFor = RoomDataUses.OptimumStart;
            Rig.EachScan = _ => Step();
        }

        public Rig Rig { get; }

        public double AirC { get; set; } = 27;

        public double MinPerK { get; set; } = UsualMin;

        public double WaitsForMin { get; set; } = DeadMin;

        /// <summary>Time of day at which the set point first was the period's, and at which the room was there.</summary>
        public TimeSpan? Began { get; private set; }

        public TimeSpan? Arrived { get; private set; }

        public void Write(params (string Path, string Value)[] values)
        {
            foreach (var (path, value) in values)
            {
                Assert.True(HouseholdEdits.TryApply(Rig.House, "room." + path, value, out var house, out var why), $"{path}: {why}");
                Rig.House = house;
            }
        }

        /// <summary>The same hours of another day; the room is warm again.</summary>
        public void Day(int day, string from = "12:00", string to = "14:30")
        {
            (AirC, Began, Arrived) = (27, null, null);
            var date = new DateTime(2026, 7, 14).AddDays(day);
            // What was asked for the day before is over: an hour at rest and warm.
            Rig.Local = date.AddHours(4.5);
            Rig.Run(900, 5);
            Rig.Local = date + TimeSpan.Parse(from, System.Globalization.CultureInfo.InvariantCulture);
            while (Rig.Local < date + TimeSpan.Parse(to, System.Globalization.CultureInfo.InvariantCulture))
                Rig.Scan(5);
        }

        private void Step()
        {
            if (Rig.Local.TimeOfDay.TotalHours > 5 && Rig.Room.WantedC < 25)
            {
                Began ??= Rig.Local.TimeOfDay;
                if ((Rig.Local.TimeOfDay - Began.Value).TotalMinutes >= WaitsForMin)
                    AirC = Math.Max(23.8, AirC - 5 / 60.0 / MinPerK);
                if (AirC <= 24 + ThereK)
                    Arrived ??= Rig.Local.TimeOfDay;
            }
            Rig.Air(AirC, 45);
        }
    }

    private static TimeSpan At(string text) => TimeSpan.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    [Fact]
    public void A_room_begins_as_long_before_its_period_as_its_coil_usually_takes_and_says_so()
    {
        var room = new WarmRoom();
        room.Day(0);
        var ahead = DeadMin + (27 - 24 - ThereK) * UsualMin;
        Assert.InRange((At("13:00") - room.Began!.Value).TotalMinutes, ahead - 1.2, ahead);
        var told = Assert.Single(room.Rig.Happened, one => one.EventId == SequenceEvents.BeginsEarly.Id);
        Assert.Equal((13 * 60.0, 24.0), (told.Reason.B, told.Reason.C));
        Assert.InRange(told.Reason.A / 60, ahead - 1.2, ahead);
        Assert.InRange((room.Arrived!.Value - At("13:00")).TotalMinutes, -4, 4);
    }

    [Fact]
    public void Where_the_household_has_not_asked_for_it_nothing_begins_before_the_period()
    {
        var room = new WarmRoom("0 s");
        room.Day(0);
        Assert.InRange(room.Began!.Value.TotalMinutes, 13 * 60, 13 * 60 + 1);
        Assert.DoesNotContain(room.Rig.Happened, one => one.EventId == SequenceEvents.BeginsEarly.Id);
    }

    [Fact]
    public void It_never_begins_earlier_than_the_household_lets_it()
    {
        var room = new WarmRoom("10 min") { MinPerK = 25 };
        for (var day = 0; day < 3; day++)
        {
            room.Day(day);
            Assert.InRange((At("13:00") - room.Began!.Value).TotalMinutes, 8.8, 10);
        }
    }

    [Theory]
    [InlineData(20, 3)]
    [InlineData(3, 3)]
    [InlineData(14, 12)]
    public void What_a_start_took_the_next_is_given(double minPerK, double waitsForMin)
    {
        var room = new WarmRoom { MinPerK = minPerK, WaitsForMin = waitsForMin };
        for (var day = 0; day < 4; day++)
            room.Day(day);
        var took = waitsForMin + (27 - 24 - ThereK) * minPerK;
        var early = (At("13:00") - room.Arrived!.Value).TotalMinutes;
        Assert.InRange(early, SlackMin, 0.5 * took + 2);   // in time, by a spread that shrinks with each start that was foreseen
        for (var day = 4; day < 9; day++)
            room.Day(day);
        Assert.InRange((At("13:00") - room.Arrived!.Value).TotalMinutes, SlackMin, 0.12 * took + 2);
        ref readonly var learned = ref room.Rig.Memory.RoomData[0].EarlyCooling;
        Assert.Equal(9, learned.Starts);
        Assert.InRange(learned.LastTookMin, took - 2, took + 2);
        Assert.Equal(0, room.Rig.Memory.RoomData[0].EarlyHeating.Starts);
    }

    [Fact]
    public void Without_the_use_of_room_data_a_slow_room_is_given_what_is_usual_every_time()
    {
        var room = new WarmRoom { MinPerK = 20 };
        room.Rig.Memory.RoomDataFor = RoomDataUses.None;
        for (var day = 0; day < 4; day++)
            room.Day(day);
        Assert.InRange((At("13:00") - room.Began!.Value).TotalMinutes, 23, 24.7);
        Assert.True(room.Arrived!.Value > At("13:25"), $"there at {room.Arrived}");
    }

    [Fact]
    public void A_door_that_opened_meanwhile_teaches_nothing()
    {
        var room = new WarmRoom { MinPerK = 20 };
        room.Rig.EachScan += rig => rig.Set("room.opening.open", rig.Local.TimeOfDay.TotalMinutes is > 770 and < 773 ? 1 : 0);
        room.Day(0);
        Assert.NotNull(room.Arrived);
        Assert.Equal(0, room.Rig.Memory.RoomData[0].EarlyCooling.Starts);
    }

    [Fact]
    public void What_was_learned_is_left_where_it_foresees_worse_than_what_is_usual()
    {
        var room = new WarmRoom();
        room.Rig.Memory.RoomDataFor = RoomDataUses.OptimumStart;
        room.Day(0);
        ref var learned = ref room.Rig.Memory.RoomData[0].EarlyCooling;
        (learned.Starts, learned.Log, learned.DataMiss, learned.TypedMiss) = (5, 1.2, 0.9, 0.1);
        room.Day(1);
        Assert.InRange((At("13:00") - room.Began!.Value).TotalMinutes, 23, 24.7);
        Assert.True(learned.Log < 1, "it goes on learning");
    }

    [Fact]
    public void A_room_that_is_still_away_long_after_its_period_began_is_told_once()
    {
        var room = new WarmRoom { MinPerK = 30 };
        room.Day(0);
        var told = Assert.Single(room.Rig.Happened, one => one.EventId == SequenceEvents.StartedTooLate.Id);
        Assert.InRange(told.Reason.A / 60, 15, 15.2);
        Assert.InRange(told.Reason.B, 1, 2.5);
    }

    [Fact]
    public void Away_or_by_a_wish_of_its_own_nothing_begins_ahead()
    {
        var room = new WarmRoom("2 h", ("once.until", "2026-07-14 12:50"), ("once.cool_above", "30 °C"));
        room.Day(0);
        Assert.InRange(room.Began!.Value.TotalMinutes, 12 * 60 + 50, 12 * 60 + 51.1);   // from the end of the wish on
        room = new WarmRoom("2 h", ("once.until", "2026-07-14 14:00"), ("once.cool_above", "30 °C"));
        room.Day(0);
        Assert.InRange(room.Began!.Value.TotalMinutes, 14 * 60, 14 * 60 + 1);
    }

    [Fact]
    public void A_period_that_is_taken_back_takes_its_start_with_it()
    {
        var room = new WarmRoom();
        room.Day(0, to: "12:45");
        Assert.Equal(24, room.Rig.Room.WantedC);
        room.Write(("week.day.from", "16:00"));
        room.Rig.Run(65, 5);
        Assert.Equal(29, room.Rig.Room.WantedC);
        Assert.Equal(0, room.Rig.Memory.RoomData[0].EarlyCooling.Starts);
    }

    [Fact]
    public void Quiet_hours_hold_while_it_begins_ahead()
    {
        var room = new WarmRoom("2 h", ("quiet.from", "12:00"), ("quiet.to", "13:00"), ("quiet.fan_at_most", "25 %"));
        room.Rig.Memory.RoomDataFor = RoomDataUses.OptimumStart;
        var loudest = 0.0;
        room.Rig.EachScan += rig => loudest = Math.Max(loudest, rig.Local.TimeOfDay < At("13:00") && rig.Local.TimeOfDay > At("12:00") ? rig.Fan.Value : 0);
        room.Day(0);
        Assert.True(room.Began < At("12:40"));
        Assert.InRange(loudest, 20, 25.0001);
    }

    [Theory]
    [InlineData("ceiling", 20)]
    [InlineData("floor", 60)]
    public void Ahead_of_a_warmer_morning_a_heated_surface_is_given_its_kinds_time_and_learns_for_heating(string surface, double minPerK)
    {
        var part = BenchHouse.Room("room", [], [BenchHouse.Surface(surface, "loop")]);
        var rig = new SourceHouse { Type = SourceType.Boiler, Rooms = [part], Loops = [BenchHouse.Surfaces("loop", Seasons.Heating)] }.Rig();
        rig.IsAlive = true;
        rig.Set("loop.supply.temperature", 32);
        foreach (var (path, value) in new[] { ("heat_below", "16 °C"), ("week.day.from", "13:00"), ("week.day.to", "18:00"), ("week.day.heat_below", "20 °C"), ("start_early_at_most", "6 h") })
        {
            Assert.True(HouseholdEdits.TryApply(rig.House, "room." + path, value, out var house, out var why), why);
            rig.House = house;
        }
        rig.Memory.RoomDataFor = RoomDataUses.OptimumStart;
        var air = 18.0;
        TimeSpan? began = null;
        rig.EachScan = r =>
        {
            if (r.Room.WantedC == 20)
            {
                began ??= r.Local.TimeOfDay;
                air = Math.Min(20.1, air + 5 / 60.0 / minPerK / 2);
            }
            r.Air(air, 45);
        };
        rig.Local = new DateTime(2026, 7, 14, 9, 0, 0);
        while (rig.Local.TimeOfDay.TotalHours < 16.2)
            rig.Scan(5);
        Assert.InRange((At("13:00") - began!.Value).TotalMinutes, DeadMin + (20 - 18 - ThereK) * minPerK - 1.2, DeadMin + (20 - 18 - ThereK) * minPerK);
        Assert.Equal((1, 0), (rig.Memory.RoomData[0].EarlyHeating.Starts, rig.Memory.RoomData[0].EarlyCooling.Starts));
        Assert.InRange(rig.Memory.RoomData[0].EarlyHeating.Factor, 1.7, 2.1);   // half as quick as is usual
    }

    [Fact]
    public void Where_nothing_may_heat_nothing_begins_to_heat()
    {
        var room = new WarmRoom("3 h", ("week.day.heat_below", "21 °C"));   // a bench with cold water
        room.Rig.EachScan = rig => rig.Air(18, 45);
        room.Rig.Local = new DateTime(2026, 7, 14, 9, 0, 0);
        while (room.Rig.Local.Hour < 14)
            room.Rig.Scan(5);
        Assert.DoesNotContain(room.Rig.Happened, one => one.EventId == SequenceEvents.BeginsEarly.Id);
    }

    [Fact]
    public void A_start_that_the_other_set_point_would_press_into_its_dead_band_is_none()
    {
        // Until 13:00 heated below 23.5 °C: to cool to 24 °C before that would heat and cool by turns.
        var room = new WarmRoom("2 h", ("week.day.heat_below", "20 °C"), ("heat_below", "23.5 °C"));
        room.Day(0);
        Assert.InRange(room.Began!.Value.TotalMinutes, 13 * 60, 13 * 60 + 1);
        Assert.DoesNotContain(room.Rig.Happened, one => one.EventId == SequenceEvents.BeginsEarly.Id);
    }

    [Fact]
    public void A_room_that_stands_still_before_its_hour_is_not_given_longer_and_longer()
    {
        // Down to 25 °C, and the rest only once its quiet hours are over.
        var room = new WarmRoom();
        var step = room.Rig.EachScan;
        room.Rig.EachScan = rig =>
        {
            step!(rig);
            if (rig.Local.TimeOfDay < At("13:05"))
                rig.Air(room.AirC = Math.Max(room.AirC, 25), 45);
        };
        for (var day = 0; day < 8; day++)
        {
            room.Day(day, from: "11:00");
            Assert.InRange((At("13:00") - room.Began!.Value).TotalMinutes, 23, 60);
        }
    }

    [Fact]
    public void A_clock_that_is_set_makes_no_start_late_and_teaches_nothing()
    {
        var room = new WarmRoom { MinPerK = 20 };
        room.Rig.EachScan += rig => rig.Local = rig.Local.TimeOfDay > At("12:50") && rig.Local.TimeOfDay < At("12:51") ? rig.Local.AddMinutes(40) : rig.Local;
        room.Day(0);
        Assert.NotNull(room.Arrived);
        Assert.DoesNotContain(room.Rig.Happened, one => one.EventId == SequenceEvents.StartedTooLate.Id);
        Assert.Equal(0, room.Rig.Memory.RoomData[0].EarlyCooling.Starts);
    }

    [Fact]
    public void A_start_that_never_arrives_teaches_that_it_takes_at_least_so_long()
    {
        var room = new WarmRoom { MinPerK = 200 };
        room.Day(0, to: "17:00");
        ref readonly var learned = ref room.Rig.Memory.RoomData[0].EarlyCooling;
        Assert.Equal(1, learned.Starts);
        Assert.True(learned.LastTookMin > 190 && learned.Factor > 5, $"{learned.LastTookMin} min, {learned.Factor}");
    }

    [Fact]
    public void What_these_rules_cannot_have_written_is_not_taken_up()
    {
        var room = new WarmRoom();
        var data = new RoomDataMemory[1];
        foreach (var wrong in new[] { new EarlyLearned { Log = double.NaN }, new EarlyLearned { Spread = -1 }, new EarlyLearned { Starts = -1 }, new EarlyLearned { Log = 9 } })
        {
            data[0].EarlyCooling = data[0].EarlyHeating = wrong;
            RoomDataKeeping.Move(["room"], data, room.Rig.House, room.Rig.Memory);
            Assert.Equal(default, room.Rig.Memory.RoomData[0].EarlyCooling);
            Assert.Equal(default, room.Rig.Memory.RoomData[0].EarlyHeating);
        }
    }

    [Fact]
    public void What_was_learned_is_moved_by_name_and_forgotten_with_a_replaced_part()
    {
        var room = new WarmRoom { MinPerK = 20 };
        room.Day(0);
        var learned = room.Rig.Memory.RoomData[0].EarlyCooling;
        Assert.Equal(1, learned.Starts);
        var moved = new Memory(room.Rig.House);
        RoomDataKeeping.Move(["room"], room.Rig.Memory.RoomData, room.Rig.House, moved);
        Assert.Equal(learned, moved.RoomData[0].EarlyCooling);
        RoomDataKeeping.Forget(moved, 0);
        Assert.Equal(default, moved.RoomData[0].EarlyCooling);
    }
}
