// The stage from commands to the leases of channels: what each channel holds during the lease, at its end and after a late scan.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class OutputStageTests
{
    private static readonly OutputShape Wax = new() { Kind = OutputKind.OnOff, CycleS = 900, MinimumOnS = 60, MinimumOffS = 60 };
    private static readonly OutputShape Motor = new() { Kind = OutputKind.ThreePoint, StrokeS = 90 };
    private static readonly OutputShape Speeds = new() { Kind = OutputKind.SteppedFan, StepsPercent = [40, 65, 100], StepPauseS = 2 };

    private static PointWiring Wire(int index, string channel, OutputShape shape, ChannelRole role = ChannelRole.Value, int step = 0, Quantity quantity = Quantity.Percent)
        => Rig.Output($"hall.part-{index}.output", index, quantity, channel, shape.Line, 0) with { Shape = shape, Role = role, Step = step };

    private static List<PointWiring> MotorWires(int index) => [Wire(index, "opens", Motor, ChannelRole.Opens), Wire(index, "shuts", Motor, ChannelRole.Shuts)];

    private static List<PointWiring> FanWires(int index) => [.. Enumerable.Range(1, 3).Select(step => Wire(index, $"step-{step}", Speeds, ChannelRole.Step, step))];

    /// <summary>A stage with its leases; time goes on with each scan.</summary>
    private sealed class Bench(params PointWiring[] wiring)
    {
        private const double LifeS = 10;
        private readonly IReadOnlyList<OutputChannel> channels = OutputChannels.Of(wiring);
        private OutputStage? stage;

        public OutputLeases Leases { get; } = new(OutputChannels.CountOf(wiring));

        public double NowS { get; set; }

        public OutputChannel Channel(string name) => channels.Single(one => one.Wiring.Channel == name);

        public void Put(double value, double then = 0)
        {
            stage ??= new OutputStage(wiring, Leases);
            stage.Put([new Command(value, default, default, then)], NowS, LifeS);
        }

        public void Run(double value, double forS, double then = 0)
        {
            for (var until = NowS + forS; NowS < until; NowS++)
                Put(value, then);
        }

        public double At(string channel, double atS) => Leases.At(Channel(channel).Lease, atS, Channel(channel).Wiring.SafeValue).Value;

        public double Now(string channel) => At(channel, NowS);
    }

    [Fact]
    public void Channels_of_one_output_carry_the_same_value()
    {
        var bench = new Bench(Wire(0, "left", OutputShape.Plain), Wire(0, "right", OutputShape.Plain));
        bench.Put(35, 5);
        Assert.Equal((35.0, 35.0), (bench.Now("left"), bench.Now("right")));
        Assert.Equal((5.0, 5.0), (bench.At("left", 10), bench.At("right", 10)));
        Assert.NotEqual(bench.Channel("left").Lease, bench.Channel("right").Lease);
    }

    [Fact]
    public void A_share_of_a_fast_cycle_goes_to_the_device_as_it_is()
    {
        var bench = new Bench(Wire(0, "fan", new OutputShape { Kind = OutputKind.Pwm }));
        bench.Put(37.5);
        Assert.Equal((37.5, Quantity.Percent), (bench.Now("fan"), bench.Channel("fan").Wiring.Quantity));
    }

    [Fact]
    public void A_switch_passes_whatever_the_actuator_on_all_its_channels()
    {
        var bench = new Bench(Wire(0, "a", Wax, quantity: Quantity.Switch), Wire(0, "b", Wax, quantity: Quantity.Switch));
        bench.Put(1);
        Assert.Equal((1.0, 1.0), (bench.Now("a"), bench.Now("b")));
        bench.NowS = 1;
        bench.Put(0);
        bench.NowS = 2;
        bench.Put(1);
        Assert.Equal((1.0, 1.0), (bench.Now("a"), bench.Now("b")));
    }

    [Fact]
    public void Wax_actuators_of_one_output_get_their_share_together_and_go_shut_when_the_lease_ends()
    {
        var bench = new Bench(Wire(0, "a", Wax), Wire(0, "b", Wax));
        bench.Run(50, 440);
        Assert.Equal((1.0, 1.0), (bench.Now("a"), bench.Now("b")));
        Assert.Equal((0.0, 0.0), (bench.At("a", bench.NowS + 9), bench.At("b", bench.NowS + 9)));
        bench.Run(50, 100);
        Assert.Equal((0.0, 0.0), (bench.Now("a"), bench.Now("b")));
        Assert.Equal(Quantity.Switch, bench.Channel("a").Wiring.Quantity);
    }

    [Theory]
    [InlineData(false, false, false)]
    [InlineData(true, false, true)]
    [InlineData(false, true, true)]
    [InlineData(true, true, false)]
    public void An_actuator_that_is_open_without_current_turns_its_relay_round(bool normallyOpen, bool inverted, bool turned)
    {
        var bench = new Bench(Wire(0, "a", Wax with { NormallyOpen = normallyOpen }) with { Inverted = inverted });
        Assert.Equal(turned, bench.Channel("a").Wiring.Inverted);
    }

    [Theory]
    [InlineData(100, 1)]
    [InlineData(99, 0)]
    public void Only_a_whole_hundred_percent_may_follow_as_on(double then, double on)
    {
        var bench = new Bench(Wire(0, "a", Wax));
        bench.Put(0, then);
        Assert.Equal(on, bench.At("a", 20));
    }

    [Fact]
    public void A_three_point_actuator_is_driven_shut_when_the_lease_ends_after_a_rest_of_both()
    {
        var bench = new Bench([.. MotorWires(0)]);
        bench.Leases.Returned(0);
        bench.Run(80, 140);
        Assert.Equal((1.0, 0.0), (bench.Now("opens"), bench.Now("shuts")));
        var ends = bench.NowS - 1 + 10;
        Assert.Equal((1.0, 0.0), (bench.At("opens", ends - 0.01), bench.At("shuts", ends - 0.01)));
        Assert.Equal((0.0, 0.0), (bench.At("opens", ends), bench.At("shuts", ends + 0.99)));
        Assert.Equal((0.0, 1.0), (bench.At("opens", ends + 1), bench.At("shuts", ends + 1)));
    }

    [Fact]
    public void Before_any_lease_the_safe_value_of_each_kind_holds()
    {
        var motor = new Bench([.. MotorWires(0)]);
        Assert.Equal((0.0, 1.0), (motor.Now("opens"), motor.Now("shuts")));
        var fan = new Bench([.. FanWires(0)]);
        Assert.All((string[])["step-1", "step-2", "step-3"], step => Assert.Equal(0, fan.Now(step)));
    }

    [Fact]
    public void After_an_outage_or_a_late_scan_a_three_point_actuator_starts_with_a_full_close()
    {
        var bench = new Bench([.. MotorWires(0)]);
        bench.Run(50, 300);
        Assert.Equal((0.0, 0.0), (bench.Now("opens"), bench.Now("shuts")));
        bench.Leases.Returned(bench.Channel("opens").Lease);
        bench.Run(50, 2);
        Assert.Equal(1, bench.Now("shuts"));
        bench.Run(50, 300);
        Assert.Equal((0.0, 0.0), (bench.Now("opens"), bench.Now("shuts")));
        bench.NowS += 60;
        bench.Run(50, 2);
        Assert.Equal(1, bench.Now("shuts"));
    }

    [Fact]
    public void A_fan_in_steps_stops_when_the_lease_ends()
    {
        var bench = new Bench([.. FanWires(0)]);
        bench.Run(70, 5);
        Assert.Equal((0.0, 1.0, 0.0), (bench.Now("step-1"), bench.Now("step-2"), bench.Now("step-3")));
        Assert.Equal((0.0, 0.0, 0.0), (bench.At("step-1", 20), bench.At("step-2", 20), bench.At("step-3", 20)));
    }

    [Fact]
    public void A_step_that_follows_comes_on_a_pause_after_the_other_went_off()
    {
        var bench = new Bench([.. FanWires(0)]);
        bench.Run(100, 5, then: 50);
        var ends = bench.NowS - 1 + 10;
        Assert.Equal((0.0, 1.0), (bench.At("step-1", ends - 0.01), bench.At("step-3", ends - 0.01)));
        Assert.Equal((0.0, 0.0), (bench.At("step-1", ends + 1.99), bench.At("step-3", ends)));
        Assert.Equal(1, bench.At("step-1", ends + 2));
    }

    /// <summary>Seeded: relays of one actuator are never on together, whoever looks when, late scans and ended leases included.</summary>
    [Fact]
    public void Two_relays_of_one_actuator_are_never_on_together()
    {
        for (var seed = 0; seed < 60; seed++)
        {
            var random = new Random(seed);
            var bench = seed % 2 == 0 ? new Bench([.. MotorWires(0)]) : new Bench([.. FanWires(0)]);
            string[] names = seed % 2 == 0 ? ["opens", "shuts"] : ["step-1", "step-2", "step-3"];
            for (var i = 0; i < 400; i++)
            {
                var nextS = random.Next(40) == 0 ? 30.0 * random.NextDouble() : 0.8 + 0.4 * random.NextDouble();
                bench.Put(random.Next(6) switch { 0 => 0, 1 => 100, 2 => double.NaN, _ => random.NextDouble() * 100 }, random.Next(3) * 50);
                for (var at = bench.NowS; at < bench.NowS + nextS; at += 0.1)
                    Assert.True(names.Count(name => bench.At(name, at) != 0) <= 1, $"seed {seed}: two relays on at {at} s");
                bench.NowS += nextS;
            }
        }
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        PointWiring[] wiring = [Wire(0, "plain", OutputShape.Plain), Wire(1, "wax", Wax), .. MotorWires(2), .. FanWires(3)];
        var stage = new OutputStage(wiring, new OutputLeases(OutputChannels.CountOf(wiring)));
        var commands = new Command[4];
        void Scan(int t)
        {
            Array.Fill(commands, new Command(t * 7 % 101, default, default, 0));
            stage.Put(commands, t, 10);
        }
        Scan(0);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var t = 1; t < 1000; t++)
            Scan(t);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void A_channel_without_a_lease_is_refused() => Assert.Throws<ArgumentException>(() => new OutputStage([Wire(0, "a", Wax)], new OutputLeases(0)));
}
