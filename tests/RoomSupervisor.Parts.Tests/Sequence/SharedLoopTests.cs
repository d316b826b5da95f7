// Section 5 where rooms share a loop: isolation of the one humid room (5.4), standing cold water (5.3), a bypass (5.5), an opening and a wet manifold (5.6). Told like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class SharedLoopTests
{
    /// <summary>A dry room that wants the coldest water and a second one as dry, both open for a while; then the second grows humid by half a percent a minute.</summary>
    private static Rig Growing(double area, bool coil, string manifold = "")
    {
        var rig = GuardHouse.Follow(GuardHouse.Build(
            [GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling", area), coil)], manifold: manifold,
            sequence: [("dry_target", 18), ("dry_over", 75)]));
        rig.Air("room", 25.2, 42);
        rig.Air("attic", 24.8, 42);
        rig.RunUntil(r => r.Valve("room") > 0 && r.Valve("attic") > 0 && r.CeilingPump, 900);
        rig.Run(3600);
        Assert.True(rig.Image.Loops[0].SetPointC < 15.5, $"{rig.Image.Loops[0].SetPointC:0.0} °C");
        var humidity = 42.0;
        var water = rig.EachScan;
        rig.EachScan = r =>
        {
            water!(r);
            r.Set("attic.air.humidity", humidity = Math.Min(58, humidity + 0.5 / 60));
            Assert.True(r.Valve("room") > 0, "the loop keeps an open circuit");
        };
        return rig;
    }

    [Fact]
    public void Rule_5_4_a_small_humid_room_without_a_coil_is_shut_for_the_others_and_comes_back_half_a_kelvin_drier()
    {
        var rig = Growing(area: 8, coil: false);
        // 25 min later: the attic needs 1.5 K more than the room, whose coldest water is 15 °C.
        rig.RunUntil(r => r.Has(SequenceEvents.RoomIsolated), 2400);
        var told = rig.Happened.Single(h => h.EventId == SequenceEvents.RoomIsolated.Id);
        Assert.Equal((1, Cause.Isolated), (told.Index, told.Reason.Cause));
        Assert.InRange(told.Reason.A - told.Reason.B, 1.5, 1.55);
        Assert.Equal(0, rig.Valve("attic"));
        Assert.Equal(GuardLevel.Shut, rig.Image.Rooms[1].Guard);
        Assert.Equal(Cause.Isolated, rig.Output("attic.ceiling.valve").Binding.Cause);
        Assert.Contains("this room alone would need water of 16.", CauseWords.Sentence(rig.Output("attic.ceiling.valve"), UnitSystem.Metric), StringComparison.Ordinal);
        // The water stays up until the attic's actuator has shut (90 s), then falls.
        rig.Run(80);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC > 16.4);
        rig.Run(300);
        Assert.InRange(rig.Image.Loops[0].SetPointC, 14.9, 15.1);
        rig.Run(1200);
        Assert.InRange(rig.Image.Loops[0].SetPointC, 14.9, 15.1);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.RoomIsolated.Id);
        // Drier again: let in under 1.0 K, not under 1.5 K.
        var humidity = rig.Get("attic.air.humidity");
        var water = rig.EachScan;
        rig.EachScan = r =>
        {
            water!(r);
            r.Set("attic.air.humidity", humidity -= 0.5 / 60);
        };
        rig.RunUntil(r => r.Has(SequenceEvents.RoomAdmitted), 3600);
        var back = rig.Happened.Single(h => h.EventId == SequenceEvents.RoomAdmitted.Id);
        Assert.InRange(back.Reason.A - back.Reason.B, 0.95, 1.0);
        rig.RunUntil(r => r.Valve("attic") > 0, 900);
    }

    [Fact]
    public void Rule_5_4_a_large_humid_room_with_a_coil_is_shut_and_its_coil_carries_it()
    {
        var rig = Growing(area: 40, coil: true);
        rig.RunUntil(r => r.Has(SequenceEvents.RoomIsolated), 2400);
        Assert.Equal(0, rig.Valve("attic"));
        rig.RunUntil(r => r.Output("attic.coil.fan").Value > 0, 1800);
        Assert.Equal(0, rig.Valve("attic"));
    }

    [Fact]
    public void Rule_5_4_a_large_humid_room_without_a_coil_goes_on_and_the_others_get_its_warmer_water()
    {
        var rig = Growing(area: 40, coil: false);
        rig.Run(2400);
        Assert.False(rig.Has(SequenceEvents.RoomIsolated));
        Assert.True(rig.Valve("attic") > 0);
        Assert.True(rig.Image.Loops[0].SetPointC > 17.5, $"{rig.Image.Loops[0].SetPointC:0.0} °C");
    }

    [Fact]
    public void Rule_5_4_nobody_is_shut_for_others_whose_manifold_stands_in_the_humid_room()
    {
        var rig = Growing(area: 8, coil: false, manifold: "attic");
        rig.Run(2400);
        Assert.False(rig.Has(SequenceEvents.RoomIsolated));
        Assert.True(rig.Image.Loops[0].SetPointC > 17.5);
    }

    [Fact]
    public void Rule_5_4_an_isolated_room_does_not_pull_the_loop_up_while_it_waits_and_comes_back_when_it_is_alone()
    {
        var rig = Growing(area: 8, coil: false);
        rig.RunUntil(r => r.Has(SequenceEvents.RoomIsolated), 2400);
        rig.Run(900);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC < 15);
        var water = (Rig r) =>
        {
            if (r.CeilingPump)
                r.Set(GuardHouse.Supply, r.Get(GuardHouse.Supply) + (Math.Max(r.Image.Loops[0].SetPointC, 19) - r.Get(GuardHouse.Supply)) / 60);   // at recirculation the pipes' warm water comes
        };
        rig.EachScan = water;
        rig.Air("room", 22.5, 42);   // cool enough: its circuit shuts
        rig.RunUntil(r => r.Valve("room") <= 0, 3600);
        rig.RunUntil(r => r.Has(SequenceEvents.RoomAdmitted), 10);
        rig.RunUntil(r => r.Valve("attic") > 0, 3600);
        rig.RunUntil(r => r.Image.Rooms[1].Guard != GuardLevel.Shut, 1800);
    }

    [Fact]
    public void Rule_5_4_a_humid_room_that_wakes_up_beside_a_dry_one_that_is_open_stays_out()
    {
        var rig = Growing(area: 8, coil: false);
        rig.EachScan = null;
        rig.Air("attic", 22, 68);   // satisfied: shut by itself
        rig.RunUntil(r => r.Valve("attic") <= 0, 7200);
        rig.Air("attic", 24.8, 58);
        rig.Run(1800);
        Assert.Equal(0, rig.Valve("attic"));
        Assert.Equal(Cause.Isolated, rig.Output("attic.ceiling.valve").Binding.Cause);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC < 15);
    }

    [Fact]
    public void Rule_5_4_nobody_is_isolated_for_others_that_are_shut_themselves()
    {
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling", area: 40)), GuardHouse.Room("attic", GuardHouse.Surface("ceiling", area: 8))]));
        rig.Air("room", 26.4, 45);
        rig.Air("attic", 26, 72);   // needs 22 °C, more than anybody wants of this loop
        rig.Set(GuardHouse.Supply, 8);
        rig.Run(480);
        Assert.All(rig.Memory.Circuits, circuit => Assert.Equal(Cause.WaitingForWarmWater, circuit.ShutReason.Cause));
        Assert.True(rig.Memory.Circuits[1].AskedW < rig.Memory.Circuits[0].AskedW);
        Assert.False(rig.Has(SequenceEvents.RoomIsolated));
    }

    /// <summary>14:00 all circuits shut on water of 13 °C that stands; nothing warms the sensor. One warms through at a time; all must come back.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(6)]
    public void Rule_5_3_rooms_on_cold_standing_water_all_come_back_one_warming_through_at_a_time(int rooms)
    {
        var names = Enumerable.Range(0, rooms).Select(i => i == 0 ? "room" : $"room-{i + 1}").ToArray();
        var rig = new Rig(GuardHouse.Build([.. names.Select(name => GuardHouse.Room(name, GuardHouse.Surface("ceiling")))]));
        for (var i = 0; i < rooms; i++)
            rig.Air(names[i], 24.5, 52 + i);
        rig.Set(GuardHouse.Supply, 15.8);
        rig.Scan();
        var (pipes, sensor) = (13.0, 13.0);
        rig.EachScan = r =>
        {
            var flows = r.CeilingPump;
            pipes += (24.5 - pipes) / (flows ? 900 : 1500);
            if (flows)
                sensor += ((r.Mixing.Value > 0 ? r.Image.Loops[0].SetPointC : pipes) - sensor) / 30;
            r.Set(GuardHouse.Supply, sensor);
            Assert.True(r.Memory.Circuits.Count(circuit => circuit.WarmThrough) <= 1);
        };
        rig.Run(60);
        Assert.All(names, name => Assert.Equal(0, rig.Valve(name)));
        rig.RunUntil(r => names.All(name => r.Valve(name) > 0) && r.Memory.Circuits.All(circuit => circuit.Level != GuardLevel.Shut), 5400);
    }

    /// <summary>A room on a loop with a bypass, shut for water that has grown cold.</summary>
    private static Rig ColdPastBypass()
    {
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))], bypass: true));
        rig.Air(24.5, 55);
        rig.Set(GuardHouse.Supply, 15.8);
        rig.Scan();
        rig.Set(GuardHouse.Supply, 13);
        return rig;
    }

    [Fact]
    public void Rule_5_5_past_a_bypass_the_water_warms_with_the_circuit_shut_and_it_opens_when_the_sensor_has_seen_it()
    {
        var rig = ColdPastBypass();
        // The pump runs against nothing: the water passes the circuit, which stays shut; nothing cold is taken in.
        rig.RunUntil(r => r.CeilingPump, 900);
        Assert.Equal((0, 0), (rig.Ceiling.Value, rig.Mixing.Value));
        Assert.Equal(Cause.PastCircuits, rig.Ceiling.Binding.Cause);
        Assert.Equal(Cause.PastCircuits, rig.Output("ceiling-loop.pump.run").Binding.Cause);
        rig.Run(120);
        Assert.Equal(0, rig.Ceiling.Value);
        rig.Set(GuardHouse.Supply, 19);
        rig.RunUntil(r => r.Ceiling.Value > 0, 60);
        Assert.NotEqual(GuardLevel.Shut, rig.Guard);
        Assert.NotEqual(Cause.PastCircuits, rig.Ceiling.Binding.Cause);
    }

    [Fact]
    public void Rule_5_5_water_that_stays_cold_past_a_bypass_is_left_alone_after_ten_minutes_for_ten()
    {
        var rig = ColdPastBypass();
        rig.RunUntil(r => r.CeilingPump, 900);
        Assert.InRange(rig.RunUntil(r => !r.CeilingPump, 700), 590, 610);
        Assert.InRange(rig.RunUntil(r => r.CeilingPump, 700), 590, 610);
    }

    [Fact]
    public void Rule_5_6_an_opening_shuts_its_own_room_and_leaves_the_others_on_the_loop_running()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))]));
        rig.Air("room", 24.6, 45);
        rig.Air("attic", 24.6, 45);
        rig.RunUntil(r => r.Valve("room") > 0 && r.Valve("attic") > 0 && r.CeilingPump, 900);
        rig.Set("room.opening.open", 1);
        rig.Run(65);
        Assert.Equal((Stage.Opening, 0), (rig.Stage, rig.Valve("room")));
        Assert.True(rig.Valve("attic") > 0 && rig.CeilingPump);
        // The last one too: mixing at recirculation and no flow.
        rig.Set("attic.opening.open", 1);
        rig.Run(65);
        Assert.Equal((0, 0, false), (rig.Valve("attic"), rig.Mixing.Value, rig.CeilingPump));
    }

    [Fact]
    public void Rule_5_6_a_wet_manifold_shuts_every_cooled_circuit_on_it()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))]));
        rig.Air("room", 24.6, 45);
        rig.Air("attic", 24.6, 45);
        rig.RunUntil(r => r.Valve("room") > 0 && r.Valve("attic") > 0, 900);
        rig.Set("ceiling-loop.manifold.condensation", 1);
        rig.Silence("room.air.humidity");
        rig.Scan();
        Assert.Equal((0, 0), (rig.Valve("room"), rig.Valve("attic")));
        Assert.All(new[] { "room", "attic" }, name => Assert.Equal(Cause.CondensationSwitch, rig.Output($"{name}.ceiling.valve").Binding.Cause));
        Assert.False(rig.CeilingPump);
        // One switch, one call: of the loop, not of each room; and it ends when the manifold is dry.
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ManifoldWet.Id && h.Owner == Owner.Loop);
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.CondensationWet.Id || h.EventId == SequenceEvents.ManifoldDry.Id);
        rig.Set("ceiling-loop.manifold.condensation", 0);
        rig.Run(5);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ManifoldDry.Id);
    }

    /// <summary>A switch that stays wet is one call, whichever water the loop carries and whoever starts the controller anew; a contact left on a surface in heating told itself at every scan.</summary>
    [Theory]
    [InlineData(Seasons.Cooling)]
    [InlineData(Seasons.Heating)]
    public void Rule_5_6_a_switch_that_stays_wet_is_told_once_in_either_season_and_across_a_restart(Seasons seasons)
    {
        var ceiling = GuardHouse.Surface("ceiling");
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", ceiling), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))], seasons));
        rig.Air("room", 24.6, 45);
        rig.Air("attic", 24.6, 45);
        rig.Run(300);
        rig.Set("room.ceiling.condensation", 1);
        rig.Set("ceiling-loop.manifold.condensation", 1);
        rig.Run(120);
        Resume.Prepare(rig.House, rig.Memory, 60);
        rig.Run(120);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.CondensationWet.Id);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ManifoldWet.Id);
    }

    [Fact]
    public void A_step_of_rooms_on_one_loop_allocates_nothing()
    {
        var rig = Growing(area: 8, coil: false);
        rig.RunUntil(r => r.Has(SequenceEvents.RoomIsolated), 2400);
        var before = rig.AllocatedInSteps;
        rig.Run(600);
        Assert.Equal(before, rig.AllocatedInSteps);
    }
}
