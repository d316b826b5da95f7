// Section 2, rule 7: what control may take of what was measured, and when nothing is learned. Data are put into the memory by hand where their size is what is asked about; never by calling the rule that is judged.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class RoomDataUseTests
{
    private static RoomDataRun Known()
    {
        var run = new RoomDataRun(new ClosedCase(100, 1, 120, false, 601));
        run.Memory.RoomDataFor = RoomDataUses.All;
        run.Doors(1);
        ref var d = ref run.Data;
        (d.PullDowns, d.Dropped) = (3, false);
        d.Lag = new Measured { Log = 0.5, Deviation = 0.3 };
        d.Coil = new Measured { Log = -0.2, Deviation = 0.1 };
        d.Ratio = new Measured { Log = -0.3, Deviation = 0.2 };
        return run;
    }

    private static (double Lag, double Capacity, double Coil) Used(RoomDataRun run)
    {
        run.Seconds(30);
        ref readonly var room = ref run.Memory.Rooms[0];
        return (room.LagFactor, room.DataCapacityJPerK, room.CoilLow);
    }

    [Fact]
    public void Control_takes_the_lower_end_of_the_coil_the_upper_end_of_the_capacity_and_the_lag()
    {
        var run = Known();
        var (lag, capacity, coil) = Used(run);
        Assert.Equal(Math.Exp(0.5), lag, 9);
        Assert.Equal(Math.Exp(-0.2 - 0.1), coil, 9);
        Assert.Equal(RoomDataKeeping.TypicalCapacityJPerK(run.House.Rooms[0]) * Math.Exp(0.3 + 0.2), capacity, 3);
        run.Data.Coil = new Measured { Log = 0.3, Deviation = 0.1 };
        Assert.Equal(1, Used(run).Coil);   // never more than what is typed in
    }

    [Fact]
    public void What_is_not_sure_is_not_used()
    {
        var run = Known();
        run.Data.Lag = new Measured { Log = 0.5, Deviation = 0.45 };
        run.Data.Ratio = new Measured { Log = -0.3, Deviation = 0.4 };
        var (lag, capacity, _) = Used(run);
        Assert.Equal((0.0, 0.0), (lag, capacity));
        run.Data.Lag = new Measured { Log = 0.25, Deviation = 0.1 };   // within a third of what was told
        Assert.Equal(0, Used(run).Lag);
    }

    [Fact]
    public void Nothing_is_used_before_three_pull_downs_nor_of_what_was_dropped_nor_unasked()
    {
        var run = Known();
        run.Data.PullDowns = 2;
        Assert.Equal((0.0, 0.0, 0.0), Used(run));
        run.Data.PullDowns = 3;
        Assert.NotEqual((0.0, 0.0, 0.0), Used(run));
        run.Data.Dropped = true;
        Assert.Equal((0.0, 0.0, 0.0), Used(run));
        run.Data.Dropped = false;
        run.Memory.RoomDataFor = RoomDataUses.None;
        Assert.Equal((0.0, 0.0, 0.0), Used(run));
    }

    [Fact]
    public void What_is_used_does_not_change_in_the_middle_of_a_pull_down()
    {
        var run = Known();
        run.Seconds(30);
        HashSet<double> seen = [];
        var pulled = 0;
        run.Each = (second, air, stage) =>
        {
            if (!run.Data.InPullDown)
                return;
            pulled++;
            run.Data.Lag = new Measured { Log = 0.8, Deviation = 0.1 };
            seen.Add(run.Memory.Rooms[0].LagFactor);
        };
        run.Doors(1);
        Assert.True(pulled > 120, $"it pulled down for {pulled} s only");
        Assert.Equal([Math.Exp(0.5)], seen);
    }

    [Fact]
    public void A_sensor_that_does_not_answer_teaches_nothing()
    {
        var run = new RoomDataRun(new ClosedCase(100, 1, 120, false, 602));
        var (silentFor, learned, silent) = (0, 0, 0);
        run.Each = (second, air, stage) =>
        {
            // Forty seconds of every minute of a pull-down: long enough for its last value to grow old, too short to stop the room.
            run.SensorSilent = stage == Stage.PullDown && second % 60 < 40;
            silentFor = run.SensorSilent ? silentFor + 1 : 0;
            // Its interval, and the ten seconds between two samples.
            if (silentFor <= 17)
                return;
            silent++;
            learned += run.Data.Learns ? 1 : 0;
        };
        run.Doors(1);
        Assert.True(silent > 40, $"it was silent for {silent} s only");
        Assert.Equal(0, learned);
    }
}
