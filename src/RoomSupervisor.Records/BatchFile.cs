// A log file that is written in batches: lines wait in memory and go out together, so that a memory card sees few writes. Rolls by size, keeps a number of
// old files, begins each with what the site is set to. Must never lose a line that still fits into memory, nor glue one to a torn one, nor throw for a disk.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Records;

/// <summary>One family of files: NAME is the one being written, NAME.1 the one before, and so on.</summary>
/// <param name="path">Path of the file being written.</param>
/// <param name="fullBytes">Size at which a file is full, bytes.</param>
/// <param name="files">Files kept, the one being written included.</param>
/// <param name="head">What stands at the head of every file and is written at a start; "" for nothing. Ends with a line end.</param>
/// <param name="torn">The line that is put behind a torn one.</param>
internal sealed class BatchFile(string path, long fullBytes, int files, Func<string> head, Func<string> torn)
{
    /// <summary>Waiting bytes at which a batch is due whatever the time.</summary>
    public const int DueBytes = 128 * 1024;

    /// <summary>Most bytes that wait while the disk cannot be written; then the newest lines are dropped and counted.</summary>
    private const int MostBytes = 1024 * 1024;

    private readonly Queue<byte[]> waiting = new();
    private int waitingBytes;
    private bool isBegun;

    /// <summary>True when so much waits that it should go out now.</summary>
    public bool IsDue => waitingBytes >= DueBytes;

    public bool HasWaiting => waitingBytes > 0;

    /// <summary>Lines that fitted nowhere since start.</summary>
    public long Dropped { get; private set; }

    /// <summary>Bytes written since start.</summary>
    public long Written { get; private set; }

    /// <summary>Adds a line, without its end.</summary>
    public void Add(string line)
    {
        if (waitingBytes > MostBytes)
        {
            Dropped++;
            return;
        }
        var bytes = Encoding.UTF8.GetBytes(line + "\n");
        waiting.Enqueue(bytes);
        waitingBytes += bytes.Length;
    }

    /// <summary>Writes what waits and flushes it to the disk. What could not be written waits on.</summary>
    /// <exception cref="IOException">Full or read-only disk, missing directory.</exception>
    /// <exception cref="UnauthorizedAccessException">No permission.</exception>
    public void Spill()
    {
        while (waitingBytes > 0)
            Batch();
    }

    /// <summary>As much as the file takes before it is full; then the next one is begun.</summary>
    private void Batch()
    {
        using var file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.ReadWrite | FileShare.Delete, 0);
        var end = file.Length;
        using var batch = new MemoryStream();
        if (IsTorn(file, end))
            Put(batch, "\n" + torn() + "\n");
        if (end == 0 || !isBegun)
            Put(batch, Cut(head()));
        var taken = 0;
        foreach (var line in waiting)
        {
            if (end + batch.Length + line.Length > fullBytes && (end > 0 || taken > 0))
                break;
            batch.Write(line);
            taken++;
        }
        if (taken > 0)
            Append(file, end, batch);
        for (var i = 0; i < taken; i++)
            waitingBytes -= waiting.Dequeue().Length;
        if (waitingBytes > 0)
            Roll(file);
    }

    private void Append(FileStream file, long end, MemoryStream batch)
    {
        try
        {
            file.Seek(end, SeekOrigin.Begin);
            batch.WriteTo(file);
            file.Flush(flushToDisk: true);
        }
        catch (IOException)
        {
            TakeBack(file, end);
            throw;
        }
        isBegun = true;
        Written += batch.Length;
    }

    /// <summary>Half a batch is taken back: it is written again whole.</summary>
    private static void TakeBack(FileStream file, long end)
    {
        try
        {
            file.SetLength(end);
        }
        catch (IOException)
        {
            // What stands there is torn; the next batch sees that.
        }
    }

    private void Roll(FileStream file)
    {
        file.Dispose();
        for (var i = files - 1; i > 0; i--)
        {
            var from = i == 1 ? path : Numbered(i - 1);
            if (File.Exists(from))
                File.Move(from, Numbered(i), overwrite: true);
        }
    }

    private string Numbered(int number) => string.Create(CultureInfo.InvariantCulture, $"{path}.{number}");

    private static bool IsTorn(FileStream file, long end)
    {
        if (end == 0)
            return false;
        file.Seek(end - 1, SeekOrigin.Begin);
        return file.ReadByte() != '\n';
    }

    /// <summary>A head must not fill its file: what is longer than a quarter of it ends with a word on that.</summary>
    private string Cut(string text)
    {
        if (text.Length <= fullBytes / 4)
            return text;
        var end = text.LastIndexOf('\n', (int)(fullBytes / 4));
        return end < 0 ? "" : text[..(end + 1)];
    }

    private static void Put(MemoryStream batch, string text) => batch.Write(Encoding.UTF8.GetBytes(text));
}
