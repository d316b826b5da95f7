// A screed heated up in the virtual house in winter by the real loop: its water, a power cut in the middle, and a trace of it played again bit for bit.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.VirtualHouse.Tests.WaterWork;

public sealed class ScreedHouseTests(Xunit.Abstractions.ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("screed-house-");

    public void Dispose() => folder.Delete(true);

    private StateFolder State => new(folder.FullName);

    [Fact]
    public void The_floor_gets_its_water_and_no_more_and_after_a_cut_it_goes_on_where_it_was()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("ferry-house", "winter"));
        var house = run.House;
        var loop = house.Loops.ToList().FindIndex(one => one.Id == "floor-loop");
        Assert.True(ScreedPlan.TryRead("1d 25 °C, 1d 35 °C", house.Units, out var steps, out _));
        var keeper = run.Controller!.Screed = new ScreedKeeper(house, State, _ => { });
        keeper.Begin(loop, new ScreedRun("floor-loop", new ScreedPlan(steps, ScreedKind.Cement, new DateOnly(2026, 1, 1), "")));
        var (warmest, sum, count) = (double.NegativeInfinity, 0.0, 0);
        void Play(double hours)
        {
            for (var until = run.ElapsedS + hours * 3600; run.ElapsedS < until;)
            {
                run.Step();
                if (!run.Controller!.Memory.Loops[loop].PumpOn || run.Controller.Memory.Loops[loop].PumpForS < 120)
                    continue;
                var supply = run.Run.Plant.Loops[loop].SupplyC;
                (warmest, sum, count) = (Math.Max(warmest, supply), sum + supply, count + 1);
            }
        }
        Play(4);
        output.WriteLine($"warmest {warmest:0.0}, mean {sum / count:0.0}, pump on {count / 14400.0:0.00}");
        Assert.True(count > 0.8 * 4 * 3600);
        Assert.InRange(sum / count, 23, 26);
        Assert.True(warmest < 30);
        var before = ScreedFile.Load(keeper.Of(loop))!;
        Assert.InRange(before.Days[0].HeldS, 3 * 3600, 4 * 3600);
        keeper.KeepAtStop();

        // The power is away for three hours; the next controller reads what was kept.
        var next = new ScreedKeeper(house, State, _ => { });
        Assert.Contains("day 1 of 2", Assert.Single(next.TakeUp(before.LastUtc.AddHours(3))), StringComparison.Ordinal);
        run.Controller!.Screed = next;
        warmest = double.NegativeInfinity;
        Play(1);
        var after = ScreedFile.Load(next.Of(loop))!;
        Assert.Equal(0, after.Day);
        Assert.InRange(after.Days[0].HeldS - before.Days[0].HeldS, 2400, 3700);
        Assert.Equal(3 * 3600, after.Days[0].OffS, 1.0);
        Assert.Equal(1, after.Days[0].Interruptions);
        Assert.True(warmest < 30);
        next.Dispose();
    }
}
