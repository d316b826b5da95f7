// The two questions every reader of named groups asks: is the name sound, and does a group stand behind it? Asked here, told once.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class GroupReader
{
    /// <summary>The group behind a name, or null with the problem told.</summary>
    /// <param name="problems">Where problems go.</param>
    /// <param name="entry">Name and what stands behind it.</param>
    /// <param name="path">Path of the key.</param>
    /// <param name="example">What a group would look like.</param>
    public static MapNode? Named(Problems problems, Entry entry, string path, string example)
    {
        if (NameRules.Fault(entry.Key) is { } fault)
            problems.Error(entry.KeyMark, path, entry.Key, fault);
        else
            return Group(problems, entry, path, example);
        return null;
    }

    /// <summary>The group behind a key, or null with the problem told.</summary>
    public static MapNode? Group(Problems problems, Entry entry, string path, string example)
    {
        if (entry.Value is MapNode group)
            return group;
        if (entry.Value is not BrokenNode)
            problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", example, "write its keys one a line below it, two spaces further in");
        return null;
    }

    /// <summary>Words of a list, or of one value; null with the problem told.</summary>
    public static IReadOnlyList<ScalarNode>? Words(Problems problems, Node node, string path, string allowed)
    {
        if (node is ScalarNode { IsEmpty: false } one)
            return [one];
        if (node is ListNode { Items.Count: > 0 } list && list.Items.All(item => item is ScalarNode { IsEmpty: false }))
            return [.. list.Items.Cast<ScalarNode>()];
        if (node is not BrokenNode)
            problems.Error(node.Mark, path, "", "is no list of names", allowed, "write [first, second]");
        return null;
    }
}
