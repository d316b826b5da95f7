// Files that are whole or not there, whatever happens to power: written beside, flushed, renamed over, and the directory flushed too. A
// rename alone was seen to leave files of no length. Never writes into the file itself.
using System.Runtime.InteropServices;
using System.Security;

namespace RoomSupervisor.Runtime.State;

/// <summary>Atomic writing and careful reading.</summary>
public static partial class SafeFile
{
    // Linux, the same numbers on x64 and arm64: open(2).
    private const int ReadOnly = 0, CloseOnExec = 0x80000;

    /// <summary>Largest file that is read, bytes.</summary>
    private const int Largest = 1_000_001;

    /// <summary>Writes a file whole, over whatever is there; keeps the permissions of what is there.</summary>
    /// <exception cref="IOException">Full or read-only disk, missing directory.</exception>
    /// <exception cref="UnauthorizedAccessException">No permission.</exception>
    public static void Write(string path, ReadOnlySpan<byte> bytes, bool overwrite = true)
    {
        var directory = Path.GetDirectoryName(Path.GetFullPath(path))!;
        var beside = Path.Combine(directory, $".{Path.GetFileName(path)}.{Environment.ProcessId}.new");
        try
        {
            using (var file = new FileStream(beside, FileMode.Create, FileAccess.Write))
            {
                file.Write(bytes);
                file.Flush(flushToDisk: true);
            }
            if (overwrite && !OperatingSystem.IsWindows() && File.Exists(path))
                File.SetUnixFileMode(beside, File.GetUnixFileMode(path));
            File.Move(beside, path, overwrite);
        }
        catch
        {
            TryDelete(beside);
            throw;
        }
        FlushDirectory(directory);
    }

    /// <summary>What writers that did not come to their end left beside their files in a folder: power fell, or they were killed. Another writer's that is at work now may be among them.</summary>
    public static IReadOnlyList<string> HalfWritten(string directory)
    {
        try
        {
            return Directory.Exists(directory) ? [.. Directory.GetFiles(directory, ".*.new").Where(file => WriterOf(file) is not null)] : [];
        }
        catch (Exception e) when (IsTrouble(e))
        {
            return [];
        }
    }

    /// <summary>Takes away what dead writers left in a folder: each power cut in the middle of a write leaves one more, for ten years. What a process that runs may still be writing stays.</summary>
    public static void Tidy(string directory)
    {
        foreach (var file in HalfWritten(directory))
        {
            if (WriterOf(file) is { } writer && (writer == Environment.ProcessId || !Directory.Exists($"/proc/{writer}")))
                TryDelete(file);
        }
    }

    /// <summary>Number of the process that wrote .NAME.NUMBER.new, or null: no such name.</summary>
    private static int? WriterOf(string file)
        => Path.GetFileName(file).Split('.') is { Length: > 3 } parts && int.TryParse(parts[^2], System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>Reads a file whole, at most a megabyte and a byte. Null with the reason; empty reason: there is no such file.</summary>
    public static byte[]? Read(string path, out string why)
    {
        why = "";
        try
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            var bytes = new byte[Math.Min(Largest, file.CanSeek ? file.Length + 1 : Largest)];
            var length = file.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            return bytes[..length];
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
        catch (Exception e) when (IsTrouble(e))
        {
            why = $"cannot be read: {e.Message.TrimEnd('.')}";
            return null;
        }
    }

    /// <summary>True for what a disk, a permission or a path can do to a program.</summary>
    public static bool IsTrouble(Exception e) => e is IOException or UnauthorizedAccessException or SecurityException or NotSupportedException;

    private static void TryDelete(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (IsTrouble(e))
        {
            // The disk that could not be written will not be tidied either; the next write takes the same name.
        }
    }

    private static void FlushDirectory(string directory)
    {
        var descriptor = Open(directory, ReadOnly | CloseOnExec);
        if (descriptor < 0)
            return;
        _ = Flush(descriptor);
        _ = Close(descriptor);
    }

    [LibraryImport("libc", EntryPoint = "open", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync")]
    private static partial int Flush(int descriptor);

    [LibraryImport("libc", EntryPoint = "close")]
    private static partial int Close(int descriptor);
}
