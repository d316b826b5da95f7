// Section 6, rule 8: a loop held at a supply temperature by a programme: its water, its valves, and everything that protects going on. Read each test like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class HeldTests
{
    private static Rig Floor(double air = 23, Seasons seasons = Seasons.Heating, (string Key, double Value)[]? sequence = null, (string Key, double Value)[]? kind = null)
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("floor", kind: kind))], seasons, sequence: sequence), supply: 20);
        rig.Air(air, 40);
        rig.Set("outdoor.air.temperature", 5);
        rig.Run(30);
        return rig;
    }

    [Fact]
    public void Rule_6_8_a_held_loop_opens_its_circuits_and_makes_its_water_though_no_room_wants_any()
    {
        var rig = Floor();
        Assert.Equal(0, rig.Valve("room", "floor"));
        Assert.True(Held.Set(rig.Memory, 0, 25));
        Assert.False(Held.Set(rig.Memory, 0, 25));   // nothing new
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(600);
        Assert.Equal(100, rig.Valve("room", "floor"));
        Assert.Equal(Cause.Held, rig.Output("room.floor.valve").Binding.Cause);
        Assert.Equal(25, rig.Image.Loops[0].SetPointC, 9);   // under heating_coldest of 24 it could be as well: the sheet decides
        Assert.Equal(1, rig.Output("source.call.enable").Value);
        Held.Set(rig.Memory, 0, double.NaN);
        rig.Run(10);
        Assert.Equal(0, rig.Valve("room", "floor"));
    }

    [Fact]
    public void Rule_6_8_nothing_warmer_than_the_loop_or_the_floor_bears()
    {
        var rig = Floor(air: 20, kind: [("heating_output", 15)]);   // wood and felt: the floor itself would bear far more
        Held.Set(rig.Memory, 0, 60);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(600);
        Assert.Equal(45, rig.Image.Loops[0].SetPointC, 9);   // heating_warmest
        // EN 1264 chain of SurfaceLimitTests: a floor of 24.05 °C at 20 °C of air is made by water of 35 °C.
        var limited = Floor(air: 20, sequence: [("floor_at_most", 24.05), ("supply_from_return", 5)], kind: [("heating_output", 3.3682 * 8), ("exponent", 1)]);
        Held.Set(limited.Memory, 0, 45);
        limited.RunUntil(r => r.CeilingPump, 900);
        limited.Run(600);
        Assert.Equal(35, limited.Image.Loops[0].SetPointC, 0.2);
    }

    [Fact]
    public void Rule_6_8_water_five_kelvin_over_what_is_held_shuts_its_circuits_until_it_is_milder()
    {
        var rig = Floor();
        Held.Set(rig.Memory, 0, 25);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(60);
        rig.EachScan = null;
        rig.Set(GuardHouse.Supply, 31);   // a mixing valve that sticks open
        rig.Run(90);
        Assert.Equal(0, rig.Valve("room", "floor"));
        Assert.False(rig.CeilingPump);
        Assert.Equal(Cause.HeldTooHot, rig.Output("room.floor.valve").Binding.Cause);
        rig.Set(GuardHouse.Supply, 28);
        rig.Run(120);
        Assert.Equal(0, rig.Valve("room", "floor"));
        rig.Set(GuardHouse.Supply, 26);
        rig.Run(120);
        Assert.Equal(100, rig.Valve("room", "floor"));
    }

    [Fact]
    public void Rule_6_8_a_held_loop_takes_no_cold_water()
    {
        var rig = Floor(air: 27, seasons: Seasons.Cooling);
        rig.RunUntil(r => r.Valve("room", "floor") > 0, 1200);
        Held.Set(rig.Memory, 0, 25);
        rig.Run(1200);
        Assert.Equal(0, rig.Valve("room", "floor"));
        Assert.False(rig.CeilingPump);
        Assert.Equal(Cause.HeldWaits, rig.Output("room.floor.valve").Binding.Cause);
    }

    [Fact]
    public void Rule_6_8_the_high_limit_and_a_leak_stop_it_all_the_same()
    {
        var rig = Floor();
        Held.Set(rig.Memory, 0, 35);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Set("ceiling-loop.high_limit.tripped", 1);
        rig.Run(5);
        Assert.False(rig.CeilingPump);
        Assert.Equal(Cause.HighLimit, rig.Output("ceiling-loop.pump.run").Binding.Cause);
        var wet = Floor();
        Held.Set(wet.Memory, 0, 35);
        wet.RunUntil(r => r.CeilingPump, 900);
        wet.Memory.Leak = true;
        wet.Run(5);
        Assert.False(wet.CeilingPump);
    }

    [Fact]
    public void Rule_6_8_frost_opens_and_runs_it_whatever_is_held()
    {
        var rig = Floor(air: 4);
        Held.Set(rig.Memory, 0, 20);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.EachScan = null;
        rig.Set(GuardHouse.Supply, 3);
        rig.Run(660);   // a source keeps its shortest rest of ten minutes even then
        Assert.True(rig.CeilingPump);
        Assert.Equal(100, rig.Valve("room", "floor"));
        Assert.Equal(1, rig.Output("source.call.enable").Value);
    }

    [Fact]
    public void Rule_6_8_a_held_loop_counts_as_floor_that_wants_warm_water_when_the_season_is_weighed()
    {
        Rig House(bool held)
        {
            var rig = new SourceHouse
            {
                Type = SourceType.HeatPump,
                Rooms = [BenchHouse.Room("room", [], [BenchHouse.Surface("floor", "ceiling-loop")])],
                Loops = [BenchHouse.Surfaces("ceiling-loop", Seasons.Both)],
            }.Rig();
            rig.Set("source.supply.temperature", 21);
            rig.Set("ceiling-loop.supply.temperature", 21);
            rig.Air(23, 40);
            rig.Run(60);
            Assert.Equal(SourceMode.Cooling, rig.Mode());
            Held.Set(rig.Memory, 0, held ? 25 : double.NaN);
            for (var i = 0; i < 2 * 3600 && rig.Mode() == SourceMode.Cooling; i++)
                rig.Scan();
            return rig;
        }
        Assert.Equal(SourceMode.Cooling, House(held: false).Mode());
        var warm = House(held: true);
        Assert.Equal(SourceMode.Heating, warm.Mode());
        Assert.InRange(warm.NowS, 1800, 2 * 3600);
    }

    [Fact]
    public void Rule_6_8_a_restart_begins_without_a_hold_and_only_a_mixed_loop_that_heats_can_be_held()
    {
        var rig = Floor();
        Held.Set(rig.Memory, 0, 25);
        Resume.Prepare(rig.House, rig.Memory, 60);
        Assert.False(rig.Memory.Loops[0].IsHeld);
        Assert.Null(Held.WhyNot(rig.House.Loops[0]));
        Assert.NotNull(Held.WhyNot(rig.House.Loops[1]));
        Assert.Contains("season: cooling", Held.WhyNot(Floor(seasons: Seasons.Cooling).House.Loops[0]), StringComparison.Ordinal);
    }
}
