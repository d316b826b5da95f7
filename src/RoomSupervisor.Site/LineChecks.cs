// Looks at a file line by line before YAML does, for slips of typing that YAML would misread or answer with a riddle: tabs, no
// space after a colon, an equals sign, no-break spaces. Repairs what is plain so that the rest can still be checked.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>The text to hand to the parser, and where lines were made longer.</summary>
internal sealed class LineChecks
{
    private readonly Dictionary<int, int> inserted = [];

    private LineChecks(string text, bool hasTabs)
    {
        Text = text;
        HasTabs = hasTabs;
    }

    /// <summary>Text for the parser.</summary>
    public string Text { get; private set; }

    /// <summary>True when the structure cannot be trusted.</summary>
    public bool HasTabs { get; private set; }

    /// <summary>A place in the parser's text as a place in the file.</summary>
    public Mark MarkOf(string file, in YamlDotNet.Core.Mark mark)
    {
        var line = (int)Math.Max(1, mark.Line);
        var column = (int)Math.Max(1, mark.Column);
        return new Mark(file, line, inserted.TryGetValue(line, out var at) && column > at ? column - 1 : column);
    }

    public static LineChecks Of(SourceText source, Problems problems)
    {
        var checks = new LineChecks("", false);
        var text = new StringBuilder(source.Text.Length + 16);
        for (var i = 0; i < source.Lines.Count; i++)
            text.Append(checks.Line(source.Lines[i], new Mark(source.File, i + 1, 1), problems)).Append('\n');
        checks.Text = text.ToString();
        return checks;
    }

    private string Line(string written, Mark mark, Problems problems)
    {
        var line = PlainSpaces(written);
        var tab = line.IndexOf('\t', StringComparison.Ordinal);
        if (tab >= 0 && tab < CommentStart(line))
        {
            HasTabs = true;
            problems.Error(mark with { Column = tab + 1 }, "", "", "a tab stands here", "spaces", "replace it by spaces (two a level)");
            return line;
        }
        var start = line.Length - line.TrimStart(' ').Length;
        var end = start;
        while (end < line.Length && (char.IsAsciiLetterOrDigit(line[end]) || line[end] is '_' or '-' or '.'))
            end++;
        if (end == start || !char.IsAsciiLetter(line[start]) || end >= line.Length)
            return line;
        return line[end] == ':' ? Colon(line, start, end, mark, problems) : EqualsSign(line, start, end, mark, problems);
    }

    private string Colon(string line, int start, int end, Mark mark, Problems problems)
    {
        if (end + 1 >= line.Length || line[end + 1] is ' ' or ':' or '/')
            return line;
        var key = line[start..end];
        problems.Error(
            mark with { Column = end + 1 }, key, "", "no space after the colon", "",
            $"write {key}: {line[(end + 1)..Math.Max(end + 1, CommentStart(line))].Trim()}");
        inserted[mark.Line] = end + 1;
        return line.Insert(end + 1, " ");
    }

    private static string EqualsSign(string line, int start, int end, Mark mark, Problems problems)
    {
        var sign = end;
        while (sign < line.Length && line[sign] == ' ')
            sign++;
        if (sign + 1 >= line.Length || line[sign] != '=' || line[sign + 1] is not ' ')
            return line;
        var key = line[start..end];
        problems.Error(
            mark with { Column = sign + 1 }, key, "", "an equals sign stands here", "a colon and a space", $"write {key}: {line[(sign + 1)..CommentStart(line)].Trim()}");
        return line[..sign] + ":" + line[(sign + 1)..];
    }

    /// <summary>Word processors and phones put spaces that look the same and are not; YAML sees a letter in them.</summary>
    private static string PlainSpaces(string line)
        => line.Replace('\u00A0', ' ').Replace('\u202F', ' ').Replace('\u2007', ' ').Replace('\u2009', ' ').Replace('\u3000', ' ');

    private static int CommentStart(string line)
    {
        var quote = '\0';
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (quote != '\0')
                quote = c == quote ? '\0' : quote;
            else if (c is '"' or '\'' && (i == 0 || line[i - 1] is ' ' or '{' or '[' or ',' or ':'))
                quote = c;
            else if (c == '#' && (i == 0 || line[i - 1] is ' ' or '\t'))
                return i;
        }
        return line.Length;
    }
}
