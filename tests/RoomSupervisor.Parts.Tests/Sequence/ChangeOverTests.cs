// Section 7, rule 3: one source for cold and warm water. Read each test like the log of a spring week.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ChangeOverTests
{
    private static SourceHouse TwoPipe(params (string Name, double Area)[] rooms) => new()
    {
        Type = SourceType.HeatPump,
        Rooms = [.. rooms.Select(room => SourceHouse.CoilRoom(room.Name, room.Area))],
        Loops = [BenchHouse.Coils(seasons: Seasons.Both)],
    };

    /// <summary>Water in the pipes: cold while it cools, warm while it heats, room temperature half an hour after.</summary>
    private static void Water(Rig rig, double standing = 21)
    {
        var water = 21.0;
        rig.EachScan = r =>
        {
            var made = r.NowS > 0 && r.Called() ? (r.Mode() == SourceMode.Cooling ? 8 : 40) : standing;
            water += (made - water) / (r.NowS > 0 && r.Called() ? 120 : 600);
            r.Set("coil-loop.supply.temperature", water);
            r.Set("source.supply.temperature", water);
        };
    }

    [Fact]
    public void Rule_7_3_when_nobody_wants_cold_for_half_an_hour_and_somebody_warmth_it_changes_with_still_pumps_and_neutral_water()
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig);
        rig.Air(24.6, 45);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        Assert.Equal(1, rig.Output("source.change_over.valve").Value);
        rig.Air(19.5, 45);                                     // a cold front: the room is too cold now
        var began = rig.NowS;
        while (rig.Mode() == SourceMode.Cooling)
        {
            rig.Scan();
            Assert.True(rig.NowS - began < 5400, rig.Said());
            if (rig.Mode() == SourceMode.Heating)
                break;
            Assert.Equal(1, rig.Output("source.change_over.valve").Value);
        }
        Assert.True(rig.NowS - began >= 1800);
        Assert.Equal(0, rig.Output("source.change_over.valve").Value);
        Assert.False(rig.Pump());
        Assert.InRange(rig.Get("source.supply.temperature"), 18, 26);
        Assert.Equal(0, rig.Times(SequenceEvents.ChangedOverNotNeutral));
        rig.Run(115);                                          // the valve moves for two minutes: no call, no pump
        Assert.Equal((false, false), (rig.Called(), rig.Pump()));
        Assert.Equal(Cause.ChangingOver, rig.CallReason().Cause);
        rig.RunUntil(r => r.Called() && r.Pump() && r.Fan.Value > 0, 5400);
        Assert.Equal(0, rig.Output("source.call.cooling").Value);
    }

    /// <summary>Somebody calls the machine by hand while its water still comes to neutral: it would run when the valve turns an hour later. The hand waits, with the reason, and holds when the valve stands; off it holds at once.</summary>
    [Fact]
    public void Rule_7_3_a_machine_that_is_called_by_hand_does_not_run_through_a_change_over()
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig, standing: 14);                              // never neutral: the longest wait counts
        rig.Air(24.6, 45);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        rig.Air(19.5, 45);
        rig.RunUntil(r => r.CallReason().Cause == Cause.ChangingOver && !r.Called(), 5400);
        rig.Run(600);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("source.call.enable"), 1, 3 * 3600);
        rig.EachScan += r => Assert.False(r.Called() && r.Memory.Sources[0].Change.Changing, r.Said());
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 4000);
        rig.RunUntil(r => r.Called() && r.CallReason().Cause == Cause.HandValue, 1200);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("source.call.enable"), 0, 3600);
        rig.RunUntil(r => !r.Called(), 700);
    }

    /// <summary>A large room is dried and asks for nothing else; a small one is too cold. Nobody wants cold: after half an hour it changes.</summary>
    [Fact]
    public void Rule_7_3_a_room_that_is_only_dried_does_not_hold_the_house_in_cooling()
    {
        var rig = new SourceHouse
        {
            Type = SourceType.HeatPump,
            Rooms = [SourceHouse.CoilRoom("room", 60, output: 220), SourceHouse.CoilRoom("attic", 12)],
            Loops = [BenchHouse.Coils(seasons: Seasons.Both)],
        }.Rig();
        Water(rig);
        rig.Air(23.95, 63);
        rig.RoomAir("attic", 21, 45);
        rig.RunUntil(r => r.Room.Moisture == Moisture.Dehumidifying, 1500);
        rig.RoomAir("attic", 19.5, 45);
        rig.Run(900);
        Assert.Equal((Moisture.Dehumidifying, Stage.Satisfied, SourceMode.Cooling), (rig.Room.Moisture, rig.Stage, rig.Mode()));
        var changed = rig.RunUntil(r => r.Mode() == SourceMode.Heating, 3600);
        Assert.InRange(900 + changed, 1800, 4500);
    }

    [Fact]
    public void Rule_7_3_water_that_does_not_become_neutral_is_waited_for_an_hour_and_that_is_told()
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig, standing: 12);
        rig.Air(24.6, 45);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        rig.Run(600);
        rig.Air(19.5, 45);
        rig.RunUntil(r => r.CallReason().Cause == Cause.ChangingOver, 4000);
        var left = rig.CallReason().A;
        var took = rig.RunUntil(r => r.Mode() == SourceMode.Heating, 4000);
        Assert.Equal(3600, took, 130.0);
        Assert.Equal(3720, left, 5.0);
        Assert.Equal(1, rig.Times(SequenceEvents.ChangedOverNotNeutral));
    }

    /// <summary>
    /// 90 l at 35 °C in their insulation lose 2 K an hour: they never become neutral by themselves. 3 kW take them to 26 °C in 90 · 4,187 · 9 / 3,000 = 1,130 s.
    /// </summary>
    [Fact]
    public void Rule_7_3_a_buffer_does_not_hold_a_change_over_up_the_machine_takes_it_through_neutral_with_every_pump_still()
    {
        var rig = new SourceHouse { Type = SourceType.HeatPump, BufferL = 90, Rooms = [SourceHouse.CoilRoom("room")], Loops = [BenchHouse.Coils(seasons: Seasons.Both)] }.Rig();
        var (buffer, pipe) = (30.0, 21.0);
        rig.EachScan = r =>
        {
            var called = r.NowS > 0 && r.Called();
            var cools = r.NowS > 0 && r.Mode() == SourceMode.Cooling;
            buffer += ((called ? cools ? -3000 : 3000 : 0) + (r.NowS > 0 && r.Pump() ? cools ? 500 : -500 : 0)) / (90 * 4187.0);
            pipe += ((r.NowS > 0 && r.Pump() ? buffer : 21) - pipe) / 120;
            r.Set("buffer.top.temperature", buffer);
            r.Set("buffer.bottom.temperature", buffer);
            r.Set("source.supply.temperature", buffer);
            r.Set("coil-loop.supply.temperature", pipe);
        };
        rig.Set("outdoor.air.temperature", 18);
        rig.Memory.Sources[0].Heats = true;
        rig.Air(19, 45);
        rig.RunUntil(r => r.Called() && r.Mode() == SourceMode.Heating, 7200);
        rig.RunUntil(r => !r.Called(), 7200);
        Assert.True(buffer > 35, $"{buffer:0.0} °C");
        rig.Air(24.8, 45);                                     // the sun: the room is too warm now
        rig.RunUntil(r => r.CallReason().Cause == Cause.ChangingOver, 4000);
        var changed = rig.RunUntil(r => r.Mode() == SourceMode.Cooling, 4000);
        Assert.InRange(changed, 55, 900);                      // still for a minute, and the pipes' own water; not an hour
        var far = buffer;
        Assert.True(far > 30, $"{far:0.0} °C");
        rig.RunUntil(r => r.Called(), 900);
        Assert.Equal((Cause.BufferCharges, 26f), (rig.CallReason().Cause, rig.CallReason().B));
        var began = rig.NowS;
        while (buffer > 26.1)
        {
            rig.Scan();
            Assert.Equal((true, false), (rig.Called(), rig.Pump()));
            Assert.True(rig.NowS - began < 2400, rig.Said());
        }
        Assert.Equal(90 * 4187 * (far - 26.1) / 3000, rig.NowS - began, 60.0);
        rig.RunUntil(r => r.Pump(), 300);
        Assert.Equal(0, rig.Times(SequenceEvents.ChangedOverNotNeutral));
    }

    [Fact]
    public void Rule_7_3_a_buffer_that_the_machine_does_not_move_is_given_up_after_the_hour_and_that_is_told()
    {
        var rig = new SourceHouse { Type = SourceType.HeatPump, BufferL = 90, Rooms = [SourceHouse.CoilRoom("room")], Loops = [BenchHouse.Coils(seasons: Seasons.Both)] }.Rig();
        rig.Set("coil-loop.supply.temperature", 21);
        rig.Set("buffer.top.temperature", 34);
        rig.Set("buffer.bottom.temperature", 34);
        rig.Memory.Sources[0].Heats = true;
        rig.Air(24.8, 45);
        rig.RunUntil(r => r.CallReason().Cause == Cause.ChangingOver, 4000);
        var began = rig.NowS;
        rig.RunUntil(r => r.Times(SequenceEvents.ChangedOverNotNeutral) > 0, 4000);
        Assert.Equal(3600, rig.NowS - began, 5.0);
        rig.Run(5);
        Assert.NotEqual(Cause.ChangingOver, rig.CallReason().Cause);
        Assert.Equal(SourceMode.Cooling, rig.Mode());
    }

    [Fact]
    public void Rule_7_3_a_room_that_waits_for_the_weather_reads_the_weather_and_not_its_turn()
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig);
        rig.Set("outdoor.air.temperature", 14.2);
        rig.Memory.Sources[0].Heats = true;
        rig.Air(24.8, 45);
        rig.Run(3600);
        Assert.Equal(SourceMode.Heating, rig.Mode());
        Assert.Equal((Cause.TooColdToCool, 14.2f, 16f), (rig.CoilValve.Binding.Cause, rig.CoilValve.Binding.A, rig.CoilValve.Binding.B));
        Assert.Equal("too warm, but the source heats: no cooling with 14.2 °C outdoors, under 16 °C", CauseWords.Sentence(rig.CoilValve, UnitSystem.Metric));
        Assert.Equal(Cause.TooColdToCool, rig.Happened.Single(h => h.EventId == SequenceEvents.RoomWaitsForOther.Id).Reason.Cause);
        rig.Set("outdoor.air.temperature", 17);
        rig.RunUntil(r => r.Mode() == SourceMode.Cooling, 7200);
        rig.Set("outdoor.air.temperature", 22);                // and the other way round
        rig.Air(18.5, 45);
        rig.RunUntil(r => r.CoilValve.Binding.Cause == Cause.TooWarmToHeat, 3600);
        Assert.Equal((22f, 20f), (rig.CoilValve.Binding.A, rig.CoilValve.Binding.B));
    }

    [Fact]
    public void Rule_7_3_a_hand_on_the_pump_does_not_keep_it_running_while_the_valve_moves()
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig);
        rig.Air(24.6, 45);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("room.coil.valve"), 100, 3 * 3600);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("coil-loop.pump.run"), 1, 3 * 3600);
        rig.Air(19.5, 45);
        rig.RunUntil(r => r.CallReason().Cause == Cause.ChangingOver, 4000);
        rig.Run(5);
        Assert.False(rig.Pump());
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 4000);
        rig.Run(100);
        Assert.False(rig.Pump());
    }

    /// <summary>One room of 20 m² wants cold all day, two of together 50 m² want warmth.</summary>
    private static Rig Contested()
    {
        var rig = TwoPipe(("room", 20), ("north", 30), ("loft", 20)).Rig();
        Water(rig);
        rig.RoomAir("room", 24.6);
        rig.RoomAir("north", 22);
        rig.RoomAir("loft", 22);
        rig.RunUntil(r => r.Called() && r.Pump(), 1500);
        return rig;
    }

    [Fact]
    public void Rule_7_3_the_larger_floor_has_its_way_after_half_an_hour_and_the_smaller_does_not()
    {
        var rig = Contested();
        rig.RoomAir("loft", 19.5);                                 // 20 m² against 20 m²: nothing changes
        rig.Run(7200);
        Assert.Equal(SourceMode.Cooling, rig.Mode());
        rig.RoomAir("north", 19.5);                                // 50 m² against 20 m²
        var waited = rig.RunUntil(r => r.Mode() == SourceMode.Heating, 7200);
        Assert.True(waited >= 1800);
        var changed = Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ChangedOver.Id).Reason;
        Assert.Equal((50f, 20f), (changed.A, changed.B));
    }

    [Fact]
    public void Rule_7_3_who_must_wait_is_told_why_and_gets_a_turn_of_an_hour_after_six()
    {
        var rig = Contested();
        rig.IsAlive = true;                                    // a day and a half: sensors that show no step for six hours count as stuck
        rig.RoomAir("north", 19.5);
        rig.RoomAir("loft", 19.5);
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 7200);
        var changed = rig.NowS;
        rig.RunUntil(r => r.CoilValve.Binding.Cause == Cause.WaitsForCold, 1200);
        Assert.Equal((50f, 20f), (rig.CoilValve.Binding.A, rig.CoilValve.Binding.B));
        Assert.Equal(21600 - (rig.NowS - changed), rig.CoilValve.Binding.C, 900.0);
        rig.RunUntil(r => r.Happened.Exists(h => h.EventId == SequenceEvents.RoomWaitsForOther.Id && h.Index == 0), 3600);
        rig.RunUntil(r => r.Mode() == SourceMode.Cooling, 8 * 3600);
        Assert.InRange(rig.NowS - changed, 21600, 21600 + 5400);
        var turn = rig.NowS;
        rig.RunUntil(r => r.CoilValve.Value > 0 && r.Pump(), 5400);
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 8000);
        Assert.InRange(rig.NowS - turn, 3600, 3600 + 5400);
        // Not again within six hours.
        var back = rig.NowS;
        rig.RunUntil(r => r.Mode() == SourceMode.Cooling, 8 * 3600);
        Assert.True(rig.NowS - turn >= 21600, $"again after {rig.NowS - turn} s");
        Assert.True(rig.NowS > back);
    }

    [Fact]
    public void Rule_7_3_two_larger_floors_that_take_turns_change_it_at_most_once_in_six_hours()
    {
        var rig = Contested();
        rig.RoomAir("north", 19.5);
        rig.RoomAir("loft", 19.5);
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 7200);
        var changed = rig.NowS;
        rig.RoomAir("north", 24.6);                                // north is too warm already: 50 m² for cold against 20 m²
        rig.RunUntil(r => r.Mode() == SourceMode.Cooling, 8 * 3600);
        Assert.True(rig.NowS - changed >= 6 * 3600 - 4000, $"after {rig.NowS - changed} s");
        Assert.Equal(2, rig.Times(SequenceEvents.ChangedOver));
    }

    [Theory]
    [InlineData(24.6, 10, SourceMode.Heating)]
    [InlineData(19.5, 25, SourceMode.Cooling)]
    public void Rule_7_3_the_weather_locks_it_whatever_the_rooms_say(double air, double outdoors, SourceMode stays)
    {
        var rig = TwoPipe(("room", 24)).Rig();
        Water(rig);
        rig.Set("outdoor.air.temperature", outdoors);
        rig.Air(air, 45);
        rig.Run(9 * 3600, 5);
        Assert.Equal(stays, rig.Mode());
        Assert.Equal(0, rig.Times(SequenceEvents.ChangedOver));
    }

    /// <summary>A slab that was cooled until now: warm water would throw away what it stores. A panel stores nothing and rests as coils do.</summary>
    [Theory]
    [InlineData("floor", 23.0 * 3600, 25.0 * 3600)]
    [InlineData("ceiling", 1800, 3.0 * 3600)]
    public void Rule_7_3_a_slab_rests_for_a_day_between_cooling_and_heating_and_a_panel_for_an_hour(string surface, double notBefore, double notAfter)
    {
        var rig = Surfaces(surface);
        rig.RunUntil(r => r.Pump("surface-loop"), 1800);
        rig.Run(600);
        var used = rig.NowS;
        rig.Air(19.5, 45);
        rig.RunUntil(r => r.Mode() == SourceMode.Heating && r.Pump("surface-loop"), 30 * 3600, 5);
        Assert.InRange(rig.NowS - used, notBefore, notAfter);
    }

    [Fact]
    public void Rule_7_3_a_room_two_kelvins_too_cold_does_not_wait_for_the_rest_of_its_slab()
    {
        var rig = Surfaces("floor");
        rig.RunUntil(r => r.Pump("surface-loop"), 1800);
        rig.Run(600);
        rig.Air(17.9, 45);                                     // wanted 20 °C
        rig.RunUntil(r => r.Mode() == SourceMode.Heating && r.Pump("surface-loop"), 3 * 3600, 5);
    }

    /// <summary>A room that is too cold while its emitter rests has something to wait for: it is not satisfied.</summary>
    [Fact]
    public void Rule_7_3_a_room_whose_emitter_rests_is_told_so_and_for_how_long()
    {
        var rig = Surfaces("ceiling");
        rig.RunUntil(r => r.Pump("surface-loop"), 1800);
        rig.Run(600);
        rig.Air(19.5, 45);
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.RestsFromOpposite, 2 * 3600);
        var left = rig.Ceiling.Binding.A;
        Assert.InRange(left, 60, 3600);
        rig.Run(30);
        Assert.Equal(left - 30, rig.Ceiling.Binding.A, 1.0);
        rig.RunUntil(r => r.Ceiling.Value > 0, left + 300);
        Assert.NotEqual(Cause.RestsFromOpposite, rig.Ceiling.Binding.Cause);
    }

    private static Rig Surfaces(string surface)
    {
        var rig = new SourceHouse
        {
            Type = SourceType.HeatPump,
            Rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface(surface, "surface-loop")])],
            Loops = [BenchHouse.Surfaces("surface-loop", Seasons.Both)],
        }.Rig();
        rig.Set("source.supply.temperature", 20);
        rig.Set("surface-loop.supply.temperature", 20);
        rig.Air(24.6, 45);
        return rig;
    }

    [Fact]
    public void Rule_7_3_drying_never_keeps_a_cold_house_from_its_heat()
    {
        var rig = TwoPipe(("room", 24), ("north", 30)).Rig();
        Water(rig);
        rig.RoomAir("room", 24.24, 60);                            // dries, and wants nothing else
        rig.RoomAir("north", 22);
        rig.RunUntil(r => r.Image.Rooms[0].Moisture == Moisture.Dehumidifying, 1800);
        rig.RoomAir("north", 19.5);
        rig.RunUntil(r => r.Mode() == SourceMode.Heating, 2 * 3600);
        rig.Run(1800);
        Assert.Equal(Moisture.Resting, rig.Image.Rooms[0].Moisture);   // no drying while hot
    }

    [Theory]
    [InlineData(Seasons.Both, 21.5, false)]
    [InlineData(Seasons.Both, 20.0, true)]
    [InlineData(Seasons.Cooling, 21.5, true)]
    public void Rule_7_3_a_two_pipe_coil_cools_only_with_water_four_kelvins_under_its_room(Seasons seasons, double water, bool works)
    {
        var rig = new SourceHouse { Type = SourceType.HeatPump, Loops = [BenchHouse.Coils(seasons: seasons)] }.Rig();
        rig.Set("coil-loop.supply.temperature", water);
        rig.Air(24.5, 45);
        rig.RunUntil(r => r.Pump(), 1500);
        rig.Run(400);
        Assert.Equal(works, rig.CoilValve.Value > 0);
    }

    [Fact]
    public void Rule_7_3_four_pipes_and_two_sources_never_change_over_and_never_give_a_room_both()
    {
        var rig = new SourceHouse
        {
            Type = SourceType.HeatPump,
            Second = SourceType.Boiler,
            Rooms = [BenchHouse.Room("room", [BenchHouse.Coil(heating: "hot-loop")], []), BenchHouse.Room("north", [BenchHouse.Coil(heating: "hot-loop")], [])],
            Loops = [BenchHouse.Coils(), BenchHouse.Coils("hot-loop", Seasons.Heating)],
        }.Rig();
        rig.Set("hot-loop.supply.temperature", 45);
        rig.EachScan = r =>
        {
            var up = (int)(r.NowS / 7200) % 2 == 0;
            r.RoomAir("room", up ? 25 : 19);
            r.RoomAir("north", up ? 19 : 25);
            foreach (var coil in new[] { "room.coil", "north.coil" })
                Assert.False(r.NowS > 0 && r.Output(coil + ".valve").Value > 0 && r.Output(coil + ".heating_valve").Value > 0);
        };
        rig.RunUntil(r => r.Image.Sources[0].Calling && r.Image.Sources[1].Calling, 1800);
        rig.Run(6 * 3600);
        Assert.Equal(0, rig.Times(SequenceEvents.ChangedOver));
        Assert.Equal((SourceMode.Cooling, SourceMode.Heating), (rig.Image.Sources[0].Mode, rig.Image.Sources[1].Mode));
    }
}
