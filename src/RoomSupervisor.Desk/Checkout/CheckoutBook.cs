// The book of results on disk: a line a result, each one flushed to the disk before the next step begins. Only ever added to: what was found stays found. Must never lose a line that was
// written whole, nor glue one to a torn one.
using System.Text;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>A book.</summary>
public sealed class CheckoutBook
{
    /// <summary>Folder of the books in a site's directory.</summary>
    public const string Folder = "checkout";

    private readonly List<CheckEntry> entries = [];
    private readonly List<string> problems = [];
    private bool endsOpen;

    private CheckoutBook(string path) => Path = path;

    /// <summary>Where it lies.</summary>
    public string Path { get; }

    /// <summary>All results, oldest first.</summary>
    public IReadOnlyList<CheckEntry> Entries => entries;

    /// <summary>Lines that could not be read, with file and line.</summary>
    public IReadOnlyList<string> Problems => problems;

    /// <summary>The book of a site. What was tried in the virtual house has a book of its own: nobody shall take it for the house's.</summary>
    public static string PathOf(string siteDirectory, bool isVirtual) => System.IO.Path.Combine(siteDirectory, Folder, isVirtual ? "virtual.jsonl" : "book.jsonl");

    /// <summary>Opens a book; one that is not there yet is empty.</summary>
    /// <exception cref="IOException">It is there and cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">No permission.</exception>
    public static CheckoutBook Open(string path)
    {
        var book = new CheckoutBook(path);
        if (!File.Exists(path))
            return book;
        var text = Encoding.UTF8.GetString(File.ReadAllBytes(path));
        book.endsOpen = text.Length > 0 && text[^1] != '\n';
        var number = 0;
        foreach (var line in text.Split('\n'))
        {
            number++;
            if (line.Trim().Length == 0)
                continue;
            if (CheckEntry.Read(line, out var why) is { } entry)
                book.entries.Add(entry);
            else
                book.problems.Add($"{path}:{number}: this line {why}; what it said must be done again");
        }
        return book;
    }

    /// <summary>Adds a result; it is on the disk when this returns.</summary>
    /// <exception cref="IOException">Full or read-only disk.</exception>
    /// <exception cref="UnauthorizedAccessException">No permission.</exception>
    public void Add(CheckEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var folder = System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path))!;
        Directory.CreateDirectory(folder);
        var isNew = !File.Exists(Path);
        if (isNew)
            SafeFile.Write(Path, []);   // the name is on the disk as well before anything counts on it
        using (var file = new FileStream(Path, FileMode.Append, FileAccess.Write, FileShare.Read))
        {
            file.Write(Encoding.UTF8.GetBytes((endsOpen ? "\n" : "") + entry.ToLine() + "\n"));
            file.Flush(flushToDisk: true);
        }
        endsOpen = false;
        entries.Add(entry);
    }

    /// <summary>The newest result of a step, parts not counted; null: none, or it does not count any longer.</summary>
    public CheckEntry? Latest(string id)
    {
        for (var i = entries.Count - 1; i >= 0; i--)
        {
            if (entries[i].Id == id)
                return entries[i].Verdict == Verdict.Again ? null : entries[i];
        }
        return null;
    }

    /// <summary>A part of a step that was measured since its last verdict; null: none.</summary>
    public CheckEntry? Part(string id, string part)
    {
        var name = $"{id}#{part}";
        for (var i = entries.Count - 1; i >= 0; i--)
        {
            if (entries[i].Id == name)
                return entries[i];
            if (entries[i].Id == id)
                return null;
        }
        return null;
    }

    /// <summary>The newest result of every step that counts, in the order in which steps were first done.</summary>
    public IReadOnlyList<CheckEntry> Current()
    {
        var order = entries.Where(entry => !entry.IsPart).Select(entry => entry.Id).Distinct(StringComparer.Ordinal);
        return [.. order.Select(Latest).OfType<CheckEntry>()];
    }
}
