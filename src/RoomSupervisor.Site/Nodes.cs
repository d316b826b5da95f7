// The tree of a file: groups, values and lists with their places. Pure data, made by TreeReader.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Anything that has a place in a file.</summary>
internal abstract record Node(Mark Mark);

/// <summary>A single value as written.</summary>
/// <param name="Mark">Where it starts.</param>
/// <param name="Text">Without quotes.</param>
/// <param name="Quoted">True when it stood in quotes: then it is never empty by accident.</param>
/// <param name="SeveralLines">True when it runs over more than one line.</param>
internal sealed record ScalarNode(Mark Mark, string Text, bool Quoted, bool SeveralLines) : Node(Mark)
{
    /// <summary>True for nothing, <c>~</c> and <c>null</c>.</summary>
    public bool IsEmpty => Text.Trim().Length == 0 || (!Quoted && (Text == "~" || Text.Equals("null", StringComparison.OrdinalIgnoreCase)));
}

/// <summary>One key with its value.</summary>
internal sealed record Entry(string Key, Mark KeyMark, Node Value);

/// <summary>Keys with values, in the order written, each key once.</summary>
internal sealed record MapNode(Mark Mark, IReadOnlyList<Entry> Entries) : Node(Mark)
{
    /// <summary>True when a key of it was already told as a slip: then a key that seems to be missing is probably that one.</summary>
    public bool Damaged { get; init; }

    /// <summary>The entry of a key, or null.</summary>
    public Entry? Find(string key) => Entries.FirstOrDefault(entry => entry.Key == key);

    /// <summary>Where the value of a key stands; the group itself where nobody wrote it.</summary>
    public Mark MarkOf(string key) => Find(key)?.Value.Mark ?? Mark;

    /// <summary>The same group with some of its entries.</summary>
    public MapNode Where(Func<Entry, bool> wanted) => this with { Entries = [.. Entries.Where(wanted)] };
}

/// <summary>A list; few keys take one.</summary>
internal sealed record ListNode(Mark Mark, IReadOnlyList<Node> Items) : Node(Mark);

/// <summary>Something that was already told: nobody need complain again.</summary>
internal sealed record BrokenNode(Mark Mark) : Node(Mark);
