// What only shows with hands on the outputs, with two rooms on one loop, with pipes that stood and sensors that are slow.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class HouseTests
{
    private static Rig Holding(House? house = null)
    {
        var rig = new Rig(house);
        rig.Air(24.2, 50);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 600);
        return rig;
    }

    private static void Hand(Rig rig, string id, double value, double forS = 3600)
        => HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf(id), value, forS);

    [Fact]
    public void A_valve_shut_by_hand_stops_its_pump_and_opened_by_hand_the_pump_waits_for_the_actuator()
    {
        var rig = Holding();
        Hand(rig, "room.ceiling.valve", 0, 30);
        rig.Run(2);
        Assert.False(rig.CeilingPump);
        rig.RunUntil(r => r.Ceiling.Value > 0, 60);
        Assert.False(rig.CeilingPump);
        rig.Run(80);
        Assert.False(rig.CeilingPump);
        rig.Run(15);
        Assert.True(rig.CeilingPump);
    }

    [Fact]
    public void A_pump_held_off_by_hand_leaves_the_mixing_valve_at_recirculation_and_winds_nothing_up()
    {
        var rig = Holding();
        Hand(rig, "ceiling-loop.pump.run", 0);
        rig.Set("ceiling-loop.supply.temperature", 22);
        rig.Run(600);
        Assert.Equal(0, rig.Mixing.Value);
        Assert.Equal(0, rig.Memory.Loops[0].MixingIntegral);
    }

    [Fact]
    public void A_pump_by_hand_never_pushes_against_shut_valves()
    {
        var rig = new Rig();
        rig.Run(5);
        Hand(rig, "ceiling-loop.pump.run", 1);
        rig.Run(5);
        Assert.False(rig.CeilingPump);
        Hand(rig, "room.ceiling.valve", 100);
        rig.Set("ceiling-loop.supply.temperature", 20);
        rig.RunUntil(r => r.CeilingPump, 400);
        Assert.True(rig.Memory.Circuits[0].OpenForS >= 90);
    }

    [Fact]
    public void Rule_7_1_a_source_called_by_hand_still_runs_and_rests_its_ten_minutes()
    {
        var rig = new Rig();
        rig.Run(700);
        Hand(rig, "source.call.enable", 1, 30);
        rig.Run(2);
        Assert.True(rig.Image.Sources[0].Calling);
        rig.Run(100);
        Assert.True(rig.Image.Sources[0].Calling);
        Assert.Equal(Cause.MinimumRun, rig.Image.Sources[0].Reason.Cause);
        rig.RunUntil(r => !r.Image.Sources[0].Calling, 600);
    }

    [Fact]
    public void The_coil_starts_although_the_water_that_stood_in_its_pipe_is_warmer_than_the_room()
    {
        var rig = new Rig();
        rig.Set("coil-loop.supply.temperature", 27);
        rig.Set("ceiling-loop.supply.temperature", 10);   // the ceiling may not help
        rig.Air(24.4, 50);
        rig.EachScan = r => r.Set("coil-loop.supply.temperature", r.Output("coil-loop.pump.run").Value > 0.5 ? 7 : 27);
        rig.RunUntil(r => r.Stage == Stage.CoilHelps, 900);
        rig.RunUntil(r => r.Fan.Value > 0 && r.Output("coil-loop.pump.run").Value > 0.5, 300);
    }

    [Fact]
    public void A_coil_loop_that_just_starts_does_not_open_the_ceiling_s_mixing_valve()
    {
        // Twice the same afternoon; the water that stands in the coil's pipe is 24 °C in one and 7 °C in the other, and nobody may mind.
        List<double> Mixing(double standing)
        {
            var rig = Holding();
            rig.Set("coil-loop.supply.temperature", standing);
            rig.Set("ceiling-loop.return.temperature", 22);
            rig.Set("ceiling-loop.supply.temperature", 20.5);
            rig.Run(300);
            rig.Air(25.1, 50);
            rig.RunUntil(r => r.Output("coil-loop.pump.run").Value > 0.5, 600);
            var seen = new List<double>();
            rig.EachScan = r => seen.Add(r.Mixing.Value);
            rig.Run(40);
            return seen;
        }
        Assert.Equal(Mixing(7), Mixing(24));
        Assert.Contains(Mixing(7), value => value > 0);
    }

    [Fact]
    public void A_humid_room_whose_circuit_is_shut_does_not_hold_up_the_water_of_the_others()
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2, sharedLoop: true));
        rig.Air(24.3, 45);
        rig.Set("room-2.air.temperature", 23);
        rig.Set("room-2.air.humidity", 85);
        rig.Set("room-2.opening.open", 0);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        rig.Run(60);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC < 16, $"lowest safe {rig.Image.Loops[0].LowestSafeSupplyC:0.0} °C");
        Assert.Equal(Cause.MixingForSetPoint, rig.Mixing.Binding.Cause);
    }

    [Fact]
    public void Two_rooms_on_cold_standing_water_warm_through_one_after_the_other()
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2, sharedLoop: true, household: [("fan_at_most", 0)]));
        rig.Air(24.4, 55);
        rig.Set("room-2.air.temperature", 24.4);
        rig.Set("room-2.air.humidity", 55);
        rig.Set("room-2.opening.open", 0);
        rig.Set("ceiling-loop.supply.temperature", 15.8);
        rig.Scan();
        rig.Set("ceiling-loop.supply.temperature", 13);
        rig.RunUntil(r => r.CeilingPump, 3600);
        Assert.Single(rig.Memory.Circuits, circuit => circuit.WarmThrough);
    }

    [Fact]
    public void A_more_humid_room_is_let_in_by_warming_the_loop_of_its_drier_neighbour()
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2, sharedLoop: true, household: [("fan_at_most", 0)]));
        rig.Air(24.4, 42);
        rig.Set("room-2.air.temperature", 23.5);
        rig.Set("room-2.air.humidity", 58);
        rig.Set("room-2.opening.open", 0);
        rig.Set("ceiling-loop.supply.temperature", 15.5);
        rig.EachScan = r =>
        {
            if (r.CeilingPump)
                r.Set("ceiling-loop.supply.temperature", r.Get("ceiling-loop.supply.temperature") + (r.Image.Loops[0].SetPointC - r.Get("ceiling-loop.supply.temperature")) / 60);
        };
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(900);
        Assert.Equal(0, rig.Output("room-2.ceiling.valve").Value);
        rig.Set("room-2.air.temperature", 24.3);
        rig.RunUntil(r => r.Output("room-2.ceiling.valve").Value > 0, 1800);
        Assert.True(rig.Ceiling.Value > 0, "the drier room goes on");
    }

    [Fact]
    public void A_fan_held_by_hand_does_not_hold_the_room_in_easing_off()
    {
        var rig = new Rig();
        rig.Air(26, 50);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        Hand(rig, "room.coil.fan", 100, 3000);
        var temperature = 26.0;
        rig.EachScan = r => r.Set("room.air.temperature", temperature = Math.Max(23, temperature - 0.01));
        rig.RunUntil(r => r.Stage == Stage.EasingOff, 600);
        rig.RunUntil(r => r.Stage != Stage.EasingOff, 600);
    }

    [Fact]
    public void Warming_through_waits_while_others_use_the_loop()
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2, sharedLoop: true, household: [("fan_at_most", 0)]));
        rig.Air(24.3, 45);
        rig.Set("room-2.air.temperature", 24.3);
        rig.Set("room-2.air.humidity", 62);   // needs warmer water than room 1 asks for
        rig.Set("room-2.opening.open", 0);
        rig.Set("ceiling-loop.supply.temperature", 17);
        rig.Set("ceiling-loop.return.temperature", 21);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        for (var second = 0; second < 1200; second++)
        {
            rig.Scan();
            Assert.Equal(0, rig.Output("room-2.ceiling.valve").Value);
            Assert.False(rig.Memory.Circuits[1].WarmThrough);
        }
    }

    [Fact]
    public void Rule_3_7_a_tray_switch_that_bobs_is_told_once_and_the_coil_waits_until_it_has_been_dry_for_a_minute()
    {
        var rig = new Rig();
        rig.Air(26, 50);
        rig.RunUntil(r => r.Fan.Value > 50, 400);
        for (var i = 0; i < 30; i++)
        {
            rig.Set("room.coil.drip_tray_full", i % 2 == 0 ? 1 : 0);
            rig.Scan();
            Assert.Equal(0, rig.Fan.Value);
        }
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.DripTrayFull.Id);
        rig.Run(58);
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.DripTrayEmpty.Id);
        rig.Run(4);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.DripTrayEmpty.Id);
    }

    [Fact]
    public void What_is_wired_and_never_came_is_told_once_after_a_minute()
    {
        var rig = new Rig(TestHouse.OneRoom(wired: ["room.air.temperature"]));
        rig.Silence("room.air.temperature", Fault.Timeout);
        rig.Run(50);
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.ReadingMissing.Id);
        rig.Run(300);
        var told = Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ReadingMissing.Id);
        Assert.Equal(Cause.Timeout, told.Reason.Cause);
        rig.Air(24, 50);
        rig.Run(3);
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ReadingBack.Id);
    }

    [Fact]
    public void A_coil_that_cannot_win_a_pull_down_alone_is_helped_by_the_ceiling()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 25)]));
        rig.Air(26, 50);
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.Run(590);
        Assert.Equal(0, rig.Ceiling.Value);
        rig.Run(30);
        Assert.Equal(Stage.PullDown, rig.Stage);
        Assert.True(rig.Ceiling.Value > 0);
        Assert.True(rig.Fan.Value > 0);
    }

    /// <summary>Once the ceiling helps the room falls faster, and the coil would look strong enough alone: the ceiling must not come and go by that.</summary>
    [Fact]
    public void Section_2_the_help_of_the_ceiling_lasts_until_the_pull_down_ends()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 25)]));
        rig.Air(26, 50);
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.RunUntil(r => r.Ceiling.Value > 0, 700);
        var air = 26.0;
        rig.EachScan = r => r.Air(air -= 0.3 / 60, 50);
        for (var second = 0; second < 90; second++)
        {
            rig.Scan();
            Assert.Equal(Stage.PullDown, rig.Stage);
            Assert.True(rig.Ceiling.Value > 0, $"shut after {second} s");
        }
    }

    [Fact]
    public void Section_2_in_a_warm_up_the_floor_heats_from_the_beginning()
    {
        var rig = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil()], [BenchHouse.Surface("floor", "floor-loop")])],
            [BenchHouse.Coils(seasons: Seasons.Heating), BenchHouse.Surfaces("floor-loop", Seasons.Heating)], SourceType.Boiler));
        rig.Set("room.air.temperature", 17);
        rig.Set("outdoor.air.temperature", 0);
        rig.Set("coil-loop.supply.temperature", 40);
        rig.Set("floor-loop.supply.temperature", 30);
        rig.RunUntil(r => r.Stage == Stage.WarmUp, 400);
        rig.Run(5);
        Assert.True(rig.Output("room.floor.valve").Value > 0);
        Assert.Equal(100, rig.CoilValve.Value);
    }

    [Fact]
    public void A_ceiling_shut_at_no_demand_in_a_humid_spell_warms_through_when_demand_is_back()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(25, 55);
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.RunUntil(r => r.Ceiling.Value > 0, 900);
        var humidity = 55.0;
        rig.EachScan = r => r.Air(25, humidity = Math.Min(80, humidity + 0.02));
        rig.Run(1500);
        rig.Set("ceiling-loop.supply.temperature", 14);   // the pipe has cooled meanwhile
        rig.EachScan = r => r.Air(25, humidity = Math.Max(50, humidity - 0.02));
        rig.Run(1600);
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.WarmThrough && r.CeilingPump, 3600);
        Assert.Equal(0, rig.Mixing.Value);
    }

    [Fact]
    public void A_dithering_last_digit_is_no_fast_move()
    {
        var rig = new Rig();
        for (var second = 0; second < 300; second++)
        {
            rig.Set("room.air.temperature", second % 2 == 0 ? 24.3 : 24.4);
            rig.Scan();
            Assert.True(rig.Reading("room.air.temperature").Exists);
        }
    }

    [Fact]
    public void One_bad_sample_does_not_cost_the_room_its_stage()
    {
        var rig = new Rig();
        rig.Air(26, 50);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.Set("room.air.temperature", 99.9);
        rig.Scan();
        Assert.Equal(0, rig.Fan.Value);
        rig.Set("room.air.temperature", 26);
        rig.Scan();
        Assert.Equal(Stage.PullDown, rig.Stage);
        Assert.True(rig.Fan.Value > 0);
    }

    [Fact]
    public void A_bad_sample_now_and_then_does_not_keep_a_room_from_being_cooled()
    {
        var rig = new Rig();
        for (var second = 0; second < 600; second++)
        {
            rig.Set("room.air.temperature", second % 100 == 50 ? 99.9 : 25.2);
            rig.Scan();
        }
        Assert.NotEqual(Stage.Satisfied, rig.Stage);
    }

    [Fact]
    public void One_impossible_humidity_does_not_shut_the_ceiling()
    {
        var rig = Holding();
        rig.Set("ceiling-loop.supply.temperature", 17.3);
        rig.Run(30);
        rig.Set("room.air.humidity", 6553.5);
        rig.Scan();
        Assert.Equal(Quality.Missing, rig.Reading("room.air.humidity").Quality);
        Assert.NotEqual(GuardLevel.Shut, rig.Guard);
        Assert.True(rig.Ceiling.Value > 0);
    }

    [Fact]
    public void A_coil_that_gets_warm_water_stops_and_the_mixing_valve_takes_none_in()
    {
        var rig = new Rig();
        rig.Set("coil-loop.supply.temperature", 35);
        rig.Set("source.supply.temperature", 35);
        rig.Set("ceiling-loop.supply.temperature", 22);
        rig.Air(26, 50);
        rig.RunUntil(r => r.Output("coil-loop.pump.run").Value > 0.5, 400);
        rig.RunUntil(r => r.Fan.Value == 0 && r.CoilValve.Value == 0, 500);
        rig.RunUntil(r => r.CeilingPump, 600);
        rig.Run(60);
        Assert.Equal(0, rig.Mixing.Value);
    }

    [Fact]
    public void A_hot_room_without_its_coil_keeps_its_ceiling_above_twenty_degrees_of_water()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(30, 55);   // dew point 19.9 °C: the lowest safe supply is over 20 °C
        rig.Set("ceiling-loop.supply.temperature", 22.5);
        rig.Set("ceiling-loop.return.temperature", 26);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(120);
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC > 20);
        Assert.True(rig.Mixing.Value > 0);
        Assert.True(rig.Image.Sources[0].Calling || rig.Memory.Sources[0].AskedForS > 0);
    }

    [Fact]
    public void A_contact_that_cannot_be_read_leaves_an_open_door_open()
    {
        var rig = new Rig(TestHouse.OneRoom(wired: ["room.opening.open"]));
        rig.Air(26, 50);
        rig.Set("room.opening.open", 1);
        rig.RunUntil(r => r.Stage == Stage.Opening, 90);
        rig.Silence("room.opening.open", Fault.Timeout);
        rig.Run(200);
        Assert.Equal(Stage.Opening, rig.Stage);
        rig.Set("room.opening.open", 0);
        rig.Run(2);
        Assert.Equal(Stage.PullDown, rig.Stage);
    }

    [Fact]
    public void A_humidity_sensor_that_reports_once_a_minute_raises_no_false_alarm()
    {
        var rig = Holding();
        rig.Set("ceiling-loop.supply.temperature", 20);
        rig.Run(300);
        var humidity = 50.0;
        var second = 0;
        rig.EachScan = r =>
        {
            humidity = Math.Min(60, humidity + 0.03);   // 0.5 K of dew point a minute
            if (second++ % 60 == 0)
                r.Set("room.air.humidity", humidity);
            else
                r.Silence("room.air.humidity");
        };
        for (var i = 0; i < 400; i++)
        {
            rig.Scan();
            Assert.NotEqual(GuardLevel.Shut, rig.Guard);
        }
    }

    [Fact]
    public void A_fault_does_not_make_a_disbelieved_reading_true()
    {
        var rig = new Rig();
        rig.Run(30);
        rig.Set("room.air.temperature", 29);
        rig.Run(20);
        rig.Silence("room.air.temperature", Fault.Timeout);
        rig.Run(2);
        Assert.Equal(Cause.Jumped, rig.Reading("room.air.temperature").Cause);
    }

    [Fact]
    public void With_the_guard_shut_and_the_room_cold_enough_the_demand_ends()
    {
        var rig = Holding();
        rig.Set("ceiling-loop.supply.temperature", 5);
        rig.Run(60);
        var temperature = 24.3;
        rig.EachScan = r => r.Set("room.air.temperature", temperature = Math.Max(22, temperature - 0.005));
        rig.RunUntil(r => r.Stage == Stage.Satisfied, 3600);
    }
}
