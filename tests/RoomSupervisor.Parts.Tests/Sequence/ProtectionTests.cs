// The protective list of section 5: of several causes at once the strongest is told, and each row says in words what it does and when it ends. Told like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ProtectionTests
{
    private static Cause Pump(Rig rig) => rig.Output("ceiling-loop.pump.run").Binding.Cause;

    private static Rig Running()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(24.5, 45);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        return rig;
    }

    [Fact]
    public void Of_several_causes_that_stop_a_loop_the_strongest_is_told()
    {
        var rig = Running();
        rig.Set("ceiling-loop.water.pressure", 30);
        rig.RunUntil(r => Pump(r) == Cause.PressureLow, 60);
        rig.Set("ceiling-loop.high_limit.tripped", 1);
        rig.Scan();
        Assert.Equal(Cause.HighLimit, Pump(rig));
        rig.Set("site.leak.detected", 1);
        rig.Run(2);
        Assert.Equal(Cause.Leak, Pump(rig));
        // The weaker ones go, the stronger one holds; each was told once.
        rig.Set("ceiling-loop.high_limit.tripped", 0);
        rig.Set("ceiling-loop.water.pressure", 150);
        rig.Run(2000);
        Assert.Equal(Cause.Leak, Pump(rig));
        Assert.Equal(
            [Cause.PressureLow, Cause.HighLimit, Cause.Leak], rig.Happened.Where(h => h.EventId == SequenceEvents.LoopStopped.Id && h.Index == 0).Select(h => h.Reason.Cause));
    }

    [Fact]
    public void Of_several_causes_that_shut_a_circuit_the_strongest_is_told()
    {
        var rig = Running();
        rig.Set("ceiling-loop.supply.temperature", 9);
        rig.Scan();
        Assert.Equal(Cause.WaterFarTooCold, rig.Ceiling.Binding.Cause);
        var humidity = 45.0;
        rig.EachScan = r => r.Set("room.air.humidity", humidity = Math.Min(90, humidity + 0.15));
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.DewPointRising, 120);
        rig.Silence("ceiling-loop.supply.temperature");
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.SupplyMissing, 120);
        rig.Set("room.ceiling.condensation", 1);
        rig.Scan();
        Assert.Equal(Cause.CondensationSwitch, rig.Ceiling.Binding.Cause);
        rig.Silence("room.ceiling.condensation", Fault.BusError);
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.CondensationUnread, 120);
        Assert.Equal(0, rig.Ceiling.Value);
    }

    [Fact]
    public void Each_row_says_what_it_protects_when_what_happens_and_until_when()
    {
        var rows = ProtectionText.Table().Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).Select(row => row.Split('|', StringSplitOptions.TrimEntries)).ToList();
        Assert.All(rows, cells => Assert.All(cells[1..^1], cell => Assert.NotEmpty(cell)));
        Assert.DoesNotContain(rows, cells => cells.Any(cell => cell.Contains('{', StringComparison.Ordinal)));
        Assert.Equal(rows.Count, rows.Select(cells => cells[1] + cells[2]).Distinct().Count());
        foreach (var cause in new[] { Cause.Leak, Cause.HighLimit, Cause.CondensationSwitch, Cause.DewPointRising, Cause.Isolated, Cause.SurfaceTooHot, Cause.DripTrayFull })
            Assert.Contains(rows, cells => cells[2] == CauseWords.Name(cause));
    }
}
