// Section 5, rules 7 and 9: how cold and how warm a surface may be, and the outdoor reserve of slabs. Figures beside each check: EN 1264 and ISO 11855 chains and limits as in
// shared/reference and the standards named.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class SurfaceLimitTests
{
    private static Rig Cooled(string surface, (string Key, double Value)[]? kind = null, (string Key, double Value)[]? sequence = null, (string Key, double Value)[]? room = null, double air = 25.2)
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface(surface, kind: kind), settings: room)], sequence: sequence));
        rig.Air(air, 42);
        rig.Set("outdoor.air.temperature", 30);
        rig.Set("outdoor.air.humidity", 40);
        rig.RunUntil(r => r.Valve("room", surface) > 0 && r.CeilingPump, 900);
        return rig;
    }

    private static Rig Heated(string surface, (string Key, double Value)[]? kind = null, (string Key, double Value)[]? settings = null, (string Key, double Value)[]? sequence = null, double area = 16)
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface(surface, area, kind, settings))], Seasons.Heating, sequence: sequence));
        rig.Set("room.air.temperature", 20);
        rig.Set("outdoor.air.temperature", -10);
        rig.Set("room.air.temperature", 19.8);
        rig.RunUntil(r => r.Valve("room", surface) > 0 && r.CeilingPump, 900);
        rig.Run(5);
        return rig;
    }

    /// <summary>EN 1264 chain (shared/reference): supply 16, return 19, room 26, pipes at 150 mm, bare: 35.3 W/m², floor 20.96 °C with 7 W/m²K. As a rating: K 4.1972 × 8 K.</summary>
    [Fact]
    public void Rule_5_9_the_water_of_a_cooled_floor_is_that_of_the_standard_for_the_same_floor_temperature()
    {
        var rig = Cooled("floor", kind: [("output", 4.1972 * 8), ("exponent", 1)], sequence: [("floor_at_least", 20.96), ("supply_from_return", 3)], air: 26);
        Assert.Equal(16, rig.Image.Loops[0].LowestSafeSupplyC, 0.15);   // the standard's logarithmic mean differs from the arithmetic one by 0.1 K
    }

    /// <summary>EN 1264 chain (shared/reference): supply 35, return 30, room 20, covering 0.10 m²K/W: 41.5 W/m², floor 24.05 °C. As a rating: K 3.3682 × 8 K.</summary>
    [Fact]
    public void Rule_5_9_the_water_of_a_heated_floor_is_that_of_the_standard_for_the_same_floor_temperature()
    {
        var rig = Heated("floor", kind: [("heating_output", 3.3682 * 8), ("exponent", 1)], sequence: [("floor_at_most", 24.05), ("supply_from_return", 5)]);
        rig.Set("room.air.temperature", 20);
        rig.Run(60);
        Assert.Equal(35, rig.Image.Loops[0].SetPointC, 0.2);   // the standard's logarithmic mean differs from the arithmetic one by 0.17 K
        Assert.Equal(Cause.MixingToSurface, rig.Mixing.RunnerUp.Cause);
    }

    [Fact]
    public void Rule_5_9_a_cooled_floor_keeps_19_5_degrees_for_the_feet_and_a_ceiling_need_not()
    {
        var rig = Cooled("floor");
        rig.Run(60);
        // 7 W/m²K × 5.7 K = 39.9 W/m²; rated 35 W/m² at 8 K with 1.1: 9.01 K between room and mean water, 1 K to the supply.
        Assert.Equal(25.2 - 9.01 - 1, rig.Image.Loops[0].LowestSafeSupplyC, 0.02);
        Assert.Equal(Cause.FloorForFeet, rig.Memory.Circuits[0].Limit.Cause);
        Assert.Equal(Cause.MixingToFloor, rig.Mixing.RunnerUp.Cause);
        Assert.True(Cooled("ceiling").Image.Loops[0].LowestSafeSupplyC < 14);
    }

    [Fact]
    public void Rule_5_9_a_sensor_on_the_floor_says_better_than_the_rating_how_warm_the_water_must_be()
    {
        var rig = Cooled("floor");
        rig.Set("room.floor.temperature", 19.2);   // 0.3 K too cold
        rig.Run(60);
        Assert.Equal(25.2 - 9.01 - 1 + 0.6, rig.Image.Loops[0].LowestSafeSupplyC, 0.02);
    }

    [Theory]
    [InlineData("", 29)]
    [InlineData("bath", 33)]
    [InlineData("edge", 35)]
    public void Rule_5_9_a_heated_floor_stays_under_its_limit(string key, double limit)
    {
        var rig = Heated("floor", kind: [("heating_output", 70)], settings: key.Length > 0 ? [(key, 1)] : []);
        // EN 1264-2: q = 8.92·(limit − room)^1.1; rated 70 W/m² at 8 K with 1.1.
        var difference = 8 * Math.Pow(8.92 * Math.Pow(limit - 19.8, 1.1) / 70, 1 / 1.1);
        Assert.True(difference < 24);
        Assert.Equal(19.8 + difference + 1, rig.Image.Loops[0].SetPointC, 0.02);
    }

    [Fact]
    public void Rule_5_9_of_two_floors_on_a_loop_the_more_delicate_one_decides()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build(
            [GuardHouse.Room("room", GuardHouse.Surface("floor", kind: [("heating_output", 70)], settings: [("bath", 1)])), GuardHouse.Room("hall", GuardHouse.Surface("floor", kind: [("heating_output", 70)]))],
            Seasons.Heating));
        rig.Set("room.air.temperature", 19.8);
        rig.Set("hall.air.temperature", 19.8);
        rig.Set("outdoor.air.temperature", -10);
        rig.RunUntil(r => r.Valve("room", "floor") > 0 && r.Valve("hall", "floor") > 0, 900);
        rig.Run(5);
        Assert.Equal(19.8 + 8 * Math.Pow(8.92 * Math.Pow(9.2, 1.1) / 70, 1 / 1.1) + 1, rig.Image.Loops[0].SetPointC, 0.02);
    }

    /// <summary>ISO 7730 (from memory): 5 K of asymmetry under a warm ceiling. What share of a seated person's view the ceiling fills is summed up here piece by piece.</summary>
    [Fact]
    public void Rule_5_9_a_heated_ceiling_stays_within_the_asymmetry_of_its_share_of_the_view()
    {
        var rig = Heated("ceiling");
        var view = 0.0;
        for (var x = -1.995; x < 2; x += 0.01)
        {
            for (var y = -1.995; y < 2; y += 0.01)
            {
                var square = x * x + y * y + 1.8 * 1.8;
                view += 1.8 * 1.8 / (Math.PI * square * square) * 1e-4;
            }
        }
        Assert.InRange(view, 0.60, 0.61);
        // ISO 11855-2: ceiling heating 6 W/m²K; rated 60 W/m² at 8 K with 1.1.
        var difference = 8 * Math.Pow(6 * 5 / view / 60, 1 / 1.1);
        Assert.Equal(19.8 + difference + 1, rig.Image.Loops[0].SetPointC, 0.02);
    }

    [Fact]
    public void Rule_5_9_a_heated_wall_may_be_23_kelvin_warmer_than_its_room()
    {
        var rig = Heated("wall", kind: [("heating_output", 100)]);
        var difference = 8 * Math.Pow(8 * 23.0 / 100, 1 / 1.1);   // ISO 7730, warm wall 23 K (from memory); ISO 11855-2: 8 W/m²K
        Assert.Equal(19.8 + difference + 1, rig.Image.Loops[0].SetPointC, 0.02);
    }

    [Fact]
    public void Rule_5_9_a_heated_floor_a_kelvin_over_its_limit_by_its_sensor_is_shut_until_it_is_back()
    {
        var rig = Heated("floor");
        rig.Set("room.floor.temperature", 29.8);
        rig.Run(30);
        Assert.True(rig.Valve("room", "floor") > 0);
        rig.Set("room.floor.temperature", 30.3);
        rig.RunUntil(r => r.Valve("room", "floor") <= 0, 60);
        Assert.Equal(Cause.SurfaceTooHot, rig.Output("room.floor.valve").Binding.Cause);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        rig.Set("room.floor.temperature", 29.3);
        rig.Run(60);
        Assert.Equal(0, rig.Valve("room", "floor"));
        rig.Set("room.floor.temperature", 28.7);
        rig.RunUntil(r => r.Valve("room", "floor") > 0, 60);
    }

    /// <summary>Outdoors 30 °C and 70 %: dew point 23.9 °C (shared/reference). The floor is kept at 22.4 °C or more.</summary>
    [Fact]
    public void Rule_5_7_after_an_opening_on_a_humid_day_a_floor_is_kept_near_the_outdoor_dew_point_for_a_day()
    {
        var rig = Cooled("floor");
        rig.Set("outdoor.air.humidity", 70);
        rig.Run(150);   // such a jump is believed after a minute
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC < 15.5, "no door has been open");
        rig.Set("room.opening.open", 1);
        rig.Run(70);
        rig.Set("room.opening.open", 0);
        rig.RunUntil(r => r.Valve("room", "floor") > 0 && r.CeilingPump, 1800);
        rig.Run(10);
        // 7 W/m²K × (25.2 − 22.4) = 19.6 W/m²; rated 35 W/m² at 8 K with 1.1: 4.73 K, 1 K to the supply. The dew point is good to 0.05 K here, doubled by the floor.
        Assert.Equal(25.2 - 4.73 - 1, rig.Image.Loops[0].LowestSafeSupplyC, 0.15);
        Assert.Equal(Cause.OutdoorReserve, rig.Memory.Circuits[0].Limit.Cause);
        Assert.Equal(Cause.MixingToReserve, rig.Mixing.RunnerUp.Cause);
        rig.IsAlive = true;
        rig.Run(86_400, 20);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC < 15.5, "a day without an opening");
    }

    [Fact]
    public void Rule_5_7_a_room_without_a_contact_is_told_by_its_key_and_a_thin_panel_needs_no_reserve()
    {
        var floor = Cooled("floor", room: [("openings_likely", 1)]);
        var panel = Cooled("ceiling", room: [("openings_likely", 1)]);
        foreach (var rig in new[] { floor, panel })
        {
            rig.Set("outdoor.air.humidity", 70);
            rig.Run(150);   // such a jump is believed after a minute
        }
        Assert.Equal(25.2 - 4.73 - 1, floor.Image.Loops[0].LowestSafeSupplyC, 0.15);
        Assert.True(panel.Image.Loops[0].LowestSafeSupplyC < 14);
    }

    [Fact]
    public void Rule_5_7_no_reserve_while_outdoors_is_less_than_3_kelvin_more_humid_than_the_room()
    {
        var rig = Cooled("floor", room: [("openings_likely", 1)]);
        rig.Set("outdoor.air.temperature", 25);
        rig.Set("outdoor.air.humidity", 50);   // 13.9 °C against 11.4 °C
        rig.Run(300);
        Assert.Equal(Cause.FloorForFeet, rig.Memory.Circuits[0].Limit.Cause);
        Assert.False(rig.Memory.Circuits[0].Reserves);
        rig.Set("outdoor.air.humidity", 56);   // 15.6 °C
        rig.Run(60);
        Assert.True(rig.Memory.Circuits[0].Reserves);
    }
}
