// Section 1, rule 2, flat: a sensor that stands still for hours although the plant worked. On the bench, in virtual time.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class FlatTests
{
    private const string Temperature = "room.air.temperature";
    private const string Humidity = "room.air.humidity";

    /// <summary>A room in which coil and ceiling work on and off: the air temperature wanders around the set point, the humidity with it.</summary>
    private static Rig Working(Action<Rig, double> say, House? house = null)
    {
        var rig = new Rig(house);
        var second = 0.0;
        rig.EachScan = r =>
        {
            second += 10;
            say(r, 24.3 + 0.6 * Math.Sin(second / 1200));
        };
        return rig;
    }

    [Fact]
    public void Rule_1_2_a_stuck_humidity_is_missing_after_six_hours_of_work_and_taken_again_when_it_moves()
    {
        var rig = Working((r, air) => r.Set(Temperature, air));
        rig.Run(5.9 * 3600, 10);
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
        rig.Run(0.3 * 3600, 10);
        Assert.Equal(Cause.Flat, rig.Reading(Humidity).Cause);
        Assert.Equal(Quality.Missing, rig.Reading(Humidity).Quality);
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.ReadingMissing.Id && h.Reason.Cause == Cause.Flat);
        rig.Run(3600, 10);
        Assert.Equal(Cause.Flat, rig.Reading(Humidity).Cause);   // not taken again by itself
        rig.Set(Humidity, 50.2);
        rig.Scan(10);
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.ReadingBack.Id);
    }

    [Fact]
    public void Rule_1_2_a_stuck_air_temperature_that_keeps_the_coil_at_work_is_found()
    {
        var rig = new Rig();
        rig.Air(24.6, 50);   // too warm for ever: coil and ceiling start, stop, and start
        var fans = 0.0;
        rig.EachScan = r => fans = Math.Max(fans, r.Fan.Value);
        rig.Run(7 * 3600, 10);
        Assert.True(fans > 0, "the coil must have worked");
        Assert.Equal(Cause.Flat, rig.Reading(Temperature).Cause);
        Assert.Equal(Stage.Off, rig.Stage);
    }

    [Fact]
    public void Rule_1_2_a_room_in_which_nothing_works_may_stand_still_for_days()
    {
        var rig = new Rig();
        rig.Air(23, 50);
        rig.Run(48 * 3600, 30);
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
    }

    [Fact]
    public void Rule_1_2_a_last_digit_that_dithers_is_movement()
    {
        var odd = false;
        var rig = Working((r, air) =>
        {
            odd = !odd;
            r.Air(air, odd ? 50 : 50.01);
        });
        rig.Run(14 * 3600, 10);
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
    }

    [Fact]
    public void Rule_1_2_a_sensor_of_half_kelvins_may_stand_still_under_a_plant_that_moves_the_air_by_less()
    {
        // 16 m² of ceiling give 960 W with all their water; this room's wander asks for some 100 W: 0.3 K by 12 W/K a square metre, no step of 0.5 K.
        var coarse = TestHouse.Fill(new SensorKind(), SensorKind.Parameters, ("resolution", 0.5), ("humidity_resolution", 5));
        var parts = new HouseParts(
            "Bench", 12, UnitSystem.Metric, new SequenceSettings(), [BenchHouse.Room("room", [BenchHouse.Coil(output: 300)], [BenchHouse.Surface("ceiling", "ceiling-loop", 3)])],
            [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()]);
        var rig = new Rig(new HouseBuilder(_ => coarse.Settings, _ => false).Build(parts));
        rig.Air(24.5, 50);
        var fans = 0.0;
        rig.EachScan = r => fans = Math.Max(fans, r.Fan.Value);
        rig.Run(12 * 3600, 10);
        Assert.True(fans > 0, "the coil must have worked");
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
    }

    [Fact]
    public void Rule_1_2_a_device_that_was_silent_begins_anew()
    {
        var rig = Working((r, air) => r.Set(Temperature, air));
        rig.Run(5.5 * 3600, 10);
        rig.Silence(Humidity);
        rig.Run(600, 10);
        rig.Set(Humidity, 50);
        rig.Run(2 * 3600, 10);
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
    }

    [Fact]
    public void Rule_1_2_a_supply_sensor_that_does_not_feel_its_water_begin_to_flow_is_found_and_one_of_standing_water_is_left_alone()
    {
        var rig = Working((r, air) => r.Air(air, 50 + air / 10));   // the ceiling's pump starts and stops; its supply says 18 °C for ever
        var started = 0;
        var ran = false;
        rig.EachScan += r =>
        {
            started += r.CeilingPump && !ran ? 1 : 0;
            ran = r.CeilingPump;
        };
        rig.Run(7 * 3600, 10);
        Assert.True(started > 0, "the pump must have started");
        Assert.Equal(Cause.Flat, rig.Reading("ceiling-loop.supply.temperature").Cause);
        Assert.False(rig.CeilingPump);
        rig.Set("ceiling-loop.supply.temperature", 18.1);
        rig.Run(20, 10);
        Assert.Equal(Quality.Good, rig.Reading("ceiling-loop.supply.temperature").Quality);
        var idle = new Rig();
        idle.Air(23, 50);
        idle.Run(24 * 3600, 30);
        Assert.Equal(Quality.Good, idle.Reading("ceiling-loop.supply.temperature").Quality);
    }
}
