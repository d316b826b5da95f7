// A new site from another one's files: comments and wording stay, what belongs to the other house goes: hosts and unit numbers, calibration
// offsets, and what was measured in its rooms. Works on the places the reader found, so that it touches nothing else.
using System.Text.RegularExpressions;

namespace RoomSupervisor.Site;

/// <summary>The text of a site.yaml without what belongs to its house.</summary>
public static partial class NewSiteLike
{
    private const string FillIn = "# fill in";

    /// <summary>Keys that are measured in a room or at its sensors.</summary>
    private static readonly string[] Measured = ["offset", "lag"], OfRoom = ["air_capacity", "draught_fan_at_most"], OfDevice = ["unit", "port"];

    /// <summary>The text with places for the installer to fill in; line ends are plain.</summary>
    /// <param name="text">A site.yaml that the reader accepts.</param>
    /// <param name="name">Name of the new site; null: the old one with a place to fill in.</param>
    /// <exception cref="ArgumentException">The text has no structure.</exception>
    public static string Of(string text, string? name)
    {
        var source = new SourceText(SiteReader.SiteFile, text);
        var tree = TreeReader.Read(source, new Problems()) ?? throw new ArgumentException("the site's file has no structure", nameof(text));
        var lines = source.Lines.ToList();
        // From the end, so that what was found earlier still stands where it was found.
        foreach (var change in Changes(tree, name).OrderByDescending(change => change.Entry.KeyMark.Line).ThenByDescending(change => change.Entry.KeyMark.Column))
            lines[change.Entry.KeyMark.Line - 1] = Changed(lines[change.Entry.KeyMark.Line - 1], change.Entry, change.With);
        return string.Join('\n', lines);
    }

    private static IEnumerable<(Entry Entry, string? With)> Changes(MapNode tree, string? name)
    {
        if (Group(tree, "site")?.Find("name") is { } own)
            yield return (own, name is null ? ((ScalarNode)own.Value).Text : name);
        var hosts = 10;
        List<string> lines = [];
        var units = 1;
        foreach (var device in Groups(Group(tree, "devices")))
        {
            if (device.Find("host") is { } host)
                yield return (host, FormattableString.Invariant($"192.0.2.{hosts++}"));
            // On a serial line the port is a path, and units that hang on one must not become one and the same.
            var isSerial = device.Find("baud") is not null;
            foreach (var entry in device.Entries.Where(entry => OfDevice.Contains(entry.Key)))
                yield return (entry, !isSerial ? null : entry.Key == "unit" ? FormattableString.Invariant($"{units++}") : LineOf(entry, lines));
        }
        foreach (var entry in Points(tree).SelectMany(point => point.Entries).Where(entry => Measured.Contains(entry.Key)))
            yield return (entry, null);
        foreach (var room in Groups(Group(tree, "rooms")))
        {
            foreach (var entry in room.Entries.Concat(Groups(room).SelectMany(part => part.Entries)).Where(entry => OfRoom.Contains(entry.Key)))
                yield return (entry, null);
        }
        foreach (var entry in Groups(Group(tree, "coils")).SelectMany(coil => coil.Entries).Where(entry => OfRoom.Contains(entry.Key)))
            yield return (entry, null);
    }

    private static string LineOf(Entry port, List<string> lines)
    {
        var path = ((ScalarNode)port.Value).Text;
        if (!lines.Contains(path))
            lines.Add(path);
        return FormattableString.Invariant($"/dev/serial/by-id/line-{lines.IndexOf(path) + 1}");
    }

    /// <summary>Every point of every owner, wherever a group is called points.</summary>
    private static IEnumerable<MapNode> Points(MapNode map) => map.Entries.Where(entry => entry.Value is MapNode)
        .SelectMany(entry => entry.Key == "points" ? Groups((MapNode)entry.Value) : Points((MapNode)entry.Value));

    private static MapNode? Group(MapNode map, string key) => map.Find(key)?.Value as MapNode;

    private static IEnumerable<MapNode> Groups(MapNode? map) => map?.Entries.Select(entry => entry.Value).OfType<MapNode>() ?? [];

    /// <summary>A key on a line of its own is written anew or turned into a comment; one in braces is changed or taken out, and said behind.</summary>
    private static string Changed(string line, Entry entry, string? with)
    {
        var start = entry.KeyMark.Column - 1;
        var before = line[..start];
        var at = CommentAt(line);
        var comment = at >= 0 ? "   " + line[at..] : "";
        var body = at >= 0 ? line[..at].TrimEnd() : line.TrimEnd();
        var written = with is null ? "" : $"{entry.Key}: {(PlainValue().IsMatch(with) ? with : NewSiteText.Quote(with))}";
        if (before.Trim().Length == 0)
            return with is null ? $"{before}{FillIn}: {entry.Key}{(comment.Length > 0 ? " " + comment.Trim() : "")}" : $"{before}{written}   {FillIn}{(comment.Length > 0 ? ", " + comment.Trim().TrimStart('#', ' ') : "")}";
        var length = ValueEnd(body, start) - start;
        var rest = body[(start + length)..];
        var head = before;
        if (with is null && head.TrimEnd().EndsWith(','))
            head = head.TrimEnd()[..^1];
        else if (with is null)
            rest = rest.TrimStart(',', ' ');
        return $"{head}{written}{rest}{comment}   {FillIn}: {entry.Key}";
    }

    /// <summary>Where the value of a key in braces ends: at a comma or brace outside quotes.</summary>
    internal static int ValueEnd(string body, int start)
    {
        var quote = '\0';
        for (var i = start; i < body.Length; i++)
        {
            if (quote != '\0')
                quote = body[i] == quote ? '\0' : quote;
            else if (body[i] is '"' or '\'')
                quote = body[i];
            else if (body[i] is ',' or '}')
                return i;
        }
        return body.Length;
    }

    /// <summary>Where a comment begins: a # at the start or behind a space, outside quotes; −1: none.</summary>
    internal static int CommentAt(string line)
    {
        var quote = '\0';
        for (var i = 0; i < line.Length; i++)
        {
            if (quote != '\0')
                quote = line[i] == quote ? '\0' : quote;
            else if (line[i] is '"' or '\'' && (i == 0 || line[i - 1] is ' ' or '{' or ',' or ':'))
                quote = line[i];
            else if (line[i] == '#' && (i == 0 || char.IsWhiteSpace(line[i - 1])))
                return i;
        }
        return -1;
    }

    [GeneratedRegex(@"^[\p{L}\p{N}][\p{L}\p{N} .,'’-]*$")]
    private static partial Regex PlainValue();
}
