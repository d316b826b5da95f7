// Section 7, rule 4, and rule 6.6: one machine for rooms and tank. Read each test like the log of a day.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class HotWaterTests
{
    private static SourceHouse House(Seasons seasons = Seasons.Cooling, double bufferL = 0, params (string, double)[] tank) => new()
    {
        Type = SourceType.HeatPump,
        BufferL = bufferL,
        HotWater = tank.Length > 0 ? tank : [("wanted", 50)],
        Loops = [BenchHouse.Coils(seasons: seasons)],
    };

    /// <summary>A tank that warms by a kelvin in two minutes while it is charged and cools by one in an hour (invented).</summary>
    private static Rig Cooling(double tank, double air = 24.6, SourceHouse? house = null, double mostC = 99)
    {
        var rig = (house ?? House()).Rig();
        rig.Air(air, 45);
        var before = 0.0;
        rig.EachScan = r =>
        {
            var passed = r.NowS - before;
            before = r.NowS;
            tank = r.NowS > 0 && r.Charges() ? Math.Min(mostC, tank + passed / 120) : tank - passed / 3600;
            r.Set("hot-water.tank.temperature", tank);
        };
        return rig;
    }

    /// <summary>Charged by hand for two hours, rooms wait as long and are told so; the 45 minutes of a charge by itself would be wrong.</summary>
    [Fact]
    public void Rule_7_4_rooms_that_wait_for_a_charge_by_hand_are_told_how_long_that_is()
    {
        var rig = Cooling(48, mostC: 49);
        rig.RunUntil(r => r.Fan.Value > 0, 1500);
        HandValues.Set(rig.Memory, rig.House.OutputTable.IndexOf("hot-water.charge.enable"), 1, 7200);
        rig.RunUntil(r => r.Fan.Binding.Cause == Cause.HotWaterFirst, 120);
        rig.Run(600);
        Assert.Equal(rig.Memory.Hands[rig.House.OutputTable.IndexOf("hot-water.charge.enable")].RemainingS, rig.Fan.Binding.A, 2.0);
        Assert.InRange(rig.Fan.Binding.A, 6400, 6600);
        rig.RunUntil(r => r.Fan.Binding.Cause != Cause.HotWaterFirst, 6700, 5);
    }

    [Fact]
    public void Rule_7_4_a_tank_five_kelvins_under_its_set_point_takes_the_source_until_it_is_warm()
    {
        var rig = Cooling(45.5, air: 23);
        rig.Run(900);
        Assert.Equal(Cause.TankWarm, rig.Output("hot-water.charge.enable").Binding.Cause);
        rig.RunUntil(r => r.Charges(), 2000);
        Assert.Equal(45, rig.Reading("hot-water.tank.temperature").Value, 0.1);
        rig.Run(1);
        Assert.True(rig.Called());
        Assert.Equal((SourceMode.HotWater, 0.0), (rig.Mode(), rig.Output("source.call.cooling").Value));
        Assert.Equal(55, rig.Output("source.call.set_point").Value);   // 5 K over what is wanted
        rig.RunUntil(r => !r.Charges(), 2000);
        Assert.Equal(50, rig.Reading("hot-water.tank.temperature").Value, 0.1);
        rig.RunUntil(r => !r.Called(), 700);
    }

    [Fact]
    public void Rule_7_4_it_waits_for_a_pull_down_but_no_longer_than_twenty_minutes()
    {
        var rig = Cooling(44, air: 27);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        var began = rig.RunUntil(r => r.Output("hot-water.charge.enable").Binding.Cause == Cause.TankWaits, 5);
        Assert.True(began <= 5);
        var left = rig.Output("hot-water.charge.enable").Binding.A;
        rig.Run(left - 5);
        Assert.False(rig.Charges());
        rig.RunUntil(r => r.Charges(), 60);
    }

    [Fact]
    public void Rule_7_4_at_most_three_quarters_of_an_hour_then_the_rooms_have_half_an_hour()
    {
        var rig = Cooling(44, house: House(), mostC: 47.5);    // a tank that does not come there
        rig.RunUntil(r => r.Charges(), 1500);
        var ran = rig.RunUntil(r => !r.Charges(), 3000);
        Assert.Equal(2700, ran, 3.0);
        Assert.Equal(Cause.RoomsTurn, rig.Output("hot-water.charge.enable").Binding.Cause);
        rig.Set("source.supply.temperature", 12);
        rig.RunUntil(r => r.Pump() && r.Called() && r.Mode() == SourceMode.Cooling, 60);
        rig.Run(1700);
        Assert.False(rig.Charges());
    }

    [Fact]
    public void Rule_7_4_a_whole_charge_that_brings_nothing_is_told_once()
    {
        var rig = Cooling(40, mostC: 42);
        rig.Run(4 * 3600, 5);
        var told = Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.HotWaterNotReached.Id);
        Assert.Equal((42.0, 50.0), (Math.Round(told.Reason.A, 1), told.Reason.B));
    }

    [Fact]
    public void Rule_7_4_cooling_is_shut_before_its_hot_water_comes_and_opens_again_under_sixteen_degrees()
    {
        var rig = Cooling(47);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 1500);
        rig.RunUntil(r => !r.Pump(), 10000);                   // the tank has become too cold
        Assert.False(rig.Charges());
        Assert.Equal((Cause.HotWaterFirst, Cause.HotWaterFirst), (rig.Fan.Binding.Cause, rig.Output("coil-loop.pump.run").Binding.Cause));
        Assert.Equal(0, rig.Fan.Value);
        var first = rig.RunUntil(r => r.Charges(), 200);
        Assert.InRange(first, 25, 40);
        rig.Set("source.supply.temperature", 52);
        rig.RunUntil(r => !r.Charges(), 3000);
        rig.RunUntil(r => r.Mode() == SourceMode.Cooling && r.Called(), 10);
        Assert.Equal(1, rig.Output("source.call.cooling").Value);
        rig.Set("source.supply.temperature", 17);              // cold again, but not enough
        rig.Run(300);
        Assert.Equal((false, Cause.HotSlug), (rig.Pump(), rig.Output("coil-loop.pump.run").Binding.Cause));
        rig.Set("source.supply.temperature", 15);
        rig.RunUntil(r => r.Pump(), 60);
    }

    [Fact]
    public void Rule_7_4_a_source_that_does_not_become_cold_again_is_waited_for_twenty_minutes()
    {
        var rig = Cooling(45.1);
        rig.Set("source.supply.temperature", 30);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.RunUntil(r => !r.Charges(), 3000);
        rig.RunUntil(r => r.CoilValve.Value > 0, 300);
        var waited = rig.RunUntil(r => r.Pump(), 1500);
        Assert.InRange(waited, 1100, 1210);
    }

    [Fact]
    public void Rule_7_4_each_wait_for_cold_water_is_one_of_its_own()
    {
        var rig = Cooling(45.1);
        rig.Set("source.supply.temperature", 30);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.RunUntil(r => !r.Charges(), 3000);
        rig.Run(900);
        Assert.Equal((false, Cause.HotSlug), (rig.Pump(), rig.Output("coil-loop.pump.run").Binding.Cause));
        rig.Set("source.state.making_hot_water", 1);           // a quarter of an hour on it makes hot water by itself
        rig.Run(60);
        rig.Set("source.state.making_hot_water", 0);
        Assert.InRange(rig.RunUntil(r => r.Pump(), 1500), 1190, 1210);
    }

    [Fact]
    public void Rule_7_4_a_mixed_loop_has_the_time_of_its_valve_to_shut_before_the_hot_water_comes()
    {
        var rig = Cooling(46, house: new SourceHouse
        {
            Type = SourceType.HeatPump,
            HotWater = [("wanted", 50)],
            Rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")])],
            Loops = [BenchHouse.Surfaces("ceiling-loop")],
        });
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.Set("ceiling-loop.return.temperature", 22);
        rig.RunUntil(r => r.Mixing.Value > 0 && r.CeilingPump, 1500);
        rig.RunUntil(r => r.Mixing.Binding.Cause == Cause.HotWaterFirst, 5000);
        Assert.Equal(0, rig.Mixing.Value);
        Assert.True(rig.CeilingPump);                          // at full recirculation its pump may go on
        var waited = rig.RunUntil(r => r.Charges(), 200);
        Assert.InRange(waited, 85, 95);                        // 90 s of stroke
    }

    [Fact]
    public void Rule_7_4_a_room_two_kelvins_too_cold_takes_the_source_once_and_then_the_tank_is_carried_through()
    {
        var rig = House(Seasons.Heating).Rig();
        rig.Set("coil-loop.supply.temperature", 40);
        rig.Set("room.air.temperature", 19.5);
        rig.Set("hot-water.tank.temperature", 40);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.Set("room.air.temperature", 17.8);                 // wanted 20 °C
        rig.RunUntil(r => !r.Charges(), 120);                  // a step so large is believed after a minute
        Assert.Equal(Cause.RoomsTurn, rig.Output("hot-water.charge.enable").Binding.Cause);
        rig.RunUntil(r => r.Pump() && r.Called(), 300);
        rig.RunUntil(r => r.Charges(), 1800 + 1200 + 60);      // half an hour, and at most twenty minutes for the warm-up
        var carried = rig.RunUntil(r => !r.Charges(), 3000);
        Assert.Equal(2700, carried, 3.0);
    }

    [Fact]
    public void Rule_7_4_no_hygiene_run_where_the_site_asks_for_none()
    {
        var rig = Cooling(49, air: 23);
        rig.Run(9 * 86400.0, 30);
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.HygieneDone.Id || h.EventId == SequenceEvents.HygieneNotReached.Id);
        Assert.True(rig.Get("hot-water.tank.temperature") < 51);
    }

    [Fact]
    public void Rule_7_4_a_hygiene_run_comes_a_day_after_the_first_start_and_then_every_week()
    {
        var hottest = new List<double>();
        var rig = Cooling(49, air: 23, House(tank: [("wanted", 50), ("hygiene_run", 1)]));
        rig.RunUntil(r => r.Times(SequenceEvents.HygieneDone) == 1, 2 * 86400, 30);
        Assert.InRange(rig.NowS, 86400, 86400 + 3 * 3600);
        Assert.Equal(60, rig.Get("hot-water.tank.temperature"), 1.0);
        rig.Run(6.5 * 86400, 30);
        Assert.Equal(1, rig.Times(SequenceEvents.HygieneDone));
        rig.RunUntil(r => r.Times(SequenceEvents.HygieneDone) == 2, 86400, 30);
    }

    [Fact]
    public void Rule_7_4_a_hygiene_run_that_does_not_come_there_in_a_day_is_told_and_tried_again_the_day_after()
    {
        var rig = Cooling(49, air: 23, House(tank: [("wanted", 50), ("hygiene_run", 1)]), mostC: 55);
        rig.RunUntil(r => r.Times(SequenceEvents.HygieneNotReached) == 1, 3 * 86400, 30);
        Assert.InRange(rig.NowS, 2 * 86400 - 60, 2 * 86400 + 3600);
        var told = rig.Happened.First(h => h.EventId == SequenceEvents.HygieneNotReached.Id).Reason;
        Assert.Equal(60, told.B);
        rig.RunUntil(r => r.Times(SequenceEvents.HygieneNotReached) == 2, 3 * 86400, 30);
        Assert.Equal(0, rig.Times(SequenceEvents.HygieneDone));
    }

    [Fact]
    public void Rule_7_4_a_tank_without_a_reading_is_not_charged()
    {
        var rig = House().Rig();
        rig.Air(23, 45);
        rig.Set("hot-water.tank.temperature", 40);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.Silence("hot-water.tank.temperature", Fault.BusError);
        rig.Run(120);
        Assert.Equal((false, Cause.TankMissing), (rig.Charges(), rig.Output("hot-water.charge.enable").Binding.Cause));
    }

    [Fact]
    public void Rule_7_4_a_fault_ends_the_charge()
    {
        var rig = Cooling(44, air: 23);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.Set("source.state.fault", 1);
        rig.Run(3);
        Assert.Equal((false, false), (rig.Charges(), rig.Called()));
    }

    [Fact]
    public void Rule_7_surplus_power_makes_the_tank_warmer_and_never_over_sixty_degrees()
    {
        var rig = Cooling(51, air: 23, House(tank: [("wanted", 58)]));
        rig.Set("site.surplus.available", 1);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.RunUntil(r => !r.Charges() && r.Get("hot-water.tank.temperature") > 59, 5 * 3600);
        Assert.Equal(60, rig.Get("hot-water.tank.temperature"), 0.2);
        var plain = Cooling(47, air: 23);
        plain.Run(1500);
        Assert.False(plain.Charges());                         // without surplus 47 °C is warm enough for 50 °C
        plain.Set("site.surplus.available", 1);
        plain.RunUntil(r => r.Charges(), 300);
    }

    [Theory]
    [InlineData("source.state.making_hot_water", Cause.MakingHotWater)]
    [InlineData("source.state.defrosting", Cause.Defrosting)]
    public void Rule_6_6_a_source_that_does_something_else_by_itself_keeps_its_water_from_the_rooms(string contact, Cause said)
    {
        var rig = House(Seasons.Both).Rig();
        rig.Air(24.6, 45);
        rig.Set("source.supply.temperature", 12);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 1500);
        rig.Set(contact, 1);
        rig.Run(2);
        Assert.Equal((false, 0.0, said), (rig.Pump(), rig.Fan.Value, rig.Fan.Binding.Cause));
        Assert.False(rig.Image.Sources[0].WaterIsForRooms);
        rig.Set(contact, 0);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 120);
        Assert.Equal(1, rig.Times(SequenceEvents.WaterNotForRooms));
    }

    [Fact]
    public void Rule_6_6_water_of_fifty_degrees_while_cooling_is_the_machines_own_hot_water()
    {
        var rig = House().Rig();
        rig.Air(24.6, 45);
        rig.Set("source.supply.temperature", 12);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 1500);
        rig.Set("source.supply.temperature", 50);
        rig.RunUntil(r => !r.Pump() && r.Fan.Value == 0, 60);
        Assert.Equal(Cause.TooHotToCool, rig.Fan.Binding.Cause);
        rig.Set("source.supply.temperature", 14);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 120);
    }

    [Fact]
    public void Rule_6_6_a_contact_that_sticks_is_believed_for_an_hour_and_a_half()
    {
        var rig = House().Rig();
        rig.Air(24.6, 45);
        rig.Set("source.supply.temperature", 12);
        rig.RunUntil(r => r.Pump(), 1500);
        rig.Set("source.state.making_hot_water", 1);
        rig.RunUntil(r => !r.Pump(), 5);
        var waited = rig.RunUntil(r => r.Pump(), 6000);
        Assert.Equal(5400, waited, 10.0);
        Assert.Equal(1, rig.Times(SequenceEvents.WaterLongNotForRooms));
        rig.Run(7200);
        Assert.True(rig.Pump());
        rig.Set("source.state.making_hot_water", 0);
        rig.Run(60);
        rig.Set("source.state.making_hot_water", 1);           // it has said no once: believed again
        rig.RunUntil(r => !r.Pump(), 5);
    }

    [Fact]
    public void Rule_6_6_a_cold_buffer_goes_on_serving_the_rooms_while_the_tank_has_the_source()
    {
        var rig = Cooling(44, house: House(bufferL: 300));
        rig.Set("buffer.top.temperature", 10);
        rig.Set("buffer.bottom.temperature", 8);
        rig.RunUntil(r => r.Charges(), 1500);
        rig.Set("source.supply.temperature", 55);
        rig.RunUntil(r => r.Pump() && r.Fan.Value > 0, 600);
        Assert.True(rig.Charges());
        rig.Set("buffer.bottom.temperature", 17);              // it is used up
        rig.RunUntil(r => !r.Pump() && r.Fan.Value == 0, 60);
    }

    [Fact]
    public void Rule_7_4_a_source_without_a_charge_output_is_left_to_its_own_control()
    {
        var rig = new SourceHouse { Type = SourceType.HeatPump, HotWater = [("wanted", 50)], Wired = [] }.Rig();
        rig.Air(23, 45);
        rig.Set("hot-water.tank.temperature", 30);
        rig.Run(3 * 3600, 5);
        Assert.False(rig.Called());
        Assert.Equal(-1, rig.House.OutputTable.IndexOf("hot-water.charge.enable"));
    }

    [Fact]
    public void Rule_7_4_in_a_four_pipe_house_the_boiler_makes_the_hot_water_and_cooling_goes_on()
    {
        var rig = Cooling(44, house: new SourceHouse
        {
            Second = SourceType.Boiler,
            HotWater = [("wanted", 50)],
            Rooms = [BenchHouse.Room("room", [BenchHouse.Coil(heating: "hot-loop")], [])],
            Loops = [BenchHouse.Coils(), BenchHouse.Coils("hot-loop", Seasons.Heating)],
        });
        rig.RunUntil(r => r.Charges() && r.Pump() && r.Fan.Value > 0, 1500);
        Assert.Equal((SourceMode.Cooling, SourceMode.HotWater), (rig.Image.Sources[0].Mode, rig.Image.Sources[1].Mode));
        Assert.True(rig.Image.Sources[0].Calling && rig.Image.Sources[1].Calling);
    }
}
