// Collects problems while the files are read, so that all are told at once, in the order of the files. Never stops a reader.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>The problems found so far.</summary>
internal sealed class Problems
{
    /// <summary>More than this helps nobody, and a hostile file must not fill the memory.</summary>
    private const int Most = 200;

    private readonly List<Problem> items = [];
    private readonly List<SourceText> sources = [];

    private readonly Dictionary<string, int> byFile = new(StringComparer.Ordinal);

    private int warnings;

    /// <summary>Units of figures in messages: the site's, once they are read.</summary>
    public UnitSystem Units { get; set; }

    /// <summary>A sentence of ours with its metric figures in the site's units.</summary>
    public string Words(string sentence) => UnitWords.In(sentence, Units);

    /// <summary>How many of them refuse the files.</summary>
    public int Errors { get; private set; }

    /// <summary>True when no more are noted, only counted: then nobody need look for hints.</summary>
    public bool IsFull => Errors >= Most;

    /// <summary>How many mistakes one file has.</summary>
    public int CountOf(string file) => byFile.GetValueOrDefault(file);

    /// <summary>The mistakes noted of one file so far.</summary>
    public IReadOnlyList<Problem> ErrorsOf(string file) => [.. items.Where(problem => problem.Severity == Severity.Error && problem.Mark.File == file)];

    /// <summary>Makes a file's lines known, in the order in which files are told.</summary>
    public void Add(SourceText source) => sources.Add(source);

    /// <summary>Notes a mistake: the files are refused.</summary>
    public void Error(Mark mark, string path, string value, string message, string allowed = "", string advice = "")
    {
        byFile[mark.File ?? ""] = CountOf(mark.File ?? "") + 1;
        if (Errors++ < Most)
            Note(new Problem(Severity.Error, mark, path, value, message, allowed, advice));
    }

    /// <summary>Notes a doubt: the files count.</summary>
    public void Warn(Mark mark, string path, string value, string message, string advice = "")
    {
        if (warnings++ < Most)
            Note(new Problem(Severity.Warning, mark, path, value, message, "", advice));
    }

    /// <summary>All of them by file, line and column.</summary>
    public IReadOnlyList<Problem> Ordered()
    {
        var ordered = items
            .OrderBy(problem => sources.FindIndex(source => source.File == problem.Mark.File))
            .ThenBy(problem => problem.Mark.Line).ThenBy(problem => problem.Mark.Column).ToList();
        if (Errors > Most && ordered.Count > 0)
        {
            var last = ordered[^1].Mark;
            ordered.Add(new Problem(Severity.Error, last, "", "", $"{Errors} mistakes in all: the others are not listed", "", "mend these first"));
        }
        return ordered;
    }

    private void Note(Problem problem)
    {
        var source = sources.Find(candidate => candidate.File == problem.Mark.File);
        items.Add(source is null ? problem : problem with { SourceLine = source.LineAt(problem.Mark.Line) });
    }
}
