// Makes a failing life short: the turns it does not need are taken out one by one, and it ends with the complaint. Text for people only.
using System.Text;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal static class LifeStory
{
    /// <summary>Replays at most this often: a story must not take minutes.</summary>
    private const int AtMost = 60;

    public static string Of(RandomLife life, Invariant what, uint seed)
    {
        var (at, text) = Complaint(life, what) ?? (0, "not found again");
        var shortest = life;
        var replays = 0;
        foreach (var turn in life.Turns.Reverse())
        {
            if (replays++ >= AtMost)
                break;
            var without = shortest with { Turns = [.. shortest.Turns.Where(other => other != turn)] };
            if (Complaint(without, what) is { } found)
                (shortest, at, text) = (without, found.AtS, found.Text);
        }
        var story = new StringBuilder();
        story.AppendLine(FormattableString.Invariant($"seed {seed}, scans of {life.ScanS} s, {shortest.Turns.Length} of {life.Turns.Length} turns needed: {life.House}"));
        story.AppendLine(FormattableString.Invariant($"  outdoors {life.Weather}"));
        foreach (var turn in shortest.Turns.Where(turn => turn.AtS <= at))
            story.AppendLine($"  {turn}");
        return story.AppendLine(FormattableString.Invariant($"  {at:0.#} s: {text}")).ToString();
    }

    private static (double AtS, string Text)? Complaint(RandomLife life, Invariant what)
        => LifeRun.Play(life).Complaints.First.TryGetValue(what, out var found) ? found : null;
}
