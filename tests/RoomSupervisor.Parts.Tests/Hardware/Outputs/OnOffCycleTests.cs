// An opening in percent as a share of time. What is checked is the relay's own trace against what was asked, counted here a second time.
using RoomSupervisor.Hardware.Outputs;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class OnOffCycleTests
{
    /// <summary>Lengths of the on and off stretches of a steady value, s, in order; the last one is cut short and left out.</summary>
    private static List<(bool On, double LengthS)> Stretches(OnOffCycle cycle, double percent, double forS)
    {
        var stretches = new List<(bool On, double LengthS)>();
        var (on, since) = (cycle.Step(percent, 0), 0.0);
        for (var t = 1.0; t <= forS; t++)
        {
            if (cycle.Step(percent, t) == on)
                continue;
            stretches.Add((on, t - since));
            (on, since) = (!on, t);
        }
        return stretches;
    }

    // A share of a cycle is arithmetic: 30 % of 900 s is 270 s.
    [Theory]
    [InlineData(30, 270, 630)]
    [InlineData(50, 450, 450)]
    [InlineData(90, 810, 90)]
    public void A_steady_value_gives_one_on_and_one_off_a_cycle_and_begins_with_on(double percent, double onS, double offS)
    {
        var stretches = Stretches(new OnOffCycle(900, 60, 60), percent, 5000);
        Assert.True(stretches[0].On);
        Assert.All(stretches, one => Assert.Equal(one.On ? onS : offS, one.LengthS, 1.5));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-3)]
    [InlineData(double.NaN)]
    public void Nothing_asked_is_always_shut(double percent) => Assert.Empty(Stretches(new OnOffCycle(900, 60, 60), percent, 10_000));

    [Theory]
    [InlineData(100)]
    [InlineData(250)]
    [InlineData(double.PositiveInfinity)]
    public void All_asked_is_always_open(double percent)
    {
        var cycle = new OnOffCycle(900, 60, 60);
        Assert.Empty(Stretches(cycle, percent, 10_000));
        Assert.True(cycle.IsOn);
    }

    [Fact]
    public void All_asked_opens_though_more_was_given_than_asked_before()
    {
        var cycle = new OnOffCycle(900, 60, 60);
        for (var t = 0; t < 400; t++)
            cycle.Step(30, t);
        Assert.False(cycle.IsOn);
        for (var t = 400; t < 2000; t++)
            Assert.True(cycle.Step(100, t));
    }

    [Fact]
    public void A_change_to_nothing_acts_at_once_whatever_the_minimum_time_on()
    {
        var cycle = new OnOffCycle(900, 600, 60);
        Assert.True(cycle.Step(100, 0));
        Assert.False(cycle.Step(0, 1));
    }

    [Fact]
    public void Between_two_openings_lies_the_minimum_time_off()
    {
        var cycle = new OnOffCycle(900, 60, 60);
        cycle.Step(100, 0);
        cycle.Step(0, 10);
        Assert.False(cycle.Step(100, 69));
        Assert.True(cycle.Step(100, 70));
    }

    [Fact]
    public void A_smaller_value_waits_for_the_minimum_time_on()
    {
        var cycle = new OnOffCycle(900, 60, 60);
        cycle.Step(100, 0);
        for (var t = 1; t < 60; t++)
            Assert.True(cycle.Step(t < 5 ? 100 : 0.5, t));
        Assert.False(cycle.Step(0.5, 60));
    }

    [Theory]
    [InlineData(2)]   // 18 s of 900
    [InlineData(97)]  // 27 s off of 900
    public void A_share_under_a_minimum_time_is_saved_up_and_the_mean_stays_right(double percent)
    {
        var stretches = Stretches(new OnOffCycle(900, 60, 60), percent, 200_000);
        Assert.All(stretches, one => Assert.True(one.LengthS >= 60));
        Assert.True(stretches.Count > 20);
        var on = stretches.Where(one => one.On).Sum(one => one.LengthS);
        Assert.Equal(percent, 100 * on / stretches.Sum(one => one.LengthS), 1.0);
        Assert.All(stretches.Where(one => one.On == percent < 50), one => Assert.InRange(one.LengthS, 60, 62));
    }

    [Fact]
    public void A_small_share_is_not_given_in_advance()
    {
        var cycle = new OnOffCycle(900, 60, 60);
        for (var t = 0; t < 2000; t++)
            Assert.False(cycle.Step(2, t));   // at 2 % forty seconds are together after 2000 s
    }

    /// <summary>Seeded: any sequence of values, each held for a while, 0 and 100 % among them.</summary>
    [Fact]
    public void The_mean_given_is_the_mean_asked_over_any_sequence()
    {
        for (var seed = 0; seed < 100; seed++)
        {
            var random = new Random(seed);
            var (cycleS, onS, offS) = (300 + random.Next(900), 20.0 + random.Next(100), 20.0 + random.Next(100));
            var cycle = new OnOffCycle(cycleS, onS, offS);
            var (asked, given, now, changedAt, was) = (0.0, 0.0, 0.0, double.NegativeInfinity, false);
            while (now < 100_000)
            {
                var percent = random.Next(6) switch { 0 => 0, 1 => 100, _ => random.NextDouble() * 100 };
                for (var until = now + offS + random.Next(2000); now < until;)
                {
                    var on = cycle.Step(percent, now);
                    if (on != was)
                    {
                        Assert.True(now - changedAt >= (was ? onS : offS) - 1e-6 || percent == 0, $"seed {seed}: turned after {now - changedAt} s at {percent} %");
                        (was, changedAt) = (on, now);
                    }
                    Assert.True(percent > 0 || !on, $"seed {seed}: open at 0 %");
                    var stepS = 0.5 + random.NextDouble();
                    (asked, given, now) = (asked + percent / 100 * stepS, given + (on ? stepS : 0), now + stepS);
                    // Never further off than one part of a cycle or the minimum times, however long it goes on.
                    Assert.InRange(given - asked, -(onS + offS + 4), Math.Max(cycleS / 4, onS + offS) + 4);
                }
            }
            Assert.Equal(asked / now, given / now, 0.005);
        }
    }
}
