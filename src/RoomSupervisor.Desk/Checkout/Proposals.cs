// What a walk says site.yaml ought to say, put into the file's text when somebody asks for it: comments stay, and the strict reader must accept the result. Must never write what was not found, nor half of an exchange.
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Applies proposals.</summary>
public static class Proposals
{
    private const string ThatOf = "that of ";

    /// <summary>Every proposal of the results that count, newest last, by path.</summary>
    public static IReadOnlyDictionary<string, string> Of(IEnumerable<CheckEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        Dictionary<string, string> all = new(StringComparer.Ordinal);
        foreach (var (path, value) in entries.OrderBy(entry => entry.Utc).SelectMany(entry => entry.Proposals))
            all[path] = value;
        return all;
    }

    /// <summary>The text with the proposals in it.</summary>
    /// <param name="text">site.yaml.</param>
    /// <param name="household">household.yaml, or null.</param>
    /// <param name="proposals">Paths and values.</param>
    /// <param name="edited">The text with them.</param>
    /// <param name="done">Lines on what was written.</param>
    /// <param name="why">What stands in the way; nothing was changed.</param>
    public static bool TryApply(string text, string? household, IReadOnlyDictionary<string, string> proposals, out string edited, out IReadOnlyList<string> done, out string why)
    {
        ArgumentNullException.ThrowIfNull(proposals);
        List<string> lines = [];
        (edited, done, why) = (text, lines, "");
        foreach (var (path, value) in Plain(text, proposals, lines))
        {
            if (SitePartEdits.ValueOf(edited, path) is { } had && had == value)
                continue;
            var before = SitePartEdits.ValueOf(edited, path);
            if (!Set(ref edited, path, value, out why))
            {
                edited = text;
                return false;
            }
            lines.Add($"{path}: {value}{(before is null ? "" : $" (was {before})")}");
        }
        if (SiteReader.Read(edited, household, Drivers.All).Problems.FirstOrDefault(problem => problem.Severity == Severity.Error) is { } problem)
        {
            (edited, why) = (text, $"the file would not be accepted: {problem}");
            return false;
        }
        return true;
    }

    /// <summary>Failures whose proposals were written do not count any longer: the step is done again. An exchange must not be taken for found a second time.</summary>
    public static IReadOnlyList<string> StrikeOut(CheckoutBook book, string before, string after, string who, DateTime utc)
    {
        ArgumentNullException.ThrowIfNull(book);
        var written = book.Current().Where(entry => entry.Verdict == Verdict.Fail && entry.Proposals.Keys.Any(path => SitePartEdits.ValueOf(before, path) != SitePartEdits.ValueOf(after, path))).ToList();
        foreach (var entry in written)
            book.Add(new CheckEntry(entry.Kind, entry.Id, "", "", Verdict.Again, who, utc) { Why = "what it proposed was written into site.yaml" });
        return [.. written.Select(entry => entry.Id)];
    }

    /// <summary>An exchange becomes the values themselves; half of one is left out.</summary>
    private static IEnumerable<(string Path, string Value)> Plain(string text, IReadOnlyDictionary<string, string> proposals, List<string> lines)
    {
        foreach (var (path, value) in proposals)
        {
            if (!value.StartsWith(ThatOf, StringComparison.Ordinal))
            {
                yield return (path, value);
                continue;
            }
            var (mine, other) = (path.Split('/')[0], value[ThatOf.Length..]);
            if (!proposals.TryGetValue($"{other}/channel", out var back) || back != ThatOf + mine)
            {
                lines.Add($"{path}: not written: {other} has not been touched yet, and two points must not get one channel");
                continue;
            }
            foreach (var key in new[] { "device", "channel" })
            {
                if (SitePartEdits.ValueOf(text, $"{other}/{key}") is { } theirs)
                    yield return ($"{mine}/{key}", theirs);
            }
        }
    }

    /// <summary>A value in a group that is not there yet (sound) makes the group.</summary>
    private static bool Set(ref string text, string path, string value, out string why)
    {
        if (SitePartEdits.TrySet(text, path, value, out var edited, out why))
        {
            text = edited;
            return true;
        }
        var keys = path.Split('/');
        if (keys.Length < 3 || SitePartEdits.ValueOf(text, string.Join('/', keys[..^1])) is not null || !SitePartEdits.TrySet(text, string.Join('/', keys[..^1]), $"{{{keys[^1]}: {value}}}", out edited, out why))
            return false;
        text = edited;
        return true;
    }
}
