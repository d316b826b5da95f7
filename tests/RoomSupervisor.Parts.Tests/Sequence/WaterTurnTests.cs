// Section 5, rule 4: a room without a coil that is shut out for the others' sake has its turn. Told like a log of a muggy evening.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class WaterTurnTests
{
    /// <summary>Two rooms on one loop, the second more humid: its water would have to be so much warmer that it is shut for the first.</summary>
    private static Rig ShutOut(double humidity, double air = 24.8, bool coil = false, double others = 25.2)
    {
        var rig = GuardHouse.Follow(GuardHouse.Build(
            [GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling", 8), coil)], sequence: [("dry_target", 18), ("dry_over", 75)]));
        rig.IsAlive = true;
        rig.Air("room", others, 42);
        rig.Air("attic", air, 42);
        rig.RunUntil(r => r.Valve("room") > 0 && r.Valve("attic") > 0 && r.CeilingPump, 900);
        rig.Run(3600);
        rig.Air("attic", air, humidity);
        rig.RunUntil(r => r.Valve("attic") <= 0, 600);
        return rig;
    }

    private static bool Told(Rig rig) => rig.Has(SequenceEvents.RoomWaitsForWater);

    [Fact]
    public void Rule_5_4_after_an_hour_the_loop_is_warmed_for_half_an_hour_for_a_room_that_has_no_coil()
    {
        var rig = ShutOut(60);                                 // dew point 16.5 °C, the other's 11.4 °C
        rig.Run(900);
        Assert.Equal(Cause.Isolated, rig.Output("attic.ceiling.valve").Binding.Cause);
        Assert.True(rig.Image.Loops[0].SetPointC < 15.5);
        var waited = 900 + rig.RunUntil(Told, 5000);
        Assert.InRange(waited, 3300, 4000);
        var told = rig.Happened.Single(h => h.EventId == SequenceEvents.RoomWaitsForWater.Id);
        Assert.Equal((1, 3600.0), (told.Index, Math.Round(told.Reason.A)));
        rig.RunUntil(r => r.Valve("attic") > 0, 900);          // a few minutes for the water
        Assert.True(rig.Get(GuardHouse.Supply) >= rig.Memory.Circuits[1].LowestSafeC - 0.25);
        Assert.True(rig.Valve("room") > 0, "the other goes on with warmer water");
        var began = rig.NowS;
        rig.RunUntil(r => r.Valve("attic") <= 0, 2400);
        Assert.InRange(rig.NowS - began, 1200, 1801);
        Assert.Equal(Cause.Isolated, rig.Output("attic.ceiling.valve").Binding.Cause);
        rig.RunUntil(r => r.Valve("attic") > 0, 5400);         // and again, without telling it again
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.RoomWaitsForWater.Id);
    }

    /// <summary>Water of 21 °C would cool this hot room, but not the other, which is nearly cool enough: nothing is warmed for it until its hour is over.</summary>
    [Fact]
    public void Rule_5_4_a_turn_does_not_ask_whether_its_water_is_of_use_to_the_others()
    {
        var rig = ShutOut(67, air: 26.5, others: 24.3);
        rig.Run(1800);
        Assert.True(rig.Memory.Circuits[1].LowestSafeC > 20.4, $"{rig.Memory.Circuits[1].LowestSafeC:0.0} °C");
        Assert.Equal(0, rig.Valve("attic"));
        rig.RunUntil(Told, 3600);
        rig.RunUntil(r => r.Valve("attic") > 0, 1200);
    }

    /// <summary>Its dew point is 21.0 °C: no water that would still cool it is safe. Nobody is warmed for nothing, and it is told what helps.</summary>
    [Fact]
    public void Rule_5_4_where_water_so_warm_cools_nobody_nothing_is_warmed_and_the_event_says_so()
    {
        var rig = ShutOut(79.5);
        rig.RunUntil(Told, 5000);
        for (var s = 0; s < 3600; s++)
        {
            rig.Scan();
            Assert.True(rig.Valve("attic") <= 0 && rig.Image.Loops[0].SetPointC < 15.5, $"{rig.Image.Loops[0].SetPointC:0.0} °C");
        }
        Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.RoomWaitsForWater.Id);
    }

    [Fact]
    public void Rule_5_4_a_room_with_a_coil_waits_for_nobody()
    {
        var rig = ShutOut(60, coil: true);
        rig.RunUntil(r => r.Output("attic.coil.fan").Value > 0, 1800);
        rig.Run(4500);
        Assert.False(Told(rig));
        Assert.True(rig.Image.Loops[0].SetPointC < 15.5);
    }
}
