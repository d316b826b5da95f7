// Keys that older versions knew, and what to write instead. Told by the binder and by explain; never read.
using System.Text.RegularExpressions;

namespace RoomSupervisor.Site.Forms;

/// <summary>A key that is no longer read.</summary>
/// <param name="Path">Full path with placeholders, e.g. <c>kinds.&lt;kind&gt;.old_key</c>.</param>
/// <param name="Since">First version without it.</param>
/// <param name="Instead">What to write instead.</param>
public sealed record RetiredKey(string Path, string Since, string Instead)
{
    public string Message => $"is no longer a key since version {Since}";
}

/// <summary>The list of them.</summary>
public static class RetiredKeys
{
    public static IReadOnlyList<RetiredKey> All { get; } =
    [
        new("sequence.surface_time", "0.2.0", "write response in the panel's or slab's kind under kinds, for each kind its own"),
    ];

    /// <summary>The retired key of a full path, or null.</summary>
    public static RetiredKey? Find(string path) => All.FirstOrDefault(key => Fits(key.Path, path));

    /// <summary>True when a path is one of a pattern's: a placeholder stands for any name.</summary>
    internal static bool Fits(string pattern, string path)
    {
        var plain = string.Join("[a-z][a-z0-9-]*", Placeholder().Split(pattern).Select(part => part.Replace(".", "\\.", StringComparison.Ordinal)));
        return pattern == path || Regex.IsMatch(path, $"^{plain}$", RegexOptions.CultureInvariant);
    }

    private static Regex Placeholder() => new("<[a-z]+>", RegexOptions.CultureInvariant);
}
