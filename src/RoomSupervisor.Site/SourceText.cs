// A file as text: decoded strictly, with its lines kept as written for messages. Knows nothing of YAML. Never throws on what a
// file holds.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>The text of one file.</summary>
internal sealed class SourceText
{
    /// <summary>Largest file that is read, bytes: a house's files have some ten thousand.</summary>
    public const int LargestBytes = 1_000_000;

    private readonly List<string> lines;

    public SourceText(string file, string text)
    {
        File = file;
        Text = text.Length > 0 && text[0] == '\uFEFF' ? text[1..] : text;
        lines = SplitLines(Text);
    }

    /// <summary>Name as the person knows it.</summary>
    public string File { get; }

    /// <summary>The text without a byte order mark.</summary>
    public string Text { get; }

    public IReadOnlyList<string> Lines => lines;

    /// <summary>A line as written, 1-based; empty outside the file.</summary>
    public string LineAt(int line) => line >= 1 && line <= lines.Count ? lines[line - 1] : "";

    /// <summary>Decodes a file; a file that is no UTF-8 text is told with the line where it stops being so.</summary>
    public static SourceText? Decode(string file, byte[] bytes, Problems problems)
    {
        if (bytes is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..])
        {
            problems.Error(new Mark(file, 1, 1), "", "", "is saved as UTF-16", "UTF-8 text", "save it again with the encoding UTF-8");
            return null;
        }
        try
        {
            return new SourceText(file, new UTF8Encoding(false, true).GetString(bytes));
        }
        catch (DecoderFallbackException e)
        {
            var before = bytes.AsSpan(0, Math.Clamp(e.Index, 0, bytes.Length));
            var column = before.Length - (before.LastIndexOf((byte)'\n') + 1) + 1;
            problems.Error(
                new Mark(file, before.Count((byte)'\n') + 1, column), "", "", "holds a character that is not UTF-8 (often a degree sign from an old editor)",
                "UTF-8 text", "save it again with the encoding UTF-8");
            return null;
        }
    }

    /// <summary>Lines as YAML counts them: also a lone return, next line (U+0085) and the two Unicode separators end one.</summary>
    private static List<string> SplitLines(string text)
    {
        var result = new List<string>();
        var start = 0;
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] is not ('\n' or '\r' or '\u0085' or '\u2028' or '\u2029'))
                continue;
            result.Add(text[start..i]);
            if (text[i] == '\r' && i + 1 < text.Length && text[i + 1] == '\n')
                i++;
            start = i + 1;
        }
        result.Add(text[start..]);
        return result;
    }
}
