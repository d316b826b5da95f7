// Gains of a mixing valve: the rule's own design point, its robustness on plants it was not made for, and what is never proposed.
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.VirtualHouse.Tests.Tuning;

public class MixingRuleTests
{
    /// <summary>The shipped integral of 0.06 %/(K·s) is made for 60 s of dead time, 7 K of difference and a valve that gives 1/0.7 of its stroke, at 0.36, about 1/e (Loops/Mixing.cs): a plant like that must be given it back.</summary>
    [Fact]
    public void The_plant_the_shipped_integral_was_made_for_is_given_it_back()
    {
        var proposed = MixingRule.Propose(new ProcessModel(0.07 / 0.7, 60, 1, false, 0), 7, out _)!.Value;
        Assert.Equal(new SequenceSettings().MixingIntegralPercentPerKS, proposed.PercentPerKS, 0.003);
    }

    [Theory]
    [InlineData(0.08, 20, 30, 7)]
    [InlineData(0.15, 45, 25, 15)]
    [InlineData(0.10, 90, 10, 9)]
    [InlineData(0.25, 60, 90, 25)]
    public void The_proposed_gains_settle_and_overshoot_little_though_the_plant_is_a_third_stronger_than_found(double gain, double dead, double lag, double difference)
    {
        var found = new ProcessModel(gain, dead, lag, false, 0);
        var proposed = MixingRule.Propose(found, difference, out _)!.Value;
        var answer = MixingRule.Answer(found with { Gain = 1.33 * gain, DeadS = 1.1 * dead }, proposed, difference, 120, 0.2, 20 * (dead + lag));
        Assert.True(double.IsFinite(answer.SettlesS));
        Assert.InRange(answer.OvershootK, 0, 0.3);
        // Four times the integral is what it must not be.
        var wild = MixingRule.Answer(found, new MixingGains(proposed.PercentPerK, 4 * proposed.PercentPerKS), difference, 120, 0.2, 20 * (dead + lag));
        Assert.True(wild.OvershootK > answer.OvershootK + 0.2);
    }

    [Fact]
    public void A_shipped_gain_that_is_wild_for_a_slow_loop_is_lowered_and_the_answer_is_better()
    {
        var slow = new ProcessModel(0.2, 150, 20, false, 0);
        var shipped = MixingGains.Of(new SequenceSettings());
        var proposed = MixingRule.Propose(slow, 7, out _)!.Value;
        Assert.True(proposed.PercentPerKS < shipped.PercentPerKS);
        var (before, after) = (MixingRule.Answer(slow, shipped, 7, 120, 1, 3600), MixingRule.Answer(slow, proposed, 7, 120, 1, 3600));
        Assert.True(after.SquareKKs < before.SquareKKs);
    }

    [Fact]
    public void Nothing_is_proposed_where_the_water_did_not_follow()
    {
        Assert.Null(MixingRule.Propose(new ProcessModel(0, 30, 10, false, 0), 7, out var why));
        Assert.Contains("did not follow", why, StringComparison.Ordinal);
    }
}
