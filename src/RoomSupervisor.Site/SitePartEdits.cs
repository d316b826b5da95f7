// Keys of a part of site.yaml set or taken out in the file's own text: comments, order and everything else stay. A part is a point by its id, a loop, or the kind of a coil: what checkout finds out and what a replaced
// part takes with it. Works on the places the reader found. Never writes a file itself.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Edits of parts. Paths: <c>weaving-room.air.temperature/offset</c>, <c>loops/ceiling-loop/stroke</c>, <c>kind of weaving-room.coil/sound/level</c>, <c>rooms/weaving-room/coil/draught_fan_at_most</c>.</summary>
public static class SitePartEdits
{
    private const string KindOf = "kind of ";

    /// <summary>The value of a path as written; null: nobody wrote it.</summary>
    public static string? ValueOf(string text, string path) => Find(text, path, out _, out var group, out var key) && group!.Find(key)?.Value is ScalarNode scalar ? scalar.Text : null;

    /// <summary>Sets a value.</summary>
    /// <param name="text">The text of the file.</param>
    /// <param name="path">Its path.</param>
    /// <param name="value">As a person writes it.</param>
    /// <param name="edited">The text with the edit, or the same text.</param>
    /// <param name="why">What stands in the way.</param>
    public static bool TrySet(string text, string path, string value, out string edited, out string why)
    {
        edited = text;
        if (!Find(text, path, out var lines, out var group, out var key))
            return Refuse($"{path}: there is no such place in site.yaml", out why);
        why = "";
        if (group!.Find(key) is { } entry)
        {
            if (entry.Value is not ScalarNode { SeveralLines: false })
                return Refuse($"{path} holds more than one value: write it by hand", out why);
            var (line, start) = (lines[entry.Value.Mark.Line - 1], entry.Value.Mark.Column - 1);
            lines[entry.Value.Mark.Line - 1] = line[..start] + value + line[EndOf(line, entry)..];
        }
        else if (!Add(lines, group, key, value))
            return Refuse($"{path} stands where it cannot be put in: write it by hand", out why);
        edited = string.Join(text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n", lines);
        return true;
    }

    /// <summary>Takes a key out and says so in a comment; nothing where it is not written.</summary>
    /// <param name="text">The text of the file.</param>
    /// <param name="path">Its path.</param>
    /// <param name="remark">What the comment says of it, behind the key and its value.</param>
    /// <param name="edited">The text with the edit, or the same text.</param>
    public static bool TryRemove(string text, string path, string remark, out string edited)
    {
        edited = text;
        if (!Find(text, path, out var lines, out var group, out var key) || group!.Find(key) is not { Value: ScalarNode { SeveralLines: false } scalar } entry)
            return false;
        var (at, start) = (entry.KeyMark.Line - 1, entry.KeyMark.Column - 1);
        var line = lines[at];
        var said = $"{key}: {scalar.Text} {remark}";
        var (before, after) = (line[..start], line[EndOf(line, entry)..]);
        if (before.Trim().Length == 0)
            lines[at] = $"{before}# {said}{(after.Trim().Length > 0 ? "; " + after.Trim().TrimStart('#', ' ') : "")}";
        else
        {
            // In braces: its comma goes with it, the one before or the one behind.
            var head = before.TrimEnd();
            var isFirst = !head.EndsWith(',');
            lines[at] = (isFirst ? before : head[..^1]) + (isFirst ? after.TrimStart(',', ' ') : after) + (NewSiteLike.CommentAt(after) >= 0 ? "; " : "   # ") + said;
        }
        edited = string.Join(text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n", lines);
        return true;
    }

    private static int EndOf(string line, Entry entry)
    {
        var start = entry.Value.Mark.Column - 1;
        var comment = NewSiteLike.CommentAt(line);
        var body = comment >= 0 ? line[..comment].TrimEnd() : line.TrimEnd();
        // A comma inside a plain value of a line of its own belongs to it; in braces it ends it.
        return line[..(entry.KeyMark.Column - 1)].Trim().Length == 0 ? body.Length : NewSiteLike.ValueEnd(body, start);
    }

    private static bool Add(List<string> lines, MapNode group, string key, string value)
    {
        if (group.Entries.Count == 0)
            return false;
        var first = group.Entries[0];
        var line = lines[first.KeyMark.Line - 1];
        var head = line[..(first.KeyMark.Column - 1)];
        if (head.Trim().Length == 0)
        {
            lines.Insert(first.KeyMark.Line - 1, $"{head}{key}: {value}");
            return true;
        }
        if (!head.TrimEnd().EndsWith('{'))
            return false;
        // Behind the last key of the braces, where its value is a single one on the same line.
        var last = group.Entries[^1];
        if (last.KeyMark.Line != first.KeyMark.Line || last.Value is not ScalarNode { SeveralLines: false })
        {
            lines[first.KeyMark.Line - 1] = head + $"{key}: {value}, " + line[head.Length..];
            return true;
        }
        var end = EndOf(line, last);
        lines[first.KeyMark.Line - 1] = line[..end].TrimEnd() + $", {key}: {value}" + line[end..];
        return true;
    }

    private static bool Find(string text, string path, out List<string> lines, out MapNode? group, out string key)
    {
        var source = new SourceText(SiteReader.SiteFile, text);
        lines = [.. source.Lines];
        (group, key) = (null, "");
        if (TreeReader.Read(source, new Problems()) is not { } tree)
            return false;
        var keys = path.Split('/');
        key = keys[^1];
        group = keys[0].StartsWith(KindOf, StringComparison.Ordinal) ? Kind(tree, keys[0][KindOf.Length..]) : tree.Find(keys[0])?.Value as MapNode ?? Point(tree, keys[0]);
        foreach (var inner in keys[1..^1])
            group = group?.Find(inner)?.Value as MapNode;
        return group is not null;
    }

    private static MapNode? Kind(MapNode tree, string coil)
    {
        var dot = coil.LastIndexOf('.');
        if (dot < 0)
            return null;
        var owner = Group(Group(tree, "rooms"), coil[..dot]) is { } room ? Group(room, coil[(dot + 1)..]) : Group(Group(tree, "coils"), coil[..dot]);
        return (owner?.Find("kind")?.Value as ScalarNode)?.Text is { } kind ? Group(Group(tree, "kinds"), kind) : null;
    }

    private static MapNode? Point(MapNode tree, string id)
    {
        foreach (var (owner, points) in Owners(tree))
        {
            if (id.StartsWith(owner + ".", StringComparison.Ordinal) && Group(points, id[(owner.Length + 1)..]) is { } point)
                return point;
        }
        return null;
    }

    private static IEnumerable<(string Owner, MapNode Points)> Owners(MapNode tree)
    {
        foreach (var entry in tree.Entries)
        {
            if (entry.Value is not MapNode group)
                continue;
            if (Group(group, "points") is { } own)
                yield return (entry.Key, own);
            foreach (var inner in group.Entries)
            {
                if (Group(inner.Value as MapNode, "points") is { } points)
                    yield return (inner.Key, points);
            }
        }
    }

    private static MapNode? Group(MapNode? map, string key) => map?.Find(key)?.Value as MapNode;

    private static bool Refuse(string reason, out string why)
    {
        why = reason;
        return false;
    }
}
