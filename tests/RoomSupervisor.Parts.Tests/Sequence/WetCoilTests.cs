// Section 3, rules 6 and 7: a wet coil and a running fan. Dew points from tables: air of 27 °C and 60 % has 18.6 °C, of 24.3 °C and 60 % has 16.0 °C.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class WetCoilTests
{
    private const double FilterS = 20;   // time for the filtered water to follow a step of 11 K to within half a kelvin of it

    private static Rig Wet(double forS = 600)
    {
        var rig = new Rig();
        rig.Air(27, 60);
        rig.RunUntil(r => r.Stage == Stage.PullDown && r.Fan.Value > 60, 600);
        rig.Run(forS);
        return rig;
    }

    [Fact]
    public void Rule_3_6_a_wet_coil_whose_water_grows_too_warm_to_keep_the_wet_stops_its_fan_within_half_a_minute()
    {
        var rig = Wet();
        rig.Set("coil-loop.supply.temperature", 18.2);
        var took = rig.RunUntil(r => r.Fan.Value == 0, 30 + FilterS);
        Assert.True(took >= 30, $"after {took} s");
        Assert.Equal(Stage.PullDown, rig.Stage);
        Assert.Equal("the coil is wet and its water 18.2 °C: the fan would give the wet back to air with dew point 18.6 °C; pull-down would use 100 %", CauseWords.Sentence(rig.Fan, UnitSystem.Metric));
    }

    /// <summary>At the end of a long pipe the water is not what the loop supplies: where the coil has a sensor of its own, that one counts.</summary>
    [Fact]
    public void Rule_3_6_the_coils_own_water_sensor_counts_before_the_loops()
    {
        var rig = new Rig();
        rig.Set("room.coil.water_temperature", 8);
        rig.Air(27, 60);
        rig.RunUntil(r => r.Stage == Stage.PullDown && r.Fan.Value > 60, 600);
        rig.Run(600);
        rig.Set("room.coil.water_temperature", 18.2);                    // the loop still supplies 7 °C
        rig.RunUntil(r => r.Fan.Value == 0, 30 + FilterS);
        Assert.Equal((Cause.CoilWet, 18.2f), (rig.Fan.Binding.Cause, MathF.Round(rig.Fan.Binding.B, 1)));
        rig.Set("room.coil.water_temperature", 9);
        rig.RunUntil(r => r.Fan.Value > 0, 60);
    }

    /// <summary>It has been wetted for longer than it can hold: 1,000 s later it counts as dry, and water of 18 °C still cools a room of 27 °C.</summary>
    [Fact]
    public void Rule_3_6_and_turns_again_when_the_coil_has_dried()
    {
        var rig = Wet(1200);
        rig.Set("coil-loop.supply.temperature", 18.2);
        rig.RunUntil(r => r.Fan.Value == 0, 60);
        var took = rig.RunUntil(r => r.Fan.Value > 0, 1200);
        Assert.InRange(took, 900, 1000);
    }

    [Fact]
    public void Rule_3_6_water_that_grows_cold_again_starts_the_fan_at_once_with_half_a_kelvin_to_spare()
    {
        var rig = Wet();
        rig.Set("coil-loop.supply.temperature", 18.2);
        rig.RunUntil(r => r.Fan.Value == 0, 60);
        rig.Set("coil-loop.supply.temperature", 17.4);   // under 17.6 °C, not under 17.1 °C
        rig.Run(120);
        Assert.Equal(0, rig.Fan.Value);
        rig.Set("coil-loop.supply.temperature", 16);
        rig.RunUntil(r => r.Fan.Value > 0, 30);
    }

    [Fact]
    public void Rule_3_6_a_coil_that_was_never_wet_runs_with_water_near_the_dew_point()
    {
        var rig = new Rig();
        rig.Air(27, 60);
        rig.Set("coil-loop.supply.temperature", 18.2);
        rig.RunUntil(r => r.Fan.Value >= 100, 600);
        rig.Run(300);
        Assert.Equal(100, rig.Fan.Value);
    }

    /// <summary>27 °C and 35 %: dew point 10.2 °C, drier than any room is ever dried to (11 °C). What the coil gives back is welcome.</summary>
    [Fact]
    public void Rule_3_6_air_that_is_dry_may_have_the_water_and_the_room_keeps_its_pull_down()
    {
        var rig = Wet();
        rig.Air(27, 35);
        rig.Set("coil-loop.supply.temperature", 10);
        rig.Run(120);
        rig.RunUntil(r => r.Fan.Value > 0, 120);
        rig.EachScan = r => Assert.True(r.Fan.Value > 0);
        rig.Run(300);
    }

    [Fact]
    public void Rule_3_6_water_that_stands_behind_an_open_valve_is_warm_water()
    {
        var rig = Wet();
        var pump = rig.House.OutputTable.IndexOf("coil-loop.pump.run");
        HandValues.Set(rig.Memory, pump, 0, 3600);
        var took = rig.RunUntil(r => r.Fan.Value == 0, 90);
        Assert.InRange(took, 30, 33);
        Assert.Equal(Cause.CoilWet, rig.Fan.Binding.Cause);
    }

    [Fact]
    public void Rule_3_6_a_valve_shut_by_hand_stops_the_fan_after_half_a_minute()
    {
        var rig = Wet();
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("room.coil.valve"), 0, 3600);
        var took = rig.RunUntil(r => r.Fan.Value == 0, 90);
        Assert.InRange(took, 29, 33);
        Assert.Equal(Cause.CoilValveShut, rig.Fan.Binding.Cause);
    }

    /// <summary>A two-pipe house that has just changed over: the coil may still be wet, and warm water dries it into a room that is heated and dry enough.</summary>
    [Fact]
    public void Rule_3_6_does_not_hold_in_heating()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils(seasons: Seasons.Both)], SourceType.HeatPump));
        rig.Memory.Coils[0].WetForS = 1000;
        rig.Set("outdoor.air.temperature", 2);
        rig.Air(17, 70);
        rig.Set("coil-loop.supply.temperature", 40);
        rig.RunUntil(r => r.Fan.Value > 60, 600);
        Assert.Equal(Stage.WarmUp, rig.Stage);
        rig.Run(60);
        Assert.True(rig.Fan.Value > 60);
    }

    /// <summary>A coil of two rooms that has been wetted for ten minutes: the room's air of 27 °C and 60 %, the office's of 28 °C and 33 %, which leads. Floor areas in m².</summary>
    private static Rig WetOfTwo(double room, double office)
    {
        RoomPart[] rooms = [BenchHouse.Room("room", [], [], area: room), BenchHouse.Room("office", [], [], area: office)];
        var rig = new Rig(BenchHouse.Build(rooms, [BenchHouse.Coils()], shared: [new SharedCoilPart("loft-coil", ["room", "office"], BenchHouse.Coil())]));
        rig.Air(27, 60);
        rig.RoomAir("office", 28, 33);
        rig.RunUntil(r => r.Output("loft-coil.coil.fan").Value > 60, 600);
        rig.Run(600);
        return rig;
    }

    /// <summary>A coil of two rooms draws the air of both: 27 °C and 60 % have 18.6 °C, 28 °C and 33 % have 10.3 °C (tables), their mean 14.4 °C. Water of 12.5 °C still takes moisture, though the room that leads is drier than that.</summary>
    [Fact]
    public void Rule_3_6_a_coil_of_several_rooms_goes_by_the_mean_of_what_it_draws()
    {
        var rig = WetOfTwo(24, 24);
        Command Fan() => rig.Output("loft-coil.coil.fan");
        rig.Set("coil-loop.supply.temperature", 12.5);
        rig.EachScan = _ => Assert.True(Fan().Value > 0, CauseWords.Sentence(Fan(), UnitSystem.Metric));
        rig.Run(300);
        rig.EachScan = null;
        rig.Set("coil-loop.supply.temperature", 14);
        rig.RunUntil(_ => Fan().Value == 0, 30 + FilterS);
        Assert.Equal(Cause.CoilWet, Fan().Binding.Cause);
        Assert.Equal(14.4, Fan().Binding.C, 0.1);
        rig.Silence("office.air.humidity", Fault.BusError);   // what is not known of one room leaves the others'
        rig.RunUntil(_ => Fan().Value > 0, 1200);
        rig.Set("coil-loop.supply.temperature", 17);
        rig.Run(300);
        Assert.True(Fan().Value > 0);
        rig.Set("coil-loop.supply.temperature", 18.2);         // by the first room's 18.6 °C alone
        rig.RunUntil(_ => Fan().Value == 0, 30 + FilterS);
        Assert.Equal((Cause.CoilWet, 18.6), (Fan().Binding.Cause, Math.Round(Fan().Binding.C, 1)));
    }

    /// <summary>A small bathroom of 18.6 °C (27 °C and 60 %) beside 36 m² of 10.3 °C (28 °C and 33 %): the coil draws the tenth of the first, as it gives it. Water of 12.5 °C would give moisture back to their 11.1 °C.</summary>
    [Fact]
    public void Rule_3_6_each_room_counts_by_its_share_of_the_coil()
    {
        var rig = WetOfTwo(4, 36);
        Command Fan() => rig.Output("loft-coil.coil.fan");
        rig.Set("coil-loop.supply.temperature", 12.5);
        rig.RunUntil(_ => Fan().Value == 0, 30 + FilterS);
        Assert.Equal(Cause.CoilWet, Fan().Binding.Cause);
        Assert.Equal(11.1, Fan().Binding.C, 0.1);
    }

    [Fact]
    public void Rule_3_7_a_full_tray_says_what_the_room_goes_without()
    {
        var rig = Wet();
        rig.Set("room.coil.drip_tray_full", 1);
        rig.Scan();
        Assert.Equal((0, 0), (rig.Fan.Value, rig.CoilValve.Value));
        Assert.Equal("drip tray full; pull-down would use 100 %", CauseWords.Sentence(rig.Fan, UnitSystem.Metric));
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.DripTrayFull.Id && rig.House.NameOf(h.Owner, h.Index) == "room");
    }
}
