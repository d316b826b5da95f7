// Section 6, rule 1, of heated slabs: small wishes in turns, and a slab that begins before its room is too cold. Read each test like the log of a winter day.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class HeatLoadTests
{
    private const string Valve = "room.floor.valve", Loop = "floor-loop";

    private static Rig Heated(double outdoors = 0, string surface = "floor")
    {
        var room = BenchHouse.Room("room", [], [BenchHouse.Surface(surface, Loop)]);
        var rig = new SourceHouse { Type = SourceType.Boiler, Rooms = [room], Loops = [BenchHouse.Surfaces(Loop, Seasons.Heating)] }.Rig();
        rig.IsAlive = true;
        rig.Set("outdoor.air.temperature", outdoors);
        rig.Set(Loop + ".supply.temperature", 32);
        return rig;
    }

    private static double Opening(Rig rig, string valve = Valve) => rig.Output(valve).Value;

    /// <summary>What a slab is asked for under a tenth of its valve comes as a tenth for a quarter of an hour or more, so often that the mean is right.</summary>
    [Fact]
    public void Rule_6_1_a_heated_slab_that_is_asked_for_less_than_its_valve_can_gets_it_in_turns()
    {
        var rig = Heated();
        rig.EachScan = r => r.Memory.Rooms[0].IntegralW = 30;   // with 14 W for 0.15 K: 44 W asked, all day
        rig.Air(20.35, 45);                                     // wanted: 20.5 °C
        rig.RunUntil(r => Opening(r) > 0 && r.Pump(Loop), 3600);
        var (turns, open, openS, shortest, before) = (0, 0.0, 0.0, double.MaxValue, 10.0);
        for (var s = 0; s < 12 * 3600; s++)
        {
            rig.Scan();
            Assert.True(Opening(rig) is 0 or 10, $"{Opening(rig)} %: {rig.Said()}");
            open += Opening(rig) / (12 * 3600);
            openS = Opening(rig) > 0 ? openS + 1 : openS;
            if (Opening(rig) <= 0 && before > 0)
                (turns, shortest, openS) = (turns + 1, Math.Min(shortest, openS), 0);
            before = Opening(rig);
        }
        rig.RunUntil(r => Opening(r) > 0 && r.Pump(Loop), 7200);
        rig.Run(30);
        var share = 100 * rig.Memory.Circuits[0].AskedW / rig.Output(Valve).Binding.C;
        Assert.InRange(share, 2, 9);
        Assert.InRange(open, 0.65 * share, 1.1 * share);        // while the pump stands its water is taken for the warmest
        Assert.InRange(turns, 5, 30);
        Assert.True(shortest >= 850, $"a turn of {shortest} s");
    }

    [Theory]
    [InlineData("floor", true)]
    [InlineData("wall", false)]
    public void Rule_6_1_a_slab_begins_while_its_room_still_falls_to_its_set_point_and_with_its_usual_load(string surface, bool early)
    {
        var rig = Heated(outdoors: 0, surface);
        var valve = $"room.{surface}.valve";
        var air = 20.4;
        rig.EachScan = r => r.RoomAir("room", air);
        air = 20.1;
        rig.RunUntil(r => Opening(r, valve) > 0 && r.Pump(Loop), 3600);
        rig.Run(10 * 3600);                                     // works for hours: what it gives for each kelvin to outdoors is known now
        var usual = rig.Memory.Rooms[0].SurfaceOutputW;
        Assert.True(usual > 100, $"{usual:0} W");
        air = 23.5;                                              // the sun: nothing is asked
        rig.RunUntil(r => r.Stage == Stage.Satisfied, 12 * 3600);
        rig.Run(3 * 3600);
        Assert.Equal(0, Opening(rig, valve));
        var last = 23.5;
        rig.EachScan = r => r.RoomAir("room", last -= 0.5 / 3600);   // it has gone: half a kelvin an hour
        rig.RunUntil(r => Opening(r, valve) > 0, 8 * 3600);
        if (!early)
        {
            Assert.InRange(last, 19.5, 20.45);
            return;
        }
        Assert.InRange(last, 20.55, 20.85);                     // three tenths of a kelvin before the set point at the earliest
        rig.Run(60);
        Assert.InRange(rig.Memory.Circuits[0].AskedW, 0.3 * usual, 0.9 * usual);
    }

    [Fact]
    public void Rule_6_1_nothing_is_begun_early_for_air_that_stands()
    {
        var rig = Heated();
        rig.Air(20.6, 45);
        rig.Run(8 * 3600);
        Assert.Equal((0.0, Stage.Satisfied), (Opening(rig), rig.Stage));
    }
}
