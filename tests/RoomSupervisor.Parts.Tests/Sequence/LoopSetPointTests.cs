// Section 6, rules 1 and 2: the water of a loop. Trim and respond against ASHRAE Guideline 36, 5.1.14 (rule and sample figures as open verification libraries quote them; the figures of the example partly from memory), emitters
// against their rating by hand. Read each test like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class LoopSetPointTests
{
    /// <summary>The sample numbers of Guideline 36 for a duct's pressure: trim −12 Pa, respond +15 Pa, 32 Pa at most, two ignored, 37 to 370 Pa, begun at 120 Pa.</summary>
    [Theory]
    [InlineData(120, 0, 108)]      // trim
    [InlineData(120, 2, 108)]      // as many as are ignored: trim
    [InlineData(120, 3, 123)]      // trim, and also respond: −12 + 15
    [InlineData(120, 4, 138)]      // −12 + 30
    [InlineData(120, 5, 140)]      // −12 + 45, of which 32 at most
    [InlineData(120, 50, 140)]
    [InlineData(40, 0, 37)]        // never under its lowest
    [InlineData(365, 9, 370)]      // never over its highest
    public void Rule_6_1_trim_and_respond_is_the_published_rule(double before, int requests, double after)
        => Assert.Equal(after, new TrimAndRespond(-12, 15, 32, 2, 37, 370).Next(before, requests), 9);

    /// <summary>The same rule with the opposite sign: a cooled loop is trimmed towards warmer water.</summary>
    [Theory]
    [InlineData(0, 17.2)]
    [InlineData(1, 17.2)]
    [InlineData(2, 16.8)]          // 0.2 − 0.4
    [InlineData(3, 16.4)]          // 0.2 − 0.8
    [InlineData(4, 16.2)]          // 0.2 − 1.2, of which 1.0 at most
    [InlineData(9, 16.2)]
    public void Rule_6_1_a_cooled_loop_is_trimmed_warmer_and_requests_make_it_colder(int requests, double after)
    {
        var rule = new TrimAndRespond(0.2, -0.4, 1, 1, 15, 20);
        Assert.Equal(after, rule.Next(17, requests), 9);
        Assert.Equal(requests > 1 ? 17 : after, rule.NextHeld(17, requests), 9);   // the guard holds the water: who asks moves nothing
    }

    private static House TwoRooms((string Key, double Value)[]? sequence = null)
        => GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))], sequence: sequence);

    [Fact]
    public void Rule_6_1_water_for_several_rooms_moves_every_five_minutes_by_what_they_ask_and_begins_with_what_the_first_one_wants()
    {
        var rig = GuardHouse.Follow(TwoRooms());
        rig.Air("room", 24.7, 40);
        rig.Air("attic", 24.5, 40);
        rig.RunUntil(r => r.CeilingPump, 900);
        var expected = rig.Memory.Loops[0].TrimmedC;
        Assert.InRange(expected, 15, 20);
        var flowsForS = 0.0;
        var (moves, seen) = (0, new HashSet<int>());
        var random = new Random(6);
        for (var s = 0; s < 6 * 3600; s++)
        {
            if (s % 1200 == 0)
            {
                rig.Air("room", 23.8 + random.NextDouble(), 40);
                rig.Air("attic", 23.8 + random.NextDouble(), 40);
            }
            var (ran, ranForS) = (rig.Memory.Loops[0].PumpOn, rig.Memory.Loops[0].PumpForS);
            rig.Scan();
            ref readonly var m = ref rig.Memory.Loops[0];
            if (!ran)
            {
                (expected, flowsForS) = (m.TrimmedC, 0);
                continue;
            }
            flowsForS += ranForS >= 45 ? 1 : 0;
            if (flowsForS >= 300)
            {
                // Five minutes of flow: trim, and also respond. Written out again, not called.
                expected += 0.2 - (m.Requests > 1 ? Math.Min(1, 0.4 * (m.Requests - 1)) : 0);
                expected = Math.Min(20, Math.Max(15, expected));
                (flowsForS, moves) = (0, moves + 1);
                seen.Add(m.Requests);
            }
            Assert.Equal(expected, m.TrimmedC, 1e-9);
        }
        Assert.True(moves > 40, $"{moves} steps");
        Assert.True(seen.Count >= 3 && seen.Max() <= 6, string.Join(", ", seen));
    }

    [Fact]
    public void Rule_6_1_the_guard_wins_and_what_rooms_asked_meanwhile_is_not_counted_against_them()
    {
        var rig = GuardHouse.Follow(TwoRooms([("dry_target", 18)]));
        rig.Air("room", 25.2, 46);
        rig.Air("attic", 25.2, 46);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(1500);
        var before = rig.Memory.Loops[0].TrimmedC;
        Assert.Equal(before, rig.Image.Loops[0].SetPointC, 0.3);
        for (var s = 0; s < 3600; s++)
        {
            foreach (var room in new[] { "room", "attic" })
                rig.Set(room + ".air.humidity", 46 + Math.Min(12, s / 60.0));
            rig.Scan();
            if (rig.Image.Loops[0].LowestSafeSupplyC < rig.Memory.Loops[0].TrimmedC)
                before = rig.Memory.Loops[0].TrimmedC;
        }
        Assert.True(before > 15.5, $"held at {before:0.0} °C");
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC > before + 1, $"{rig.Image.Loops[0].LowestSafeSupplyC:0.0} °C, before {before:0.0} °C");
        Assert.Equal(rig.Image.Loops[0].LowestSafeSupplyC, rig.Image.Loops[0].SetPointC, 1e-6);
        Assert.Equal(before, rig.Memory.Loops[0].TrimmedC, 0.25);   // an hour of asking for colder water than there is has wound nothing up
        Assert.True(rig.Memory.Loops[0].Requests > 1, $"{rig.Memory.Loops[0].Requests} requests");
        foreach (var room in new[] { "room", "attic" })
            rig.Set(room + ".air.humidity", 46);
        var falls = rig.RunUntil(r => r.Image.Loops[0].SetPointC < before + 0.4, 1800);
        Assert.True(falls > 60 * 0.5 / 0.5, $"{falls} s");          // half a kelvin a minute
    }

    /// <summary>Rating 60 W/m² at 8 K with exponent 1.1, 16 m², 2 K between supply and return: by hand 8·(q/60)^(1/1.1) + 1 K under the room.</summary>
    [Fact]
    public void Rule_6_1_one_room_alone_gets_the_water_for_the_watts_it_asks()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))]));
        rig.Air("room", 24.6, 40);
        rig.RunUntil(r => r.CeilingPump, 900);
        var compared = 0;
        for (var s = 0; s < 3000; s++)
        {
            rig.Scan();
            var asked = rig.Memory.Circuits[0].AskedW;
            var wanted = rig.Room.AirTemperatureC - 8 * Math.Pow(asked / 16 / 60, 1 / 1.1) - 1;
            if (wanted is <= 15 or >= 20)
                continue;
            Assert.Equal(wanted, rig.Memory.Loops[0].WantedC, 1e-6);
            compared++;
        }
        Assert.True(compared > 500, $"{compared} compared");
        Assert.Equal(0, rig.Memory.Loops[0].Requests);
    }

    /// <summary>24 °C at 20 °C outdoors, 45 °C at −10 °C: 16 °C asks for 26.8 °C; thin surfaces raise that by 4 K at most, slabs do not.</summary>
    [Theory]
    [InlineData("wall", 30.8)]
    [InlineData("floor", 26.8)]
    public void Rule_6_1_heated_surfaces_begin_with_the_weather_and_only_thin_ones_raise_the_water(string surface, double raised)
    {
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface(surface)), GuardHouse.Room("attic", GuardHouse.Surface(surface))], Seasons.Heating)) { IsAlive = true };
        rig.Set(GuardHouse.Supply, 26);
        rig.Set("outdoor.air.temperature", 16);
        rig.EachScan = r => r.Set(GuardHouse.Supply, r.NowS > 0 && r.CeilingPump ? r.Image.Loops[0].SetPointC : 22);
        rig.Air("room", 19.85, 40);
        rig.Air("attic", 19.85, 40);
        rig.RunUntil(r => r.CeilingPump, 1800);
        rig.Run(5);
        Assert.Equal(26.8, rig.Image.Loops[0].SetPointC, 0.1);
        rig.Run(1200);
        Assert.Equal(26.8, rig.Image.Loops[0].SetPointC, 0.1);          // little is asked: no colder than the weather wants
        rig.Air("room", 17, 40);
        rig.Air("attic", 17, 40);
        rig.Run(4 * 3600);
        Assert.Equal(raised, rig.Image.Loops[0].SetPointC, 0.5);
        rig.Run(3600);
        Assert.True(rig.Image.Loops[0].SetPointC <= raised + 0.1);
    }

    [Fact]
    public void Rule_6_2_coil_water_is_cold_for_a_pull_down_and_then_as_warm_as_the_fans_allow()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils()])) { IsAlive = true };
        rig.Air(26.5, 45);
        rig.RunUntil(r => r.Stage == Stage.PullDown && r.Pump(), 600);
        Assert.Equal(7, rig.Image.Loops[0].SetPointC, 6);
        var temperature = 26.5;
        rig.EachScan = r => r.Set("room.air.temperature", temperature = Math.Max(24, temperature - 0.004));
        rig.RunUntil(r => r.Stage == Stage.CoilHold, 3000);
        var held = rig.NowS;
        rig.Run(290);
        Assert.Equal(7, rig.Image.Loops[0].SetPointC, 6);
        rig.Run(20);
        Assert.Equal(7.2, rig.Image.Loops[0].SetPointC, 6);             // 0.2 K each five minutes
        rig.Run(3000);
        Assert.InRange(rig.Image.Loops[0].SetPointC, 8, 9.3);
        Assert.True(rig.Fan.Value < 60);
        rig.EachScan = null;
        rig.Set("room.air.temperature", 25.2);                          // not a pull-down: the fan rises to its limit, then the water comes to its help
        rig.RunUntil(r => r.Fan.Value > 95, 3600);
        rig.Run(3600);
        Assert.Equal(Stage.CoilHold, rig.Stage);
        Assert.InRange(rig.Image.Loops[0].SetPointC, 7, 8.2);
        Assert.True(rig.NowS > held);
    }

    /// <summary>Water of 14 °C dries nothing: the wish stands and asks for what would.</summary>
    [Fact]
    public void Rule_6_2_a_room_that_asks_to_be_dried_gets_the_coldest_water_before_it_can_begin()
    {
        var rig = new SourceHouse { Rooms = [SourceHouse.CoilRoom("room"), SourceHouse.CoilRoom("north")] }.Rig();
        rig.IsAlive = true;
        rig.Set("source.supply.temperature", 14);
        rig.Set("coil-loop.supply.temperature", 14);
        rig.RoomAir("room", 24.2, 45);
        rig.RoomAir("north", 23.9, 45);
        rig.RunUntil(r => r.Pump(), 1500);
        rig.Run(900);
        Assert.True(rig.Image.Loops[0].SetPointC > 10, $"{rig.Image.Loops[0].SetPointC:0.0} °C");
        rig.RoomAir("north", 24.05, 65);
        rig.Run(240);
        Assert.Equal(Moisture.Resting, rig.Image.Rooms[1].Moisture);
        Assert.Equal(7, rig.Image.Loops[0].SetPointC, 6);
    }

    [Fact]
    public void Rule_6_2_coils_heat_with_forty_degrees()
    {
        var rig = new SourceHouse { Type = SourceType.Boiler, Loops = [BenchHouse.Coils(seasons: Seasons.Heating)] }.Rig();
        rig.Set("coil-loop.supply.temperature", 40);
        rig.Air(19.6, 45);
        rig.RunUntil(r => r.Pump(), 1500);
        Assert.Equal(Stage.CoilHold, rig.Stage);
        Assert.Equal(40, rig.Image.Loops[0].SetPointC, 6);
    }
}
