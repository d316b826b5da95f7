// Rooms that are not "one ceiling, one coil": each of the shapes a site file may describe does what section 2 says, on the bench.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class OtherRoomsTests
{
    [Fact]
    public void A_room_with_coils_only_is_pulled_down_and_then_held_by_its_coil()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils()]));
        rig.Air(26.5, 50);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        Assert.Equal(100, rig.CoilValve.Value);
        var temperature = 26.5;
        rig.EachScan = r => r.Set("room.air.temperature", temperature = Math.Max(23.9, temperature - 0.004));   // at 24.05 for ever it would ask for ever more
        rig.RunUntil(r => r.Stage == Stage.CoilHold, 3000);
        Assert.Equal([Stage.Satisfied, Stage.PullDown, Stage.EasingOff, Stage.CoilHold], rig.StagesEntered());
        rig.RunUntil(r => r.Fan.Value > 0 && r.Fan.Value < 60, 1800);
        rig.EachScan = null;
        rig.Set("room.air.temperature", 23.4);
        rig.RunUntil(r => r.Stage == Stage.Satisfied, 3600);
        Assert.Equal(0, rig.CoilValve.Value);
    }

    /// <summary>No humidity sensor at all: a coil has a drain, nothing on it can be harmed by water.</summary>
    [Fact]
    public void A_room_with_coils_only_needs_no_humidity()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils()], wired: ["room.air.temperature"]));
        rig.Set("room.air.temperature", 24.3);
        rig.Silence("room.air.humidity");
        rig.RunUntil(r => r.Stage == Stage.CoilHold, 400);
    }

    [Fact]
    public void A_room_with_surfaces_only_goes_to_its_surface_whatever_the_error()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")])], [BenchHouse.Surfaces("ceiling-loop")]));
        rig.Air(27, 45);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        Assert.Equal(Stage.RadiantHold, rig.Stage);
        Assert.Equal(-1, rig.Room.FanOutput);
        rig.Run(1200);
        Assert.Equal([Stage.Satisfied, Stage.RadiantHold], rig.StagesEntered());
    }

    [Fact]
    public void After_an_opening_a_room_without_a_coil_goes_straight_to_its_surface()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")])], [BenchHouse.Surfaces("ceiling-loop")]));
        rig.Air(25.5, 45);
        rig.Run(5);
        rig.Set("room.opening.open", 1);
        rig.RunUntil(r => r.Stage == Stage.Opening, 200);
        rig.Set("room.opening.open", 0);
        rig.RunUntil(r => r.Stage == Stage.RadiantHold, 5);
    }

    /// <summary>Both pull; in the quiet stage the second joins only when both at their slowest give no more than is asked, and leaves again.</summary>
    [Fact]
    public void Two_coils_pull_together_and_the_second_leaves_when_one_is_enough()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil("coil-north"), BenchHouse.Coil("coil-south")], [], area: 48)], [BenchHouse.Coils()]));
        rig.Air(26.5, 50);
        rig.RunUntil(r => r.Output("room.coil-north.fan").Value > 60 && r.Output("room.coil-south.fan").Value > 60, 600);
        var temperature = 26.5;
        rig.EachScan = r => r.Set("room.air.temperature", temperature = Math.Max(23.9, temperature - 0.004));
        rig.RunUntil(r => r.Stage == Stage.CoilHold, 3000);
        rig.RunUntil(r => r.Output("room.coil-south.fan").Value == 0 && r.Output("room.coil-north.fan").Value > 0, 3600);
        rig.EachScan = null;
        rig.Set("room.air.temperature", 24.8);
        rig.RunUntil(r => r.Output("room.coil-south.fan").Value > 0, 3600);
        rig.Run(120);   // it begins at its start speed
        var (north, south) = (rig.Output("room.coil-north.fan").Value, rig.Output("room.coil-south.fan").Value);
        Assert.InRange(south / north, 0.5, 2);
    }

    [Fact]
    public void A_room_with_one_full_tray_goes_on_with_its_other_coil()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil("coil-north"), BenchHouse.Coil("coil-south")], [], area: 48)], [BenchHouse.Coils()]));
        rig.Air(26.5, 50);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.Run(60);
        rig.Set("room.coil-north.drip_tray_full", 1);
        rig.Scan();
        Assert.Equal(0, rig.Output("room.coil-north.fan").Value);
        rig.Run(60);
        Assert.Equal(Stage.PullDown, rig.Stage);
        Assert.True(rig.Output("room.coil-south.fan").Value > 50);
    }

    [Fact]
    public void Two_surfaces_share_what_is_asked_by_what_they_may_give()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop"), BenchHouse.Surface("wall", "ceiling-loop", area: 8)])], [BenchHouse.Surfaces("ceiling-loop")]));
        rig.Air(24.4, 45);
        rig.RunUntil(r => r.Output("room.wall.valve").Value > 0, 900);
        rig.Run(300);
        var (ceiling, wall) = (rig.Memory.Circuits[0], rig.Memory.Circuits[1]);
        Assert.Equal(2, ceiling.AskedW / wall.AskedW, 6);
        Assert.Equal(rig.Memory.Rooms[0].DemandW, ceiling.AskedW + wall.AskedW, 6);
    }

    [Fact]
    public void A_coil_for_two_rooms_follows_the_room_that_wants_it_most_within_the_limits_of_both()
    {
        var rooms = new[]
        {
            BenchHouse.Room("room", [], [], area: 20, household: [("fan_at_most", 35)]),
            BenchHouse.Room("office", [], [], area: 10, household: [("fan_at_most", 60)]),
        };
        var rig = new Rig(BenchHouse.Build(rooms, [BenchHouse.Coils()], shared: [new SharedCoilPart("loft-coil", ["room", "office"], BenchHouse.Coil())]));
        rig.Air(23, 50);
        rig.Set("office.air.temperature", 26);
        rig.Set("office.air.humidity", 50);
        rig.RunUntil(r => r.Output("loft-coil.coil.fan").Value > 30, 900);
        Assert.Equal(Stage.PullDown, rig.Image.Rooms[1].Stage);
        Assert.Equal(Stage.Satisfied, rig.Image.Rooms[0].Stage);
        rig.Run(300);
        Assert.Equal(35, rig.Output("loft-coil.coil.fan").Value, 6);
        Assert.Equal(Cause.HouseholdLimit, rig.Output("loft-coil.coil.fan").Binding.Cause);
    }

    [Fact]
    public void The_air_where_the_manifold_stands_holds_the_water_up_for_everybody()
    {
        RoomPart[] rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")]), BenchHouse.Room("store", [BenchHouse.Coil()], [])];
        var rig = new Rig(BenchHouse.Build(rooms, [BenchHouse.Surfaces("ceiling-loop", manifold: "store"), BenchHouse.Coils()]));
        rig.Air(24.4, 42);
        rig.Set("store.air.temperature", 23.5);
        rig.Set("store.air.humidity", 70);
        rig.RunUntil(r => r.Ceiling.Value > 0, 900);
        rig.Run(30);
        var store = rig.Image.Rooms[1].DewPointWorstC;
        Assert.InRange(store, 17, 20);
        Assert.Equal(store + 1, rig.Image.Loops[0].LowestSafeSupplyC, 3);
        Assert.True(rig.Image.Loops[0].SetPointC >= store + 1 - 1e-6);
    }

    [Fact]
    public void A_boiler_house_heats_its_floor_by_outdoor_temperature_and_needs_no_humidity()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", "floor-loop")])], [BenchHouse.Surfaces("floor-loop", Seasons.Heating)], SourceType.Boiler));
        rig.Set("room.air.temperature", 19.8);
        rig.Set("floor-loop.supply.temperature", 22);
        rig.Set("floor-loop.return.temperature", 21);
        rig.Set("outdoor.air.temperature", 5);
        rig.RunUntil(r => r.Output("room.floor.valve").Value > 0 && r.Output("floor-loop.pump.run").Value > 0.5, 900);
        Assert.Equal(Stage.RadiantHold, rig.Stage);
        rig.Run(120);
        // Straight from 24 °C at 20 °C outdoors to 45 °C at −10 °C: halfway at 5 °C.
        Assert.Equal(34.5, rig.Image.Loops[0].SetPointC, 6);
        Assert.True(rig.Output("floor-loop.mixing.valve").Value > 0);
        Assert.Equal(SourceMode.Heating, rig.Image.Sources[0].Mode);
        rig.RunUntil(r => r.Image.Sources[0].Calling, 400);
        Assert.Equal(GuardLevel.Clear, rig.Guard);
    }

    [Fact]
    public void Rule_2_9_a_heating_fan_waits_for_water_that_is_warm_enough()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils(seasons: Seasons.Heating)], SourceType.Boiler));
        rig.Set("room.air.temperature", 17);
        rig.Set("coil-loop.supply.temperature", 20);
        rig.RunUntil(r => r.Stage == Stage.WarmUp, 400);
        rig.Run(120);
        Assert.Equal(100, rig.CoilValve.Value);
        Assert.Equal(0, rig.Fan.Value);
        Assert.Equal(Cause.NoColdBlow, rig.Fan.Binding.Cause);
        rig.Set("coil-loop.supply.temperature", 35);
        rig.RunUntil(r => r.Fan.Value > 30, 300);
    }

    [Fact]
    public void A_two_pipe_house_changes_over_when_nobody_asks_for_cold_and_somebody_is_cold_and_never_in_between()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils(seasons: Seasons.Both)], SourceType.HeatPump));
        rig.Set("room.air.temperature", 24.4);
        rig.RunUntil(r => r.Stage == Stage.CoilHold, 400);
        rig.Set("room.air.temperature", 19.5);
        rig.Run(1200);
        Assert.Equal(SourceMode.Cooling, rig.Image.Sources[0].Mode);
        Assert.Equal(0, rig.CoilValve.Value);
        rig.Set("coil-loop.supply.temperature", 20);   // the water that stands in the pipes has warmed up
        rig.RunUntil(r => r.Image.Sources[0].Mode == SourceMode.Heating, 3600);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ChangedOver.Id);
        rig.Set("coil-loop.supply.temperature", 40);
        rig.RunUntil(r => r.CoilValve.Value > 0 && r.Fan.Value > 0, 900);
    }

    [Fact]
    public void Cold_outdoors_keeps_the_source_from_changing_to_cooling()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils(seasons: Seasons.Both)], SourceType.HeatPump));
        rig.Set("outdoor.air.temperature", 8);
        rig.Set("room.air.temperature", 26);
        rig.Run(3 * 3600, 5);
        Assert.Equal(SourceMode.Heating, rig.Image.Sources[0].Mode);
        Assert.Equal(Stage.Satisfied, rig.Stage);
        rig.Set("outdoor.air.temperature", 18);
        rig.Set("coil-loop.supply.temperature", 22);
        rig.RunUntil(r => r.Image.Sources[0].Mode == SourceMode.Cooling, 3600);
    }

    [Fact]
    public void A_four_pipe_coil_uses_its_cold_valve_for_cold_and_its_warm_valve_for_warm()
    {
        var house = BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil(heating: "hot-loop")], [])], [BenchHouse.Coils(), BenchHouse.Coils("hot-loop", Seasons.Heating)], SourceType.Chiller, second: SourceType.Boiler);
        var rig = new Rig(house);
        rig.Set("hot-loop.supply.temperature", 45);
        rig.Set("room.air.temperature", 26.5);
        rig.RunUntil(r => r.Fan.Value > 50, 600);
        Assert.Equal((100, 0), (rig.CoilValve.Value, rig.Output("room.coil.heating_valve").Value));
        rig.RunUntil(r => r.Image.Sources[0].Calling, 600);   // its shortest rest runs from the start
        Assert.False(rig.Image.Sources[1].Calling);
        rig.Set("room.air.temperature", 17);
        rig.RunUntil(r => r.Output("room.coil.heating_valve").Value > 0, 3600);
        Assert.Equal(0, rig.CoilValve.Value);
        rig.RunUntil(r => r.Fan.Value > 30 && r.Image.Sources[1].Calling, 900);
        Assert.Equal(Stage.WarmUp, rig.Stage);
        Assert.Equal(0, rig.Output("coil-loop.pump.run").Value);
    }

    [Fact]
    public void A_high_limit_stops_the_floor_and_must_be_quiet_for_half_an_hour()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", "floor-loop")])], [BenchHouse.Surfaces("floor-loop", Seasons.Heating)], SourceType.Boiler));
        rig.Set("room.air.temperature", 19.5);
        rig.Set("floor-loop.supply.temperature", 30);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value > 0.5, 900);
        rig.Set("floor-loop.high_limit.tripped", 1);
        rig.Scan();
        Assert.Equal(0, rig.Output("floor-loop.pump.run").Value);
        Assert.Equal(0, rig.Output("floor-loop.mixing.valve").Value);
        Assert.Equal(Cause.HighLimit, rig.Output("floor-loop.pump.run").Binding.Cause);
        rig.Set("floor-loop.high_limit.tripped", 0);
        rig.Run(1795);
        Assert.Equal(0, rig.Output("floor-loop.pump.run").Value);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value > 0.5, 10);
    }

    [Fact]
    public void A_high_limit_that_is_not_read_yet_holds_the_loop_for_as_long_and_is_told_only_when_it_lasts()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", "floor-loop")])], [BenchHouse.Surfaces("floor-loop", Seasons.Heating)], SourceType.Boiler, wired: ["floor-loop.high_limit.tripped"]));
        rig.Set("room.air.temperature", 19.5);
        rig.Set("floor-loop.supply.temperature", 30);
        rig.Run(5);
        Assert.Equal(Cause.HighLimitUnread, rig.Output("floor-loop.pump.run").Binding.Cause);
        rig.Set("floor-loop.high_limit.tripped", 0);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value > 0.5, 400);
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.LoopStopped.Id);
        rig.Silence("floor-loop.high_limit.tripped", Fault.BusError);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value < 0.5, 120);
        rig.RunUntil(r => r.Happened.Exists(h => h.EventId == SequenceEvents.LoopStopped.Id), 120);
        rig.Set("floor-loop.high_limit.tripped", 0);
        rig.RunUntil(r => r.Happened.Exists(h => h.EventId == SequenceEvents.LoopFree.Id), 10);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value > 0.5, 10);
    }

    [Fact]
    public void A_leak_stops_every_pump_until_the_next_start()
    {
        var rig = new Rig();
        rig.Air(24.4, 45);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Set("site.leak.detected", 1);
        rig.Scan();
        rig.Scan();
        Assert.False(rig.CeilingPump);
        rig.Set("site.leak.detected", 0);
        rig.Run(3600);
        Assert.False(rig.CeilingPump);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.Leak.Id);
        rig.Memory = new Memory(rig.House);
        rig.RunUntil(r => r.CeilingPump, 1200);
    }

    [Fact]
    public void Too_little_pressure_stops_a_pump_and_a_missing_gauge_does_not()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(24.4, 45);
        rig.Set("ceiling-loop.water.pressure", 120);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Silence("ceiling-loop.water.pressure");
        rig.Run(300);
        Assert.True(rig.CeilingPump);
        rig.Set("ceiling-loop.water.pressure", 40);
        rig.Run(30);
        Assert.False(rig.CeilingPump);
    }

    [Fact]
    public void Health_is_energised_while_all_is_well()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils()], wired: ["room.air.temperature", "site.health.ok"]));
        rig.Set("room.air.temperature", 23);
        rig.Run(90);
        Assert.Equal(1, rig.Output("site.health.ok").Value);
        rig.Silence("room.air.temperature", Fault.BusError);
        rig.Run(120);
        Assert.Equal(0, rig.Output("site.health.ok").Value);
        Assert.Equal(0, rig.Output("site.health.ok").ThenValue);
    }

    [Fact]
    public void A_loop_for_heating_waits_shut_while_its_source_makes_cold_water()
    {
        RoomPart[] rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", "floor-loop")]), BenchHouse.Room("office", [BenchHouse.Coil()], [])];
        var rig = new Rig(BenchHouse.Build(rooms, [BenchHouse.Surfaces("floor-loop", Seasons.Heating), BenchHouse.Coils(seasons: Seasons.Both)], SourceType.HeatPump));
        rig.Set("room.air.temperature", 19);
        rig.Set("floor-loop.supply.temperature", 22);
        rig.Set("office.air.temperature", 25);
        rig.RunUntil(r => r.Image.Rooms[1].Stage == Stage.CoilHold, 600);
        rig.Run(3600);
        Assert.Equal(Stage.Satisfied, rig.Stage);
        Assert.Equal((0, 0), (rig.Output("room.floor.valve").Value, rig.Output("floor-loop.pump.run").Value));
        // Nobody asks for cold any more: the floor's room gets its turn.
        rig.Set("office.air.temperature", 22.5);
        rig.RunUntil(r => r.Output("floor-loop.pump.run").Value > 0.5, 3 * 3600);
        Assert.Equal(SourceMode.Heating, rig.Image.Sources[0].Mode);
    }

    [Fact]
    public void A_coil_pump_waits_for_the_actuator_that_was_named()
    {
        var slow = BenchHouse.Coil() with { Actuator = ActuatorKind.OnOff() };
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [slow], [])], [BenchHouse.Coils()]));
        rig.Air(26.5, 50);
        rig.RunUntil(r => r.CoilValve.Value > 0, 600);
        rig.Run(175);
        Assert.Equal(0, rig.Output("coil-loop.pump.run").Value);
        rig.RunUntil(r => r.Output("coil-loop.pump.run").Value > 0.5, 10);
    }
}
