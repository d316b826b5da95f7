// Rules 4.4 and 4.6: fans of rooms that need nothing quickly move slowly, and a coil that swings is given less gain, step by step, and gets it back.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class CalmingTests
{
    /// <summary>A room whose coil helps, half a kelvin too warm.</summary>
    private static Rig Helping()
    {
        var rig = new Rig();
        rig.Air(24.4, 45);
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.RunUntil(r => r.Stage == Stage.CoilHelps, 7200);
        return rig;
    }

    private static void Swing(Rig rig, int changes)
    {
        for (var i = 0; i < changes; i++)
            rig.Memory.Coils[0].Heard.Add();
    }

    [Fact]
    public void Rule_4_6_a_coil_that_swings_loses_a_quarter_of_its_gain_every_half_hour_and_never_more_than_seven_tenths()
    {
        var rig = Helping();
        rig.RunUntil(r => r.Memory.Rooms[0].CalmForS > 1700, 7200);
        Assert.Equal(0, rig.Memory.Rooms[0].CalmedBy);
        rig.EachScan = r => { if (r.Memory.Coils[0].Heard.Count < 8) Swing(r, 8); };
        rig.Run(200);
        Assert.Equal(0.25, rig.Memory.Rooms[0].CalmedBy, 9);
        rig.Run(1900);
        Assert.Equal(1 - 0.75 * 0.75, rig.Memory.Rooms[0].CalmedBy, 9);
        rig.Run(4 * 3600);
        Assert.Equal(0.7, rig.Memory.Rooms[0].CalmedBy, 9);
    }

    [Fact]
    public void Rule_4_6_a_handful_of_changes_an_hour_takes_nothing_and_a_day_of_calm_gives_half_back()
    {
        var rig = Helping();
        rig.Memory.Rooms[0].CalmedBy = 0.4;
        rig.Memory.Rooms[0].CalmForS = 0;
        rig.EachScan = r => { if (r.Memory.Coils[0].Heard.Count < 4) Swing(r, 4 - r.Memory.Coils[0].Heard.Count); };
        rig.Run(2 * 3600);
        Assert.Equal(0.4, rig.Memory.Rooms[0].CalmedBy, 9);
        rig.Memory.Rooms[0].CalmForS = 24 * 3600 - 5;
        rig.Run(60);
        Assert.Equal(0.2, rig.Memory.Rooms[0].CalmedBy, 9);
    }

    /// <summary>Two rooms alike, one calmed to half: it asks for less by half of what the error itself makes, air capacity · error / 300 s.</summary>
    [Fact]
    public void Rule_4_6_what_is_taken_is_taken_from_what_an_error_asks_for()
    {
        (double DemandW, double WholeW) Asked(double calmedBy)
        {
            var rig = Helping();
            rig.Memory.Rooms[0].CalmedBy = calmedBy;
            rig.Memory.Rooms[0].IntegralW = 300;
            rig.Run(1);
            return (rig.Memory.Rooms[0].DemandW - rig.Memory.Rooms[0].IntegralW, rig.House.Rooms[0].Settings.AirCapacityKJPerK * 1000 * rig.Memory.Rooms[0].ErrorK / 300);
        }

        var (full, half) = (Asked(0), Asked(0.5));
        Assert.True(full.WholeW > 50, $"{full} W");
        Assert.Equal(full.WholeW / 2, full.DemandW - half.DemandW, full.WholeW / 100);
    }

    /// <summary>A room with a coil alone is kept within a tenth of where it is wanted for a quarter of an hour and more; then more than twice as much is asked of its fan.</summary>
    [Fact]
    public void Rule_4_4_a_fan_of_a_room_that_is_held_where_it_is_wanted_moves_by_two_decibels_a_minute()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [new CoilPart("coil", "coil-loop", BenchHouse.Kind(2400), new CoilSettings())], [])], [BenchHouse.Coils()]));
        rig.Air(24.4, 45);
        rig.RunUntil(r => r.Stage == Stage.CoilHold && r.Fan.Value > 0, 3600);
        rig.EachScan = r => { r.Set("room.air.temperature", 24.03); r.Memory.Rooms[0].IntegralW = 900; };
        rig.Run(2400);
        Assert.Equal(Stage.CoilHold, rig.Stage);
        var before = rig.Fan.Value;
        rig.EachScan = r => { r.Set("room.air.temperature", 24.03); r.Memory.Rooms[0].IntegralW = 1600; };
        rig.Run(60);
        Assert.InRange(50 * Math.Log10(rig.Fan.Value / before), 1.8, 2.1);
    }
}
