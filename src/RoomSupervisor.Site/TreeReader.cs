// From text to a tree, over the parser's events: every key has a place, duplicates and everything that is clever YAML (anchors,
// aliases, tags, merge keys, several documents) are told and refused. Never throws, never follows a reference, never nests deep.
using RoomSupervisor.Terms;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using Mark = RoomSupervisor.Terms.Mark;

namespace RoomSupervisor.Site;

/// <summary>Reads one file's tree.</summary>
internal sealed class TreeReader
{
    /// <summary>Deepest nesting; a site needs seven.</summary>
    public const int DeepestLevel = 32;

    private readonly SourceText source;
    private readonly Problems problems;
    private readonly LineChecks checks;
    private readonly Parser parser;
    private bool stopped;

    private TreeReader(SourceText source, Problems problems)
    {
        this.source = source;
        this.problems = problems;
        checks = LineChecks.Of(source, problems);
        parser = new Parser(new StringReader(checks.Text));
    }

    /// <summary>The group at the top of the file, or null when there is none to read; what is wrong is noted.</summary>
    public static MapNode? Read(SourceText source, Problems problems)
    {
        if (source.Text.Length > SourceText.LargestBytes)
        {
            problems.Error(new Mark(source.File, 1, 1), "", "", "is larger than a megabyte", "at most 1 MB", "look whether this is the right file");
            return null;
        }
        var reader = new TreeReader(source, problems);
        return reader.checks.HasTabs ? null : reader.ReadFile();
    }

    private MapNode? ReadFile()
    {
        try
        {
            return ReadDocument();
        }
        catch (YamlException e)
        {
            var (message, advice) = ParserWords.Of(e.Message);
            problems.Error(At(e.Start), "", "", message, "", advice);
            return null;
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException or IndexOutOfRangeException)
        {
            // The parser itself gave up; the last event it reported is the nearest place there is.
            problems.Error(parser.Current is { } last ? At(last.Start) : new Mark(source.File, 1, 1), "", "", "cannot be read from here on", "", "look at this line and the next: quotes, braces, colons");
            return null;
        }
    }

    private MapNode? ReadDocument()
    {
        var top = new Mark(source.File, 1, 1);
        parser.MoveNext();
        parser.MoveNext();
        if (parser.Current is not DocumentStart)
        {
            problems.Error(top, "", "", "the file is empty", "", "write it, or take the example of the documentation");
            return null;
        }
        parser.MoveNext();
        var node = ReadNode(0);
        if (stopped)
            return null;
        // Behind the node stands the end of the document; what follows it must be the end of the file.
        if (parser.MoveNext() && parser.Current is DocumentStart second)
            problems.Error(At(second.Start), "", "", "a second document begins here", "one document a file", "remove the line --- or ...");
        if (node is ScalarNode { IsEmpty: true })
            problems.Error(top, "", "", "the file is empty", "", "write it, or take the example of the documentation");
        else if (node is not (MapNode or BrokenNode))
            problems.Error(node.Mark, "", (node as ScalarNode)?.Text ?? "", "stands where keys are wanted", "", "write key: value, one a line");
        return node as MapNode;
    }

    /// <summary>Reads the node that begins at the current event and moves behind it.</summary>
    private Node ReadNode(int level)
    {
        if (parser.Current is null or StreamEnd or DocumentEnd)
        {
            var end = new Mark(source.File, source.Lines.Count, 1);
            problems.Error(end, "", "", "the file ends in the middle of a group", "", "look for a brace, bracket or quote that is not closed");
            stopped = true;
            return new BrokenNode(end);
        }
        var mark = At(parser.Current.Start);
        if (level > DeepestLevel)
        {
            problems.Error(mark, "", "", "is nested too deeply", $"at most {DeepestLevel} levels", "look whether a bracket was not closed");
            stopped = true;
            return new BrokenNode(mark);
        }
        var broken = RefuseClever(parser.Current, mark);
        Node node = parser.Current switch
        {
            MappingStart => ReadMap(mark, level),
            SequenceStart => ReadList(mark, level),
            Scalar scalar => ReadScalar(scalar, mark),
            _ => new BrokenNode(mark),
        };
        if (!stopped)
            parser.MoveNext();
        return broken ? new BrokenNode(mark) : node;
    }

    private MapNode ReadMap(Mark mark, int level)
    {
        var isFlow = parser.Current is MappingStart { Style: MappingStyle.Flow };
        var entries = new List<Entry>();
        var lines = new Dictionary<string, int>(StringComparer.Ordinal);
        var damaged = false;
        parser.MoveNext();
        while (!stopped && parser.Current is not MappingEnd)
        {
            var key = ReadNode(level + 1);
            var value = stopped ? key : ReadNode(level + 1);
            var sound = false;
            if (!stopped && key is ScalarNode scalar)
            {
                sound = KeyTraps.IsSound(scalar, value, isFlow, problems);
                if (sound && IsNew(scalar, lines))
                    entries.Add(new Entry(scalar.Text, scalar.Mark, value));
            }
            else if (!stopped && key is not BrokenNode)
            {
                problems.Error(key.Mark, "", "", "a group or a list stands where a key is wanted", "", "write key: value");
            }
            damaged |= !sound;
        }
        return new MapNode(mark, entries) { Damaged = damaged };
    }

    private bool IsNew(ScalarNode key, Dictionary<string, int> lines)
    {
        if (lines.TryAdd(key.Text, key.Mark.Line))
            return true;
        problems.Error(key.Mark, key.Text, "", $"is written twice, first in line {lines[key.Text]}", "each key once", "remove one of them");
        return false;
    }

    private ListNode ReadList(Mark mark, int level)
    {
        var items = new List<Node>();
        parser.MoveNext();
        while (!stopped && parser.Current is not SequenceEnd)
            items.Add(ReadNode(level + 1));
        return new ListNode(mark, items);
    }

    private static ScalarNode ReadScalar(Scalar scalar, Mark mark)
    {
        var quoted = scalar.Style is ScalarStyle.SingleQuoted or ScalarStyle.DoubleQuoted;
        var block = scalar.Style is ScalarStyle.Literal or ScalarStyle.Folded;
        var text = scalar.Value.Trim();
        if (!quoted && text.Length >= 2 && IsCurlyQuote(text[0]) && IsCurlyQuote(text[^1]))
        {
            text = text[1..^1].Trim();
            quoted = true;
        }
        return new ScalarNode(mark, text, quoted, block || scalar.End.Line != scalar.Start.Line);
    }

    private bool RefuseClever(ParsingEvent current, Mark mark)
    {
        var what = current switch
        {
            AnchorAlias alias => $"*{alias.Value}",
            NodeEvent { Anchor.IsEmpty: false } node => $"&{node.Anchor}",
            NodeEvent { Tag.IsEmpty: false } node => node.Tag.IsNonSpecific ? "!" : node.Tag.Value,
            _ => "",
        };
        if (what.Length > 0)
            problems.Error(mark, "", what, "is a reference or a tag of YAML", "plain keys and values", "write the value itself");
        return what.Length > 0;
    }

    private static bool IsCurlyQuote(char c) => c is '\u201C' or '\u201D' or '\u201E' or '\u201F' or '\u2018' or '\u2019' or '\u201A' or '\u00AB' or '\u00BB';

    private Mark At(in YamlDotNet.Core.Mark mark) => checks.MarkOf(source.File, mark);
}
