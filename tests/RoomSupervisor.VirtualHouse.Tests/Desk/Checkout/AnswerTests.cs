// What people answer, at a terminal and from a file: understood, refused with what is allowed, skipped with a reason, stopped.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public class AnswerTests
{
    private static readonly Request Question = new(Deed.Confirm, "x", "is it so?") { Step = "power/x" }, Level = new(Deed.Listen, "x", "how loud?") { Number = Quantity.Level, Step = "fan-sound/x" },
        Length = new(Deed.TimeUntilStill, "x", "press Enter") { Number = Quantity.Duration, Step = "mixing/x" };

    private static Reply Read(Request request, string line, out string why) => Answers.TryRead(request, line, UnitSystem.Metric, 117, out var reply, out why) ? reply : new Reply(false, -1);

    [Fact]
    public void Enter_is_yes_a_number_may_have_its_unit_and_a_time_may_be_pressed()
    {
        Assert.True(Read(Question, "", out _).Yes);
        Assert.True(Read(Question, "yes", out _).Yes);
        Assert.False(Read(Question, "n", out var why).Yes);
        Assert.Equal("", why);
        Assert.Equal(42.5, Read(Level, "42,5 dB", out _).Number);
        Assert.True(double.IsNaN(Read(Level, "", out _).Number));
        Assert.Equal(117, Read(Length, "", out _).Number);
        Assert.Equal(120, Read(Length, "2 min", out _).Number);
    }

    [Fact]
    public void What_is_no_answer_is_refused_with_what_is_allowed()
    {
        Read(Question, "maybe", out var why);
        Assert.Contains("\"maybe\" is no answer here", why, StringComparison.Ordinal);
        Read(Level, "42 °C", out why);
        Assert.Contains("42 °C", why, StringComparison.Ordinal);
        Assert.Equal("no ladder", Assert.Throws<SkipStepException>(() => Read(Level, "skip no ladder", out _)).Message);
        Assert.Throws<StopWalkException>(() => Read(Question, "stop", out _));
    }

    [Fact]
    public void A_file_gives_answers_in_order_by_step_and_by_kind_and_ends_with_its_line()
    {
        var hands = new ScriptedHands("answers", ["# first", "fan-sound/x = 40 dB", "power/* = yes", "no   # in order", "enter", "fan-sound/x = 41 dB", "mixing/y = soon"], UnitSystem.Metric, _ => { });
        Assert.Equal(40, hands.Ask(Level).Number);
        Assert.True(hands.Ask(Question).Yes);
        Assert.True(hands.Ask(Question).Yes);
        Assert.False(hands.Ask(Question with { Step = "other/x" }).Yes);
        Assert.True(hands.Ask(Question with { Step = "other/x" }).Yes);
        Assert.Equal(41, hands.Ask(Level).Number);
        Assert.Contains("answers:7", Assert.Throws<StopWalkException>(() => hands.Ask(Length with { Step = "mixing/y" })).Message, StringComparison.Ordinal);
        Assert.Contains("the answers end here", Assert.Throws<StopWalkException>(() => hands.Ask(Level)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_person_is_asked_again_until_the_answer_is_understood()
    {
        Queue<string?> lines = new(["what?", "?", "43", null]);
        List<string> said = [];
        var plan = HouseFromSiteTests.Plan("one-room");
        using var run = new RoomSupervisor.Desk.Rehearsal.Rehearsal(plan);
        var hands = new PersonHands(new RoomSupervisor.Desk.Checkout.Virtual.VirtualPlant(run), said.Add, lines.Dequeue);
        Assert.Equal(43, hands.Ask(Level).Number);
        Assert.Equal(3, said.Count(line => line.Contains("how loud?", StringComparison.Ordinal)));
        Assert.Throws<StopWalkException>(() => hands.Ask(Level));
    }
}
