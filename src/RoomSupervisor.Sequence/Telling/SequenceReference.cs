// The parts of shared/reference/sequence.md that are written from the code, between markers. tools/generate renews them, a test compares. Never touches what people wrote.
namespace RoomSupervisor.Sequence.Telling;

/// <summary>Generated parts of the reference.</summary>
public static class SequenceReference
{
    /// <summary>Path from the repository's root.</summary>
    public const string Path = "shared/reference/sequence.md";

    private static IEnumerable<(string Name, string Text)> Parts() =>
    [
        ("stages", StageText.Diagram() + "\n" + StageText.Table()),
    ];

    /// <summary>The file with its generated parts as they must be.</summary>
    /// <exception cref="FormatException">A part has no pair of markers in the file.</exception>
    public static string Renew(string file)
    {
        foreach (var (name, text) in Parts())
        {
            var (begin, end) = ($"<!-- {name}: written by tools/generate -->\n", $"<!-- end of {name} -->\n");
            var from = file.IndexOf(begin, StringComparison.Ordinal);
            var to = file.IndexOf(end, StringComparison.Ordinal);
            if (from < 0 || to < from)
                throw new FormatException($"{Path}: there is no '{begin.Trim()}' with '{end.Trim()}' after it");
            file = file[..(from + begin.Length)] + "\n" + text + "\n" + file[to..];
        }
        return file;
    }
}
