// The walk: one step after the other, each with its verdict in the book before the next begins. Taken up again it goes on where it was; a step that failed, was left out or broke off blocks no
// other. Must never drive anything after its end: each step ends what it set.
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>How a walk is done.</summary>
/// <param name="Who">Who does it.</param>
public sealed record WalkWish(string Who)
{
    /// <summary>Failed steps again.</summary>
    public bool FailedAgain { get; init; }

    /// <summary>Every step again.</summary>
    public bool AllAgain { get; init; }

    /// <summary>Longest time for all of it, s: what is left then is left out, with that reason.</summary>
    public double LongestS { get; init; } = double.PositiveInfinity;

    /// <summary>Skipped steps again.</summary>
    public bool SkippedAgain { get; init; }
}

/// <summary>What came of a walk.</summary>
/// <param name="Done">Steps with a verdict now.</param>
/// <param name="Kept">Steps whose result was in the book.</param>
/// <param name="Stopped">Why it ended early; "" when it went to its end.</param>
public sealed record WalkOutcome(IReadOnlyList<CheckEntry> Done, int Kept, string Stopped)
{
    /// <summary>Failed now.</summary>
    public int Failed => Done.Count(entry => entry.Verdict == Verdict.Fail);

    /// <summary>Left out now.</summary>
    public int Skipped => Done.Count(entry => entry.Verdict == Verdict.Skip);
}

/// <summary>Walks.</summary>
public sealed class Walk(IWalkPlant plant, IHandsAndEyes hands, CheckoutBook book, WalkWish wish, Action<string> say)
{
    private double beganS;

    /// <summary>Does the steps that have no result yet.</summary>
    public WalkOutcome Run(IReadOnlyList<CheckStep> steps)
    {
        ArgumentNullException.ThrowIfNull(steps);
        List<CheckEntry> done = [];
        beganS = plant.ElapsedS;
        var kept = 0;
        for (var i = 0; i < steps.Count; i++)
        {
            if (book.Latest(steps[i].Id) is { } had && !IsAgain(had))
            {
                kept++;
                continue;
            }
            say($"{i + 1} of {steps.Count}  {steps[i].Title}");
            try
            {
                var entry = One(steps[i]);
                book.Add(entry);
                done.Add(entry);
                say($"    {CheckEntry.Word(entry.Verdict)}: {entry.Found}{(entry.Found.Length > 0 && entry.Why.Length > 0 ? ": " : "")}{entry.Why}");
            }
            catch (Exception e) when (e is StopWalkException or ControlLostException)
            {
                return new WalkOutcome(done, kept, $"{steps[i].Id}: {e.Message}");
            }
        }
        return new WalkOutcome(done, kept, "");
    }

    private bool IsAgain(CheckEntry had) => wish.AllAgain || (wish.FailedAgain && had.Verdict == Verdict.Fail) || (wish.SkippedAgain && had.Verdict == Verdict.Skip);

    private CheckEntry One(CheckStep step)
    {
        var context = new StepContext(step, plant, hands, book, wish.Who, say);
        Outcome outcome;
        try
        {
            if (plant.ElapsedS - beganS > wish.LongestS)
                throw new SkipStepException("the time for all of it is over");
            if (step.After.FirstOrDefault(one => book.Latest(one)?.Verdict == Verdict.Fail) is { } first)
                throw new SkipStepException($"first put right {first}, which failed");
            if (step.Caution.Length > 0 && !context.Ask(Deed.Confirm, step.What, "caution: " + step.Caution + " Go on?").Yes)
                throw new SkipStepException("not agreed to: " + step.Caution);
            outcome = step.Do(context);
        }
        catch (SkipStepException e)
        {
            outcome = new Outcome(Verdict.Skip, "", e.Message);
        }
        catch (ControlException e)
        {
            outcome = new Outcome(Verdict.Skip, "", "the controller refused: " + e.Message);
        }
        finally
        {
            context.TidyUp();
        }
        return new CheckEntry(step.Kind, step.Id, step.Expected, outcome.Found, outcome.Verdict, wish.Who, plant.Utc) { Why = outcome.Why, Values = outcome.Values, Proposals = outcome.Proposals };
    }
}
