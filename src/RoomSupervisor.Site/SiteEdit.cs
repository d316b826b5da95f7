// One value of site.yaml put in place of another, or a key added, with everything else as it stood: comments, spacing, order. Works on the places the reader found and reads the result again: where anything but the
// one value came out otherwise, nothing is changed. Never writes a file itself.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Edits of site.yaml.</summary>
public static class SiteEdit
{
    /// <summary>Sets a value by its path, such as <c>sequence.mixing_gain</c> or <c>loops.ceiling-loop.lag</c>; the group it lies in must exist, but for <c>sequence</c>.</summary>
    /// <param name="text">The text of the file.</param>
    /// <param name="path">Keys with dots between.</param>
    /// <param name="value">As a person writes it, with its unit; no quote, comma, brace or #.</param>
    /// <param name="remark">What is written behind a key that is added; "" for nothing.</param>
    /// <param name="edited">The text with the edit, or the same text.</param>
    /// <param name="why">What stands in the way.</param>
    public static bool TrySet(string text, string path, string value, string remark, out string edited, out string why)
    {
        edited = text;
        if (value.IndexOfAny(['"', '\'', ',', '{', '}', '[', ']', '#', '\n', '\r', ':']) >= 0)
            return Refuse($"\"{value}\" cannot be written without quotes", out why);
        if (Tree(text) is not { } tree)
            return Refuse("site.yaml has no structure that can be read: room-supervisor check tells where", out why);
        if (ValuesOf(tree).TryGetValue(path, out var had) && had == value)
        {
            why = "";
            return true;
        }
        var result = Place(text, tree, path.Split('.'), value, remark, out why);
        if (result is null)
            return false;
        if (Tree(result) is not { } after || !IsOnly(ValuesOf(tree), ValuesOf(after), path, value))
            return Refuse($"{path} stands where it cannot be put in without touching something else: write it by hand", out why);
        edited = result;
        return true;
    }

    /// <summary>The value of a path as written; null: nobody wrote it.</summary>
    public static string? ValueOf(string text, string path) => Tree(text) is { } tree && ValuesOf(tree).TryGetValue(path, out var value) ? value : null;

    private static MapNode? Tree(string text) => TreeReader.Read(new SourceText(SiteReader.SiteFile, text), new Problems());

    private static string? Place(string text, MapNode tree, string[] keys, string value, string remark, out string why)
    {
        why = "";
        var group = tree;
        for (var i = 0; i < keys.Length - 1; i++)
        {
            var entry = group.Find(keys[i]);
            if (entry?.Value is MapNode { Entries.Count: > 0 } inner)
                group = inner;
            else if (entry is null && i == 0 && keys is ["sequence", _])
                return text + (text.EndsWith('\n') ? "" : "\n") + $"\nsequence:\n  {keys[1]}: {value}{Behind(remark)}\n";
            else
            {
                why = $"there is no group {string.Join('.', keys[..(i + 1)])} to put {keys[^1]} in";
                return null;
            }
        }
        var lines = Lines(text);
        return group.Find(keys[^1]) is { } found
            ? Replaced(text, lines, found, value, out why)
            : Added(text, lines, group.Entries[0], keys[^1], value, remark);
    }

    /// <summary>The value of a key changes its letters and nothing else does.</summary>
    private static string? Replaced(string text, List<int> lines, Entry entry, string value, out string why)
    {
        why = "";
        if (entry.Value is not ScalarNode { SeveralLines: false } scalar)
        {
            why = $"{entry.Key} holds a group, a list or several lines: write it by hand";
            return null;
        }
        if (scalar.IsEmpty && !scalar.Quoted)
        {
            why = $"{entry.Key} has no value: write it by hand";
            return null;
        }
        var start = lines[scalar.Mark.Line - 1] + scalar.Mark.Column - 1;
        var length = scalar.Quoted ? text.IndexOf(text[start], start + 1) - start + 1 : scalar.Text.Length;
        return length > 0 && start + length <= text.Length ? text[..start] + value + text[(start + length)..] : null;
    }

    /// <summary>A new key stands before the first of its group: there the indentation, or the brace, is right beyond doubt.</summary>
    private static string Added(string text, List<int> lines, Entry first, string key, string value, string remark)
    {
        var line = lines[first.KeyMark.Line - 1];
        var start = line + first.KeyMark.Column - 1;
        var indent = text[line..start];
        return indent.Trim().Length == 0
            ? text[..line] + $"{indent}{key}: {value}{Behind(remark)}\n" + text[line..]
            : text[..start] + $"{key}: {value}, " + text[start..];
    }

    private static string Behind(string remark) => remark.Length == 0 ? "" : $"   # {remark}";

    /// <summary>Where each line begins.</summary>
    private static List<int> Lines(string text)
    {
        List<int> starts = [0];
        var mark = text.Length > 0 && text[0] == '\uFEFF' ? 1 : 0;
        starts[0] = mark;
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] is not ('\n' or '\r' or '\u0085' or '\u2028' or '\u2029'))
                continue;
            if (text[i] == '\r' && i + 1 < text.Length && text[i + 1] == '\n')
                i++;
            starts.Add(i + 1);
        }
        return starts;
    }

    private static Dictionary<string, string> ValuesOf(MapNode tree)
    {
        Dictionary<string, string> values = new(StringComparer.Ordinal);
        Walk(tree, "");
        return values;

        void Walk(Node node, string path)
        {
            switch (node)
            {
                case MapNode map:
                    foreach (var entry in map.Entries)
                        Walk(entry.Value, ParameterBinder.Join(path, entry.Key));
                    break;
                case ListNode list:
                    for (var i = 0; i < list.Items.Count; i++)
                        Walk(list.Items[i], FormattableString.Invariant($"{path}[{i}]"));
                    break;
                case ScalarNode scalar:
                    values[path] = scalar.Text;
                    break;
            }
        }
    }

    private static bool IsOnly(Dictionary<string, string> before, Dictionary<string, string> after, string path, string value)
        => after.TryGetValue(path, out var now) && now == value
            && after.All(one => one.Key == path || (before.TryGetValue(one.Key, out var was) && was == one.Value))
            && before.All(one => after.ContainsKey(one.Key));

    private static bool Refuse(string reason, out string why)
    {
        why = reason;
        return false;
    }
}
