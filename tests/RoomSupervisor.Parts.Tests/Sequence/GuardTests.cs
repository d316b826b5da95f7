// Section 5 on the bench: the condensation guard, told like a log. At 24 °C and 50 % the dew point is 12.9 °C (psychrometric table
// of the ASHRAE form, see shared/reference); the worst case adds the sensors' root-sum-square.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class GuardTests
{
    private static Rig Holding(double humidity = 50, double supply = 18, (string Key, double Value)[]? sequence = null)
    {
        var rig = new Rig(TestHouse.OneRoom(sequence: sequence));
        rig.Air(24.3, humidity);
        rig.Set("ceiling-loop.supply.temperature", supply);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 600);
        return rig;
    }

    [Fact]
    public void Rule_1_5_the_worst_case_adds_sensor_and_supply_accuracy_by_root_sum_square()
    {
        var rig = new Rig();
        rig.Air(26, 60);
        rig.Run(120);
        // Dew point 17.639 °C at 26 °C 60 %; 0.3 K and 2 % give 0.599 K (psychrolib central differences, shared/reference); the supply sensor 0.3 K more.
        Assert.Equal(17.639, rig.Room.DewPointC, 0.01);
        Assert.Equal(17.639 + Math.Sqrt(0.599 * 0.599 + 0.3 * 0.3), rig.Room.DewPointWorstC, 0.01);
    }

    [Fact]
    public void Rule_5_2_water_far_too_cold_shuts_the_circuit_in_the_same_scan()
    {
        var rig = Holding();
        rig.Set("ceiling-loop.supply.temperature", rig.Room.DewPointWorstC - 0.25);
        rig.Scan();
        Assert.Equal(0, rig.Ceiling.Value);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        Assert.False(rig.CeilingPump);
        Assert.Equal(0, rig.Mixing.Value);
        Assert.Equal(Cause.WaterFarTooCold, rig.Ceiling.Binding.Cause);
    }

    [Fact]
    public void Rule_5_2_water_a_little_too_cold_shuts_it_after_twenty_seconds()
    {
        var rig = Holding();
        rig.Set("ceiling-loop.supply.temperature", rig.Room.DewPointWorstC + 0.1);
        rig.Run(18);
        Assert.True(rig.Ceiling.Value > 0);
        rig.Run(24);   // the water filter needs a few seconds to see it; raw counts where it is lower
        Assert.Equal(0, rig.Ceiling.Value);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
    }

    [Fact]
    public void Rule_5_2_a_dew_point_that_rises_fast_shuts_the_circuit_before_the_water_is_too_cold()
    {
        var rig = Holding(supply: 19.5);
        var humidity = 50.0;
        rig.EachScan = r => r.Air(24.3, humidity += 0.15);
        var took = rig.RunUntil(r => r.Guard == GuardLevel.Shut, 120);
        Assert.True(rig.Get("ceiling-loop.supply.temperature") > rig.Room.DewPointWorstC + 1);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.GuardChanged.Id && h.Reason.Cause == Cause.DewPointRising);
        Assert.True(took < 60);
    }

    [Fact]
    public void Rule_5_2_it_opens_again_when_the_water_is_safe_and_the_air_has_been_steady_for_three_minutes()
    {
        var rig = Holding(supply: 19.5);
        var humidity = 50.0;
        rig.EachScan = r => r.Air(24.3, humidity = Math.Min(60, humidity + 0.15));
        rig.RunUntil(r => r.Guard == GuardLevel.Shut, 120);
        rig.RunUntil(_ => humidity >= 60, 120);
        var took = rig.RunUntil(r => r.Guard != GuardLevel.Shut, 900);
        Assert.InRange(took, 180, 400);
    }

    [Fact]
    public void Rule_5_1_the_set_point_rises_with_the_dew_point_at_once()
    {
        var rig = Holding(humidity: 50);
        rig.House = TestHouse.OneRoom(sequence: [("dry_target", 18), ("dry_over", 75)]);   // nothing dries the air meanwhile
        rig.RunUntil(r => r.Image.Loops[0].SetPointC < 17, 1800);
        rig.Set("ceiling-loop.supply.temperature", 20);
        var humidity = 50.0;
        rig.EachScan = r => r.Set("room.air.humidity", humidity = Math.Min(62, humidity + 0.03));   // 0.5 K/min: the guard does not shut
        for (var second = 0; second < 420; second++)
        {
            rig.Scan();
            Assert.NotEqual(GuardLevel.Shut, rig.Guard);
            Assert.True(rig.Image.Loops[0].SetPointC >= rig.Image.Loops[0].LowestSafeSupplyC - 1e-9);
        }
        Assert.Equal(GuardLevel.Raised, rig.Guard);
    }

    [Fact]
    public void Rule_5_1_from_warmer_water_the_set_point_falls_half_a_kelvin_a_minute()
    {
        var rig = Holding(humidity: 50);
        rig.RunUntil(r => r.Image.Loops[0].SetPointC < 17, 1800);
        rig.Memory.Loops[0].SetPointC = 20;
        rig.Run(120);
        Assert.Equal(19, rig.Image.Loops[0].SetPointC, 1e-6);
    }

    [Fact]
    public void Rule_5_8_a_lost_supply_sensor_shuts_the_surface_and_stops_its_pump()
    {
        var rig = Holding();
        rig.Silence("ceiling-loop.supply.temperature", Fault.Timeout);
        rig.Run(70);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        Assert.False(rig.CeilingPump);
        Assert.Equal(Cause.SupplyMissing, rig.Ceiling.Binding.Cause);
    }

    [Fact]
    public void Rule_5_6_a_wet_condensation_switch_shuts_at_once_and_for_ten_minutes_after_it_is_dry()
    {
        var rig = Holding();
        rig.Set("room.ceiling.condensation", 1);
        rig.Scan();
        Assert.Equal(0, rig.Ceiling.Value);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.CondensationWet.Id);
        rig.Set("room.ceiling.condensation", 0);
        rig.Run(590);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        rig.Run(30);
        Assert.NotEqual(GuardLevel.Shut, rig.Guard);
    }

    [Fact]
    public void Rule_5_3_standing_water_that_will_be_safe_is_warmed_through_at_full_recirculation()
    {
        var rig = Holding(supply: 15);
        rig.Set("ceiling-loop.return.temperature", 22);   // warm enough to ask the mixing valve for cold water, were it allowed
        rig.Set("ceiling-loop.supply.temperature", 13);   // a cold slug: the sensor stays cold while nothing flows
        rig.Scan();
        Assert.Equal(0, rig.Ceiling.Value);
        var took = rig.RunUntil(r => r.Ceiling.Value > 0, 3600);
        Assert.True(took >= 180, "the air must be steady first");
        Assert.Equal(0, rig.Mixing.Value);
        Assert.Equal(Cause.WarmThrough, rig.Ceiling.Binding.Cause);
        for (var second = 0; second < 120; second++)
        {
            rig.Scan();
            Assert.Equal(0, rig.Mixing.Value);
        }
        Assert.True(rig.CeilingPump);
        rig.Set("ceiling-loop.supply.temperature", 19);   // the water has come round
        rig.Run(30);
        Assert.NotEqual(GuardLevel.Shut, rig.Guard);
    }

    [Fact]
    public void Rule_5_3_a_warm_through_that_finds_cold_water_ends_and_rests()
    {
        var rig = Holding(supply: 15);
        rig.Set("ceiling-loop.supply.temperature", 12);
        rig.Scan();
        Assert.Equal(0, rig.Ceiling.Value);
        rig.RunUntil(r => r.Ceiling.Value > 0, 3600);
        rig.RunUntil(r => r.Ceiling.Value == 0, 700);
        rig.Run(300);
        Assert.Equal(0, rig.Ceiling.Value);
    }

    /// <summary>
    /// A cold slug has shut the ceiling, then the same room is heated by its floor: a surface of the room works and asks, and yet the ceiling rests. That a room that wants cold is warmed through stands above.
    /// </summary>
    [Fact]
    public void Rule_5_3_a_ceiling_is_not_warmed_through_while_its_room_is_heated_by_its_floor()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop"), BenchHouse.Surface("floor", "floor-loop")])],
            [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Surfaces("floor-loop", Seasons.Heating)], SourceType.Chiller, second: SourceType.Boiler));
        rig.Air(25.2, 47);
        rig.Set("ceiling-loop.supply.temperature", 18);
        rig.Set("ceiling-loop.return.temperature", 22);
        rig.Set("floor-loop.supply.temperature", 30);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        rig.Run(600);
        rig.Set("ceiling-loop.supply.temperature", 13);
        rig.Scan();
        Assert.Equal(0, rig.Ceiling.Value);
        rig.Air(19.2, 66);   // as humid by its dew point
        var heats = false;
        for (var second = 0; second < 3600; second++)
        {
            rig.Scan();
            Assert.True(rig.Ceiling.Value <= 0, rig.Said());
            heats |= rig.Output("room.floor.valve").Value > 0;
        }
        Assert.True(heats);
    }

    [Fact]
    public void Rule_1_7_missing_humidity_is_taken_from_the_other_rooms_plus_two_kelvin()
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2));
        rig.Air(24, 50);
        rig.Set("room-2.air.temperature", 24);
        rig.Set("room-2.air.humidity", 60);
        rig.Run(60);
        rig.Silence("room.air.humidity");
        rig.Run(70 + 60);   // a minute as last good, a minute as last known
        Assert.True(double.IsNaN(rig.Room.DewPointC));
        Assert.Equal(15.763 + 2, rig.Room.DewPointWorstC, 0.01);   // 24 °C 60 %: 15.763 °C (psychrolib table, shared/reference)
    }

    [Fact]
    public void Rule_1_7_with_no_humidity_anywhere_the_warmest_air_at_65_percent_counts()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));   // no coil: nothing dries the air meanwhile
        rig.Air(26, 50);
        rig.Silence("room.air.humidity");
        rig.Run(70 + 60);
        Assert.Equal(18.914, rig.Room.DewPointWorstC, 0.01);   // 26 °C 65 %: 18.914 °C (psychrolib table, shared/reference)
    }

    [Fact]
    public void A_lowest_safe_supply_above_the_warmest_water_recirculates_and_cools_nothing()
    {
        var rig = new Rig();
        rig.Air(25.2, 80);
        rig.Set("ceiling-loop.supply.temperature", 23.5);
        rig.RunUntil(r => r.Stage == Stage.RadiantHold, 600);
        rig.Run(200);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC > 20);
        Assert.Equal(0, rig.Mixing.Value);
    }
}
