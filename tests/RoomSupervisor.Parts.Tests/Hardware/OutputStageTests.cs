// The stage between commands and channels: each kind of actuator alone in virtual time, then random command sequences with what must
// always hold.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class OutputStageTests
{
    private static readonly Mark Here = new("site.yaml", 1, 1);

    private static PointWiring Wire(string channel, OutputShape shape, ChannelRole role = ChannelRole.Value, int step = 0)
        => new("a.b.valve", true, 0, Quantity.Percent, "io-1", channel, false, shape.Line, 0, Here) { Shape = shape, Role = role, Step = step };

    private sealed class Bench
    {
        private readonly OutputStage stage;
        private readonly OutputLeases leases;

        public Bench(params PointWiring[] wires)
        {
            stage = OutputStage.Build(wires, out var wired);
            Wired = wired;
            leases = new OutputLeases(stage.Leases);
        }

        public IReadOnlyList<PointWiring> Wired { get; }

        public double NowS { get; private set; }

        public long Starts => stage.RelayStarts;

        /// <summary>One second with a command; the values the channels get.</summary>
        public double[] Step(double asked, double then = 0)
        {
            NowS += 1;
            stage.Put([new Command(asked, default, default, then)], leases, NowS, 1, 10);
            return [.. Wired.Select(wire => leases.At(wire.Lease, NowS, wire.SafeValue).Value)];
        }

        public double[] WithoutLoop() => [.. Wired.Select(wire => leases.At(wire.Lease, NowS + 60, wire.SafeValue).Value)];

        public double[] BeforeAnyCommand() => [.. Wired.Select(wire => new OutputLeases(stage.Leases).At(wire.Lease, 0, wire.SafeValue).Value)];
    }

    [Fact]
    public void A_plain_output_gives_every_channel_its_value()
    {
        var bench = new Bench(Wire("first", OutputShape.Plain), Wire("second", OutputShape.Plain));
        Assert.Equal([35.0, 35.0], bench.Step(35));
        Assert.Equal([0, 1], bench.Wired.Select(wire => wire.Lease));
        Assert.Equal([0.0, 0.0], bench.WithoutLoop());
    }

    [Fact]
    public void Two_to_ten_volts_rest_at_two_and_a_fan_rests_at_none()
    {
        var line = new VoltageLine(2, 0, 10) { RestVoltageV = 2 };
        Assert.Equal([2, 2, 6, 10], [line.VoltsFor(0), line.VoltsFor(double.NaN), line.VoltsFor(50), line.VoltsFor(100)]);
        Assert.Equal(0, new VoltageLine(1.8, 20, 10).VoltsFor(0));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(35)]
    [InlineData(50)]
    [InlineData(80)]
    public void An_on_off_actuator_is_on_for_the_share_asked_and_keeps_its_shortest_times(double asked)
    {
        var bench = new Bench(Wire("relay", new OutputShape { Kind = OutputKind.OnOff, CycleS = 900, MinimumOnS = 120, MinimumOffS = 60 }));
        var (on, run, shortest, last) = (0.0, 0, int.MaxValue, 0.0);
        for (var second = 0; second < 36000; second++)
        {
            var value = bench.Step(asked)[0];
            on += value / 100;
            if (value != last && second > 0)
            {
                if (last > 0)
                    shortest = Math.Min(shortest, run);
                run = 0;
            }
            (last, run) = (value, run + 1);
        }
        Assert.InRange(on / 36000, asked / 100 - 0.01, asked / 100 + 0.01);
        Assert.True(shortest >= 120, $"on for {shortest} s");
        if (asked == 50)
            Assert.InRange(bench.Starts, 36, 44);   // a cycle of 900 s
    }

    [Fact]
    public void Nothing_asked_switches_off_at_once_and_all_asked_stays_on()
    {
        var bench = new Bench(Wire("relay", new OutputShape { Kind = OutputKind.OnOff, CycleS = 900, MinimumOnS = 300 }));
        Assert.Equal(100, bench.Step(100)[0]);
        Assert.Equal(0, bench.Step(0)[0]);   // protection never waits for the shortest time on
        for (var second = 0; second < 3600; second++)
            Assert.Equal(100, bench.Step(100)[0]);
    }

    [Fact]
    public void A_normally_open_actuator_is_shut_by_current_and_kept_shut_by_what_follows()
    {
        var bench = new Bench(Wire("relay", new OutputShape { Kind = OutputKind.OnOff, NormallyOpen = true }));
        Assert.Equal(100, bench.BeforeAnyCommand()[0]);
        Assert.Equal(0, bench.Step(100)[0]);
        Assert.Equal(100, bench.Step(0)[0]);
        Assert.Equal(100, bench.WithoutLoop()[0]);
    }

    private static Bench ThreePoint(double strokeS = 100)
    {
        var shape = new OutputShape { Kind = OutputKind.ThreePoint, StrokeS = strokeS };
        return new Bench(Wire("up", shape, ChannelRole.Opens), Wire("down", shape, ChannelRole.Shuts));
    }

    [Fact]
    public void A_three_point_actuator_is_driven_shut_first_and_then_to_its_position()
    {
        var bench = ThreePoint();
        Assert.Equal([0.0, 100.0], bench.BeforeAnyCommand());
        var shuts = 0;
        while (bench.Step(40) is [0, 100])
            shuts++;
        Assert.InRange(shuts, 118, 122);   // 1.2 strokes
        var opens = 0;
        for (var second = 0; second < 200; second++)
            opens += bench.Step(40)[0] > 0 ? 1 : 0;
        Assert.InRange(opens, 39, 41);
        Assert.Equal([0.0, 0.0], bench.Step(40));
        Assert.Equal([0.0, 0.0], bench.Step(40.5));   // under the dead band
        Assert.Equal([0.0, 100.0], bench.WithoutLoop());
    }

    [Fact]
    public void At_its_ends_a_three_point_actuator_is_driven_on_for_a_fifth_of_its_stroke_and_then_rests()
    {
        var bench = ThreePoint();
        for (var second = 0; second < 300; second++)
            bench.Step(50);
        var up = 0;
        for (var second = 0; second < 300; second++)
            up += bench.Step(100)[0] > 0 ? 1 : 0;
        Assert.InRange(up, 68, 72);   // half a stroke and a fifth
        Assert.Equal([0.0, 0.0], bench.Step(100));
    }

    [Theory]
    [InlineData(34, 0)]
    [InlineData(35, 1)]
    [InlineData(59.9, 1)]
    [InlineData(60, 2)]
    [InlineData(100, 3)]
    public void A_stepped_fan_takes_the_step_at_or_under_what_is_asked(double asked, int step)
    {
        var bench = Stepped();
        double[] values = [];
        for (var second = 0; second < 10; second++)
            values = bench.Step(asked);
        Assert.Equal(step, Array.IndexOf(values, 100.0) + 1);
        Assert.Equal(step == 0 ? 0 : 100, values.Sum());
        Assert.Equal([0.0, 0.0, 0.0], bench.WithoutLoop());
    }

    private static Bench Stepped()
    {
        var shape = new OutputShape { Kind = OutputKind.SteppedFan, StepsPercent = [35, 60, 100], StepPauseS = 2 };
        return new Bench(Wire("low", shape, ChannelRole.Step, 1), Wire("middle", shape, ChannelRole.Step, 2), Wire("high", shape, ChannelRole.Step, 3));
    }

    [Fact]
    public void A_stepped_fan_breaks_before_it_makes()
    {
        var bench = Stepped();
        for (var second = 0; second < 5; second++)
            bench.Step(40);
        Assert.Equal(0, bench.Step(100).Sum());
        Assert.Equal(0, bench.Step(100).Sum());
        Assert.Equal([0.0, 0.0, 100.0], bench.Step(100));
        Assert.Equal(0, bench.Step(0).Sum());
    }

    /// <summary>Seeded random wishes: never both relays, never two steps, never a step above the wish, the mean share right.</summary>
    [Fact]
    public void Whatever_is_asked_what_must_hold_holds()
    {
        for (var seed = 1; seed <= 30; seed++)
        {
            var random = new Random(seed);
            var (drive, fan) = (ThreePoint(30 + random.Next(200)), Stepped());
            var cycle = new Bench(Wire("relay", new OutputShape { Kind = OutputKind.OnOff, CycleS = 300, MinimumOnS = 60, MinimumOffS = 60 }));
            var (asked, owed, on) = (50.0, 0.0, 0.0);
            for (var second = 0; second < 4000; second++)
            {
                if (random.Next(60) == 0)
                    asked = random.Next(5) == 0 ? random.Next(2) * 100 : Math.Round(random.NextDouble() * 100, 1);
                Assert.NotEqual([100.0, 100.0], drive.Step(asked));
                var steps = fan.Step(asked);
                Assert.True(steps.Count(value => value > 0) <= 1);
                var step = Array.IndexOf(steps, 100.0);
                Assert.True(step < 0 || new[] { 35, 60, 100 }[step] <= asked + 1e-6, $"seed {seed}: step {step} at {asked}");
                var relay = cycle.Step(asked)[0];
                if (asked is 0 or 100)
                    Assert.Equal(asked, relay);
                (owed, on) = (owed + asked / 100, on + relay / 100);
            }
            Assert.InRange(on / owed, 0.9, 1.1);
        }
    }
}
