// The example with every kind of output and every driver of outputs, rehearsed: the real loop, drivers and bytes, and a hot day in the house behind them.
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public class StudioRehearsalTests
{
    /// <summary>From midnight to six in the evening: every output has moved, every room is cooled to what its household wants.</summary>
    [Fact]
    public void On_a_hot_day_every_output_of_the_studio_moves_and_its_rooms_are_cooled()
    {
        var plan = HouseFromSiteTests.Plan("garden-studio", "summer-day");
        var hasMoved = new bool[plan.Files.House.OutputTable.Count];
        using Rehearsal run = new(plan)
        {
            AfterScan = one =>
            {
                var commands = one.Controller!.Loop.Image.Commands;
                for (int i = 0; i < hasMoved.Length; i++) hasMoved[i] |= commands[i].Value > 0;
            },
        };
        while (run.ElapsedS < 18 * 3600) run.Step();
        run.Recorder.Finish();
        var moved = Enumerable.Range(0, hasMoved.Length).Where(i => hasMoved[i]).Select(i => plan.Files.House.OutputTable[i].Id);
        Assert.Equal(plan.Files.Wiring.Where(one => one.IsOutput).Select(one => one.PointId).Distinct().Order(StringComparer.Ordinal), moved.Order(StringComparer.Ordinal));
        double[] wanted = [25, 26, 25, 25];
        for (int room = 0; room < wanted.Length; room++) Assert.InRange(run.Run.Building.AirC[room], wanted[room] - 1.5, wanted[room] + 1);
    }
}
