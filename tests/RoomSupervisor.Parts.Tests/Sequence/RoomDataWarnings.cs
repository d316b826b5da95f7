// What is told of a room in which something changes, and of one in which nothing does: some rooms in every run, eighteen printed with ROOM_SUPERVISOR_ROOM_DATA=warnings (two minutes).
using RoomSupervisor.Sequence;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class RoomDataWarnings(ITestOutputHelper output)
{
    private const int FirstSeed = 801, Seeds = 18, Before = 4, After = 8;

    /// <summary>What was told after something changed, and what was found in the end.</summary>
    private sealed record Life(int WarnedBefore, int Warned, int Changed, int Measured, string Words)
    {
        public bool IsTold => Warned + Changed + Measured > 0;
    }

    private static Life Live(int i, Action<RoomDataRun, int> change, int doors)
    {
        var run = new RoomDataRun(RoomDataChanges.Case(i, FirstSeed + i));
        run.Doors(Before);
        var told = run.Told.Count;
        var before = FormattableString.Invariant($"coil {run.Data.Coil.Factor:0.00} lag {run.Data.Lag.Factor:0.00}");
        change(run, 0);
        for (var door = 1; door <= doors; door++)
        {
            run.Doors(1);
            change(run, door);
        }
        var after = run.Told.Skip(told).ToList();
        int Count(int id) => after.Count(one => one.Id == id);
        return new Life(run.Told.Take(told).Count(one => one.Id is 135 or 137), Count(SequenceEvents.RoomDataDropped.Id), Count(SequenceEvents.RoomChanged.Id), Count(SequenceEvents.RoomMeasured.Id),
            FormattableString.Invariant($"{before}, then coil {run.Data.Coil.Factor:0.00} of {run.TrueCoilShare():0.00} lag {run.Data.Lag.Factor:0.00}; told {string.Join(" ", after.Select(one => FormattableString.Invariant($"{one.Id} at door {one.Second / RoomDataRun.EveryS - Before + 1} ({one.A:0.0}, {one.B:0})")))}"));
    }

    [Fact]
    public void Table_of_what_is_told()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") != "warnings")
            return;
        foreach (var (what, change) in RoomDataChanges.All)
        {
            var lives = Enumerable.Range(0, Seeds).Select(i => Live(i, change, After)).ToList();
            output.WriteLine($"{what}: of {Seeds} rooms warned before {lives.Count(one => one.WarnedBefore > 0)}, after: dropped {lives.Count(one => one.Warned > 0)}, changed {lives.Count(one => one.Changed > 0)}, measured again {lives.Count(one => one.Measured > 0)}, any {lives.Count(one => one.IsTold)}");
            foreach (var one in lives)
                output.WriteLine($"  {one.Words}");
        }
    }

    /// <summary>Four rooms, eight pull-downs each. In all four it was warned before a warning took data that had stood: they were dropped at the first look.</summary>
    [Fact]
    public void Of_a_room_in_which_nothing_changes_nobody_is_warned()
    {
        foreach (var i in new[] { 0, 1, 4, 5 })
        {
            var one = Live(i, RoomDataChanges.Of("nothing"), 4);
            output.WriteLine(one.Words);
            Assert.Equal((0, 0, 0, 0), (one.WarnedBefore, one.Warned, one.Changed, one.Measured));
        }
    }

    /// <summary>What is strong enough to be seen is told: in rooms whose data stood before (the third and the fourth), for of the others nothing is believed that could turn out wrong. What is weaker, and all rooms, the table counts.</summary>
    [Theory]
    [InlineData("sensor three times as slow")]
    [InlineData("sensor drifts 0.6 K a door")]
    public void A_change_that_is_strong_enough_is_told_where_data_were_believed(string what)
    {
        for (var i = 2; i < 4; i++)
        {
            var one = Live(i, RoomDataChanges.Of(what), 6);
            output.WriteLine(one.Words);
            Assert.True(one.IsTold, one.Words);
        }
    }
}
