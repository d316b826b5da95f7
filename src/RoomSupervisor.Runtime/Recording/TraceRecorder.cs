// The trace on disk: pages from the loop become lines, lines wait compressed in memory and go out in batches, a file a day, the oldest going first where all together grow too large.
// Works on the Records thread. Each batch is a compressed piece of its own (a gzip member, RFC 1952): a power cut costs the last batch, never the file.
using System.Globalization;
using System.IO.Compression;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>The settings a house runs with, as the texts of its two files.</summary>
public readonly record struct SiteTexts(byte[] Site, byte[] Household);

/// <summary>Records a run.</summary>
/// <param name="folder">Where the files go.</param>
/// <param name="tap">The loop's side.</param>
/// <param name="zone">Time zone of the site: a day is a day there.</param>
/// <param name="texts">Texts of a house that the loop runs.</param>
/// <param name="budgetBytes">Largest size of all files together, bytes; one day may have half of it.</param>
public sealed class TraceRecorder(string folder, TraceTap tap, TimeZoneInfo zone, Func<House, SiteTexts> texts, long budgetBytes = TraceRecorder.Budget) : IRecordsGuest
{
    /// <summary>Largest size of all files together, bytes: about two weeks of six rooms.</summary>
    public const long Budget = 200_000_000;

    /// <summary>Name of the folder beside the log, and how the files end.</summary>
    public const string FolderName = "trace", Ending = ".trace.gz";

    /// <summary>Bytes that wait at most while the disk cannot be written; then the trace begins anew, and says that it has a hole.</summary>
    private const int MostWaiting = 4_000_000;

    private TraceWords? words;
    private House? house;
    private MemoryStream waiting = new();
    private GZipStream? zip;
    private string path = "";
    private int spills;
    private bool hasHole;

    public long Written { get; private set; }

    /// <summary>The files of a folder, oldest day first.</summary>
    public static IReadOnlyList<string> Files(string folder) => Directory.Exists(folder) ? [.. Directory.GetFiles(folder, "*" + Ending).Order(StringComparer.Ordinal)] : [];

    public void Drain()
    {
        while (tap.Peek() is { } page)
        {
            if (page.HasMemory)
                BeginFile(page);
            else if (!hasHole && !ReferenceEquals(page.House, house))
                Put(words!.Head(TraceHead.Of(page, texts(page.House), null)));
            house = page.House;
            if (!hasHole)
                Put(words!.Line(page));
            tap.Release();
        }
    }

    public void Spill()
    {
        zip?.Dispose();
        zip = null;
        if (waiting.Length == 0 || path.Length == 0)
            return;
        Directory.CreateDirectory(folder);
        var isNew = !File.Exists(path);
        using (var file = new FileStream(path, FileMode.Append, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete))
        {
            var end = file.Length;
            try
            {
                waiting.WriteTo(file);
                file.Flush(flushToDisk: true);
            }
            catch (IOException)
            {
                file.SetLength(end);   // half a piece would end the file for whoever reads it
                throw;
            }
        }
        Written += waiting.Length;
        waiting = new MemoryStream();
        if (isNew || spills++ % 36 == 0)
            LetGo();
    }

    public void Dispose()
    {
        try
        {
            Spill();
        }
        finally
        {
            words?.Dispose();
        }
    }

    /// <summary>A page with the whole memory: it begins a day's file, or goes on in it after a start or a hole.</summary>
    private void BeginFile(TracePage page)
    {
        var local = TimeZoneInfo.ConvertTimeFromUtc(page.Utc, zone);
        var wanted = Path.Combine(folder, local.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) + Ending);
        if (wanted != path)
        {
            // A full disk at midnight: what waits is given up rather than put into the wrong day.
            try
            {
                Spill();
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                waiting = new MemoryStream();
            }
            path = wanted;
        }
        hasHole = waiting.Length > MostWaiting || (File.Exists(path) && new FileInfo(path).Length > budgetBytes / 2);
        if (hasHole)
        {
            tap.AskForMemory();
            return;
        }
        words ??= new TraceWords(page.House);
        Put(words.Head(TraceHead.Of(page, texts(page.House), tap)));
    }

    private void Put(ReadOnlySpan<byte> line)
    {
        if (waiting.Length > MostWaiting)
        {
            // What follows cannot be replayed without this: nothing more until the whole memory is told again.
            hasHole = true;
            tap.AskForMemory();
            return;
        }
        zip ??= new GZipStream(waiting, CompressionLevel.Optimal, leaveOpen: true);
        zip.Write(line);
    }

    /// <summary>The oldest days go; the one being written stays.</summary>
    private void LetGo()
    {
        var files = Files(folder).Select(file => new FileInfo(file)).ToList();
        var sum = files.Sum(file => file.Length);
        foreach (var old in files.Where(file => file.FullName != Path.GetFullPath(path)))
        {
            if (sum <= budgetBytes)
                return;
            sum -= old.Length;
            old.Delete();
        }
    }
}
