// Section 6, rule 5, and section 8, rules 2 and 4: frost above everything else, and what outputs do when the controller falls silent. Read each test like a log of a winter night.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class FrostTests
{
    private const string Loop = "floor-loop", Valve = "room.floor.valve";

    private static Rig Heated(bool control = true, SourceType type = SourceType.Boiler, Seasons seasons = Seasons.Heating, double outdoors = -12)
    {
        var room = BenchHouse.Room("room", [], [BenchHouse.Surface("floor", Loop)], household: control ? [] : [("control", 0)]);
        var rig = new SourceHouse { Type = type, Rooms = [room], Loops = [BenchHouse.Surfaces(Loop, seasons)] }.Rig();
        rig.Set(Loop + ".supply.temperature", 20);
        if (double.IsFinite(outdoors))
            rig.Set("outdoor.air.temperature", outdoors);
        rig.Air(21.5, 40);
        rig.Run(120);
        return rig;
    }

    private static double Opening(Rig rig) => rig.Output(Valve).Value;

    [Fact]
    public void Rule_6_5_water_under_four_degrees_opens_the_valves_starts_the_pump_and_calls_heat()
    {
        var rig = Heated();
        Assert.Equal((0.0, false, false), (Opening(rig), rig.Pump(Loop), rig.Called()));   // nobody wants anything
        rig.Run(600);
        rig.Set(Loop + ".return.temperature", 3.9);
        rig.Run(1);
        Assert.Equal(100, Opening(rig));
        Assert.True(rig.Called());
        Assert.Equal(Cause.FrostCalls, rig.CallReason().Cause);
        rig.Run(85);
        Assert.False(rig.Pump(Loop));                                   // not against a valve that is not open yet
        rig.Run(10);
        Assert.True(rig.Pump(Loop));
        var told = rig.Happened.Single(h => h.EventId == SequenceEvents.FrostInWater.Id);
        Assert.Equal(Priority.Urgent, SequenceEvents.FrostInWater.Priority);
        Assert.Equal(3.9f, told.Reason.A, 0.01f);
        rig.Set(Loop + ".return.temperature", 5.5);
        rig.Run(60);
        Assert.True(rig.Pump(Loop));                                    // two kelvins more until it is over
        rig.Set(Loop + ".return.temperature", 8);
        rig.Run(60);
        Assert.Equal((0.0, false), (Opening(rig), rig.Pump(Loop)));
        Assert.True(rig.Has(SequenceEvents.FrostOver));
    }

    [Fact]
    public void Rule_6_4_after_a_stop_in_frost_the_pump_waits_for_its_valve_as_ever()
    {
        var rig = Heated();
        rig.Run(600);
        rig.Set(Loop + ".return.temperature", 3.5);
        rig.Set(Loop + ".water.pressure", 30);                          // no water: a pump would draw air, frost or not
        rig.Run(1200);
        Assert.Equal((0.0, false), (Opening(rig), rig.Pump(Loop)));
        rig.Set(Loop + ".water.pressure", 150);                         // filled again
        rig.RunUntil(r => Opening(r) >= 100, 60);
        rig.Run(80);
        Assert.False(rig.Pump(Loop), rig.Said());                       // the valve takes a minute and a half
        rig.Run(15);
        Assert.True(rig.Pump(Loop));
    }

    [Fact]
    public void Rule_6_4_past_a_bypass_the_pump_runs_at_once_in_frost_and_takes_warm_water_in_when_a_valve_is_open()
    {
        var loop = BenchHouse.Surfaces(Loop, Seasons.Heating) with { Settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("bypass", 1)) };
        var rig = new SourceHouse { Type = SourceType.Boiler, Rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", Loop)])], Loops = [loop] }.Rig();
        rig.Set(Loop + ".supply.temperature", 20);
        rig.Set("source.supply.temperature", 45);
        rig.Air(21.5, 40);
        rig.Run(600);
        rig.Set(Loop + ".return.temperature", 3.5);
        rig.Run(1);
        Assert.Equal((100.0, true, 0.0), (Opening(rig), rig.Pump(Loop), rig.Output(Loop + ".mixing.valve").Value));
        rig.Run(85);
        Assert.Equal((true, 0.0), (rig.Pump(Loop), rig.Output(Loop + ".mixing.valve").Value));   // what is warm would only go round past the rooms
        rig.Run(20);
        Assert.True(rig.Pump(Loop) && rig.Output(Loop + ".mixing.valve").Value > 0, rig.Said());
    }

    /// <summary>Cold water froze under two rooms: the first stays open for long and then shuts as the second, with a slow actuator, is opened anew.</summary>
    [Fact]
    public void Rule_6_4_the_pump_waits_for_the_stroke_of_the_valve_that_is_opened_last_although_another_was_open_before()
    {
        var slow = GuardHouse.Surface("ceiling", actuator: TestHouse.Fill(ActuatorKind.Modulating(), ActuatorKind.Parameters, ("opening_time", 300)));
        var rig = new Rig(BenchHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", slow)], [BenchHouse.Surfaces(GuardHouse.Loop), BenchHouse.Coils()]));
        rig.Set("outdoor.air.temperature", -5);
        rig.Air("room", 9, 40);
        rig.Air("attic", 9, 40);
        rig.Run(900);
        rig.Set(GuardHouse.Supply, 3);
        rig.RunUntil(r => r.CeilingPump, 300);                          // the first room's takes a minute and a half
        rig.Air("attic", 11, 40);
        rig.RunUntil(r => r.Valve("attic") <= 0, 300);
        rig.Run(200);
        rig.Air("attic", 9, 40);
        rig.RunUntil(r => r.Valve("attic") >= 100, 300);
        rig.Run(20);
        rig.Air("room", 11, 40);
        rig.RunUntil(r => r.Valve("room") <= 0, 300);
        rig.Run(60);
        Assert.Equal((100.0, false), (rig.Valve("attic"), rig.CeilingPump));
        rig.RunUntil(r => r.CeilingPump, 300);
    }

    /// <summary>Switched off by the household, and its window open besides.</summary>
    [Fact]
    public void Rule_6_5_a_room_under_six_degrees_is_heated_although_it_is_switched_off_and_open()
    {
        var rig = Heated(control: false);
        var air = 10.0;
        rig.EachScan = r => r.Set("room.air.temperature", air = Math.Max(5.5, air - 0.005));
        rig.RunUntil(r => r.Room.AirTemperatureC < 6.2, 1800);
        Assert.Equal((Stage.Off, 0.0, false), (rig.Stage, Opening(rig), rig.Called()));
        rig.Set("room.opening.open", 1);
        rig.RunUntil(r => r.Has(SequenceEvents.FrostInRoom), 600);
        rig.Run(100);
        Assert.Equal((100.0, true, true), (Opening(rig), rig.Pump(Loop), rig.Called()));
        Assert.Equal(Cause.FrostRoom, rig.Output(Valve).Binding.Cause);
    }

    [Fact]
    public void Rule_6_5_a_source_that_cools_changes_over_for_it_at_once()
    {
        var rig = Heated(type: SourceType.HeatPump, seasons: Seasons.Both);
        rig.Memory.Sources[0].Heats = false;                            // still set for summer
        rig.Set("source.supply.temperature", 12);
        rig.Run(60);
        Assert.Equal(SourceMode.Cooling, rig.Mode());
        var air = 10.0;
        rig.EachScan = r => r.Set("room.air.temperature", air = Math.Max(5.5, air - 0.01));
        rig.RunUntil(r => r.Has(SequenceEvents.FrostInRoom), 1800);
        var took = rig.RunUntil(r => r.Mode() == SourceMode.Heating, 600);
        Assert.InRange(took, 50, 120);                                  // pumps still for a minute, water as it is
        rig.RunUntil(r => r.Called() && r.Pump(Loop), 900);
    }

    /// <summary>Cold water is meant to be cold: 3.5 °C standing is no frost, 2.9 °C and falling is the evaporator freezing.</summary>
    [Fact]
    public void Rule_6_5_a_loop_of_cold_water_is_only_stopped_under_three_degrees_and_falling()
    {
        var rig = new SourceHouse { Rooms = [SourceHouse.CoilRoom("room")] }.Rig();
        rig.Set("coil-loop.supply.temperature", 7);
        rig.Air(24.8, 45);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        var water = 7.0;
        rig.EachScan = r => r.Set("coil-loop.supply.temperature", water = Math.Max(2.6, water - 0.02));
        rig.RunUntil(_ => water < 3.1, 900);
        Assert.False(rig.Has(SequenceEvents.FrostInWater));
        Assert.True(rig.Called());
        rig.RunUntil(r => r.Has(SequenceEvents.FrostInWater), 60);
        rig.Run(1);
        Assert.Equal((false, true), (rig.Called(), rig.Pump()));         // shortest run or not; the flow stays, it is what thaws
        Assert.Equal(Cause.FrostStops, rig.CallReason().Cause);
        rig.EachScan = null;
        rig.Set("coil-loop.supply.temperature", 6);
        rig.RunUntil(r => r.Has(SequenceEvents.FrostOver), 120);
    }

    /// <summary>A machine that runs away in July is no frost: nothing is circulated through warm ceilings for it.</summary>
    [Fact]
    public void Rule_6_5_cold_water_under_a_warm_ceiling_is_the_guards()
    {
        var rig = new Rig(BenchHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))], [BenchHouse.Surfaces(GuardHouse.Loop)]));
        rig.Air(24.8, 45);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Set(GuardHouse.Supply, 2);
        for (var s = 0; s < 3600; s++)
        {
            rig.Scan();
            Assert.NotEqual(Cause.FrostWater, rig.Ceiling.Binding.Cause);
            Assert.NotEqual(Cause.FrostWater, rig.Output("ceiling-loop.pump.run").Binding.Cause);
        }
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        Assert.False(rig.Has(SequenceEvents.FrostInWater));
    }

    /// <summary>The valve of a coil is held open against frost while its room is warm: warm water passes, and the fan falls as quietly as ever.</summary>
    [Fact]
    public void Rule_4_4_a_fan_is_not_cut_off_while_frost_holds_its_valve_open()
    {
        var rig = new SourceHouse { Type = SourceType.Boiler, Rooms = [SourceHouse.CoilRoom("room")], Loops = [BenchHouse.Coils(seasons: Seasons.Heating)] }.Rig();
        rig.Set("coil-loop.supply.temperature", 40);
        rig.Set("coil-loop.return.temperature", 30);
        rig.Set("outdoor.air.temperature", -12);
        rig.Air(17, 40);
        rig.RunUntil(r => r.Fan.Value > 60, 1500);
        rig.Set("coil-loop.return.temperature", 3.5);
        rig.RunUntil(r => r.Has(SequenceEvents.FrostInWater), 60);
        var air = 17.0;
        rig.EachScan = r => r.Air(air = Math.Min(23.9, air + 0.03), 40);
        var before = rig.Fan.Value;
        var start = rig.House.Coils[0].StartSpeedPercent;
        rig.RunUntil(
            r =>
            {
                Assert.True(r.Fan.Value >= Math.Min(before * Math.Pow(10, -12.0 / 60 / 50), before <= 1.02 * start ? 0 : before) - 1e-6, $"{before:0.0} to {r.Fan.Value:0.0} %: {r.Said()}");
                before = r.Fan.Value;
                return before <= 0;
            },
            900);
        Assert.Equal(100, rig.CoilValve.Value);
    }

    [Fact]
    public void Rule_8_4_a_hand_keeps_neither_pump_nor_heat_from_a_freezing_loop_and_a_leak_does()
    {
        var rig = Heated();
        foreach (var output in new[] { Loop + ".pump.run", Valve, "source.call.enable", Loop + ".mixing.valve" })
            HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf(output), 0, 4 * 3600);
        rig.Run(600);
        rig.Set(Loop + ".return.temperature", 3);
        rig.Run(100);
        Assert.Equal((100.0, true, true), (Opening(rig), rig.Pump(Loop), rig.Called()));
        rig.Set("site.leak.detected", 1);
        rig.Run(2);
        Assert.Equal((0.0, false), (Opening(rig), rig.Pump(Loop)));
    }

    [Fact]
    public void Rule_8_4_a_hand_on_the_mixing_valve_does_not_send_the_machines_hot_water_into_a_ceiling()
    {
        var rig = new Rig(BenchHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))], [BenchHouse.Surfaces(GuardHouse.Loop)]));
        rig.Air(24.8, 45);
        rig.RunUntil(r => r.CeilingPump, 900);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("ceiling-loop.mixing.valve"), 60, 3600);
        rig.Run(2);
        Assert.Equal(60, rig.Mixing.Value);
        rig.Set("source.state.making_hot_water", 1);
        rig.Run(2);
        Assert.Equal(0, rig.Mixing.Value);
    }

    [Theory]
    [InlineData(-12, 20, 1)]
    [InlineData(8, 20, 0)]
    [InlineData(8, 7, 1)]            // mild, but the water is cold
    [InlineData(double.NaN, 20, 1)]  // nobody knows
    public void Rule_8_2_when_the_controller_falls_silent_in_frost_warm_water_goes_on_and_mixing_shuts(double outdoors, double water, double then)
    {
        var rig = Heated(outdoors: outdoors);
        rig.Air(19, 40);
        rig.Set(Loop + ".supply.temperature", water);
        rig.RunUntil(r => r.Pump(Loop), 1200);
        rig.Run(120);
        Assert.Equal((then, 100 * then), (rig.Output(Loop + ".pump.run").ThenValue, rig.Output(Valve).ThenValue));
        Assert.Equal(0, rig.Output(Loop + ".mixing.valve").ThenValue);
    }

    [Fact]
    public void Rule_8_2_a_cooled_loop_is_left_with_everything_shut_and_off_whatever_the_weather()
    {
        var rig = new Rig();
        rig.Set("outdoor.air.temperature", -12);
        rig.Air(26.5, 45);
        rig.RunUntil(r => r.Fan.Value > 0, 900);
        Assert.All(rig.Image.Commands, command => Assert.Equal(0, command.ThenValue));
    }
}
