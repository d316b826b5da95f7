// The walk itself, on a made-up plant: broken off at any step it goes on there, a step that fails or throws blocks no other, what was measured is kept, and no hand value outlives its step.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public sealed class WalkTests : IDisposable
{
    private const int Count = 7;

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("walk-");

    public void Dispose() => folder.Delete(true);

    /// <summary>Stops at the n-th question, else answers 40.</summary>
    private sealed class Hands(int stopAt = int.MaxValue) : IHandsAndEyes
    {
        public int Asked { get; private set; }

        public List<Request> All { get; } = [];

        public Reply Ask(Request request)
        {
            All.Add(request);
            return ++Asked == stopAt ? throw new StopWalkException("stopped") : new Reply(true, 40);
        }
    }

    private sealed class Plant(House house) : IWalkPlant
    {
        public Dictionary<int, double> Set { get; } = [];

        public House House => house;

        public double ElapsedS { get; private set; }

        public DateTime Utc => DateTime.UnixEpoch.AddSeconds(ElapsedS);

        public bool IsVirtual => true;

        public InputNow Input(int index) => new(20, 20, "");

        public OutputNow Output(int index) => new(Set.GetValueOrDefault(index), double.NaN, Set.ContainsKey(index), "", "");

        bool IWalkPlant.Set(int output, double value, double forS, bool below)
        {
            Set[output] = value;
            return true;
        }

        public void End(int output) => Set.Remove(output);

        public void Wait(double seconds) => ElapsedS += seconds;

        public bool Reconnect(double withinS) => true;
    }

    private static readonly Lazy<House> House = new(() => HouseFromSiteTests.Plan("one-room").Files.House);

    private CheckoutBook Book => CheckoutBook.Open(Path.Combine(folder.FullName, "book.jsonl"));

    /// <summary>Each step sets an output, asks for two numbers that are kept at once, and passes; the third fails, the fourth throws a refusal.</summary>
    private static List<CheckStep> Steps(List<string> measured) => [.. Enumerable.Range(0, Count).Select(i => new CheckStep("kind", $"step-{i}", $"step {i}", "so", context =>
    {
        context.MustSet(0, 50, 60);
        foreach (var part in new[] { "first", "second" })
        {
            context.Once(part, () =>
            {
                measured.Add($"{i} {part}");
                return context.AskNumber(Deed.Listen, "x", "how loud?", Quantity.Level);
            });
        }
        return i == 3 ? throw new SkipStepException("held") : i == 2 ? Outcome.Fail("bad", "mend it") : Outcome.Pass("good");
    }))];

    [Fact]
    public void Broken_off_at_any_question_it_goes_on_there_and_measures_nothing_twice()
    {
        for (var stopAt = 1; stopAt <= 2 * Count; stopAt++)
        {
            File.Delete(Path.Combine(folder.FullName, "book.jsonl"));
            List<string> measured = [];
            var plant = new Plant(House.Value);
            var first = new Walk(plant, new Hands(stopAt), Book, new WalkWish("A"), _ => { }).Run(Steps(measured));
            Assert.NotEqual("", first.Stopped);
            Assert.Empty(plant.Set);   // nothing stands by hand after a stop
            measured.RemoveAt(measured.Count - 1);   // the question at which it stopped was not answered
            var second = new Walk(plant, new Hands(), Book, new WalkWish("B"), _ => { }).Run(Steps(measured));
            Assert.Equal("", second.Stopped);
            Assert.Equal(Count, first.Done.Count + second.Done.Count);
            Assert.Equal(measured.Distinct(), measured);
            Assert.Equal(2 * Count, measured.Count);
            Assert.Equal(Count, Book.Current().Count);
        }
    }

    [Fact]
    public void A_failed_a_refused_and_a_skipped_step_block_no_other_and_are_done_again_only_when_asked()
    {
        List<string> measured = [];
        var plant = new Plant(House.Value);
        var outcome = new Walk(plant, new Hands(), Book, new WalkWish("A"), _ => { }).Run(Steps(measured));
        Assert.Equal((Count, 1, 1), (outcome.Done.Count, outcome.Failed, outcome.Skipped));
        Assert.Equal("held", Book.Latest("kind/step-3")!.Why);
        Assert.Equal(Count, new Walk(plant, new Hands(), Book, new WalkWish("A"), _ => { }).Run(Steps(measured)).Kept);
        Assert.Equal("kind/step-2", Assert.Single(new Walk(plant, new Hands(), Book, new WalkWish("A") { FailedAgain = true }, _ => { }).Run(Steps(measured)).Done).Id);
        Assert.Equal("kind/step-3", Assert.Single(new Walk(plant, new Hands(), Book, new WalkWish("A") { SkippedAgain = true }, _ => { }).Run(Steps(measured)).Done).Id);
        Assert.Equal(Count, new Walk(plant, new Hands(), Book, new WalkWish("A") { AllAgain = true }, _ => { }).Run(Steps(measured)).Done.Count);
    }

    [Fact]
    public void What_stands_on_a_failed_step_waits_for_it_and_what_was_held_is_let_go()
    {
        var hands = new Hands();
        var plant = new Plant(House.Value);
        CheckStep[] steps =
        [
            new("input", "a", "a", "so", context =>
            {
                context.Ask(Deed.Make, "a", "make it");
                return Outcome.Fail("nothing came", "wire it");
            }),
            new("lag", "a", "lag of a", "so", _ => Outcome.Pass("never asked")) { After = ["input/a"] },
        ];
        var outcome = new Walk(plant, hands, Book, new WalkWish("A"), _ => { }).Run(steps);
        Assert.Equal(Verdict.Skip, outcome.Done[1].Verdict);
        Assert.Contains("first put right input/a", outcome.Done[1].Why, StringComparison.Ordinal);
        Assert.Equal([Deed.Make, Deed.LetGo], hands.All.Select(request => request.Deed));
    }

    [Fact]
    public void A_caution_that_is_not_agreed_to_and_a_time_that_is_over_leave_a_step_out()
    {
        CheckStep[] steps = [new("kind", "a", "a", "so", _ => Outcome.Pass("done")) { Caution = "it is hot." }];
        var outcome = new Walk(new Plant(House.Value), new NobodyThere(), Book, new WalkWish("A"), _ => { }).Run(steps);
        Assert.Contains("it is hot", Assert.Single(outcome.Done).Why, StringComparison.Ordinal);
        CheckStep[] late = [new("kind", "b", "b", "so", context => { context.Wait(100); return Outcome.Pass("done"); }), new("kind", "c", "c", "so", _ => Outcome.Pass("done"))];
        Assert.Contains("time", new Walk(new Plant(House.Value), new NobodyThere(), Book, new WalkWish("A") { LongestS = 50 }, _ => { }).Run(late).Done[1].Why, StringComparison.Ordinal);
    }
}
