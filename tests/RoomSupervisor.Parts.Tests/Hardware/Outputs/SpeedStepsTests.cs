// A fan with a relay a speed: which step, and what lies between two.
using RoomSupervisor.Hardware.Outputs;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class SpeedStepsTests
{
    private static readonly double[] Three = [40, 65, 100];

    [Theory]
    [InlineData(double.NaN, 0)]
    [InlineData(0, 0)]
    [InlineData(39.9, 0)]
    [InlineData(40, 1)]
    [InlineData(64.9, 1)]
    [InlineData(65, 2)]
    [InlineData(99, 2)]
    [InlineData(100, 3)]
    [InlineData(400, 3)]
    public void The_step_is_the_nearest_at_or_under_what_is_asked(double percent, int step)
    {
        var steps = new SpeedSteps(Three, 2);
        steps.Step(percent, 0);
        Assert.Equal(step, steps.Step(percent, 2));
    }

    [Fact]
    public void Between_two_steps_all_are_off_for_the_pause()
    {
        var steps = new SpeedSteps(Three, 2);
        steps.Step(100, 0);
        Assert.Equal(3, steps.Step(100, 2));
        Assert.Equal(0, steps.Step(65, 10));
        Assert.Equal(0, steps.Step(65, 11.9));
        Assert.Equal(2, steps.Step(65, 12));
        Assert.Equal(0, steps.Step(0, 13));
        Assert.Equal(0, steps.Step(0, 100));
        Assert.Equal(1, steps.Step(50, 101));
    }

    [Fact]
    public void At_start_it_waits_the_pause_for_a_module_that_may_have_a_step_on()
    {
        var steps = new SpeedSteps(Three, 2);
        Assert.Equal(0, steps.Step(100, 1000));
        Assert.Equal(0, steps.Step(100, 1001));
        Assert.Equal(3, steps.Step(100, 1002));
    }

    /// <summary>Seeded.</summary>
    [Fact]
    public void Over_any_sequence_it_is_never_above_what_is_asked_and_never_changes_without_the_pause()
    {
        for (var seed = 0; seed < 200; seed++)
        {
            var random = new Random(seed);
            double[] speeds = [.. Enumerable.Range(0, 1 + random.Next(5)).Select(_ => 10 + 90 * random.NextDouble()).Order()];
            var steps = new SpeedSteps(speeds, 2);
            var (now, last, lastOnS, percent) = (0.0, 0, double.NegativeInfinity, 0.0);
            for (var i = 0; i < 500; i++)
            {
                percent = random.Next(4) == 0 ? random.NextDouble() * 110 : percent;
                var step = steps.Step(percent, now);
                Assert.True(step == 0 || speeds[step - 1] <= percent + 1e-6, $"seed {seed}: {speeds[Math.Max(0, step - 1)]} % at {percent} %");
                Assert.True(step == 0 || step == last || now - lastOnS >= 2 - 1e-6, $"seed {seed}: from {last} to {step} without a pause");
                now += 0.2 + random.NextDouble();
                if (step != 0)
                    (last, lastOnS) = (step, now);
            }
        }
    }
}
