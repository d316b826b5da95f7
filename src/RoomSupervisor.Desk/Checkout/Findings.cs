// What a walk found wrong, in sentences that name it: failures that belong together become one. Must never leave a failure out.
using RoomSupervisor.Desk.Checkout.Steps;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Findings of a book.</summary>
public static class Findings
{
    private const string Moved = " moved";

    /// <summary>One sentence for each thing that is wrong, in the order in which it was found.</summary>
    public static IReadOnlyList<string> Of(IReadOnlyList<CheckEntry> current)
    {
        ArgumentNullException.ThrowIfNull(current);
        List<string> found = [];
        HashSet<string> told = new(StringComparer.Ordinal);
        foreach (var entry in current.Where(entry => entry.Verdict == Verdict.Fail))
        {
            if (!told.Add(entry.Id))
                continue;
            if (Other(entry) is { } other)
            {
                var (mine, back) = (Point(entry), current.FirstOrDefault(one => one.Id == $"{InputSteps.Kind}/{other}"));
                var isBoth = back is { Verdict: Verdict.Fail } && Other(back) == mine;
                if (isBoth)
                    told.Add(back!.Id);
                found.Add(isBoth ? $"{mine} and {other} are exchanged: their wires or channels" : $"what ought to be {mine} is read as {other}");
                continue;
            }
            found.Add($"{entry.Id}: {entry.Found}{(entry.Why.Length > 0 ? $": {entry.Why}" : "")}");
        }
        return found;
    }

    private static string Point(CheckEntry entry) => entry.Id[(InputSteps.Kind.Length + 1)..];

    private static string? Other(CheckEntry entry)
        => entry.Kind == InputSteps.Kind && entry.Found.EndsWith(Moved, StringComparison.Ordinal) && entry.Found[..^Moved.Length] is var id && id.Contains('.', StringComparison.Ordinal) && !id.Contains(' ', StringComparison.Ordinal) ? id : null;
}
