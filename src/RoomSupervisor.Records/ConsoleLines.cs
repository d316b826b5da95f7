// Lines for people, written by a thread of their own. A console that stands still (a paused terminal, a reader that does not read) or is
// full (a redirection onto a full disk) must hold up neither the log file nor the control, and must never end the program.
using System.Collections.Concurrent;
using System.Globalization;

namespace RoomSupervisor.Records;

/// <summary>A bounded queue to console and error stream. Adding never blocks; what does not fit is counted and told when there is room again.</summary>
internal sealed class ConsoleLines : IDisposable
{
    /// <summary>Lines held while the console stands still.</summary>
    private const int Longest = 1000;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    private readonly BlockingCollection<(TextWriter Writer, string? Line)> lines = new(Longest);
    private readonly Action<string> trouble;
    private readonly Thread thread;
    private long lost;
    private bool hasFailed;

    /// <param name="trouble">Told once when a line could not be written.</param>
    public ConsoleLines(Action<string> trouble)
    {
        this.trouble = trouble;
        thread = new Thread(Run) { IsBackground = true, Name = "console" };
        thread.Start();
    }

    /// <summary>Adds a line; drops and counts it when the console is too far behind.</summary>
    public void Add(TextWriter writer, string line)
    {
        if (!lines.TryAdd((writer, line)))
            Interlocked.Increment(ref lost);
    }

    /// <summary>Writes what is left, for at most a second; a console that still stands is left alone.</summary>
    public void Dispose()
    {
        if (lines.TryAdd((TextWriter.Null, null)) && thread.Join(Patience))
            lines.Dispose();
    }

    private void Run()
    {
        foreach (var (writer, line) in lines.GetConsumingEnumerable())
        {
            if (line is null)
                return;
            Write(writer, line);
            if (Interlocked.Exchange(ref lost, 0) is > 0 and var dropped)
                Write(writer, string.Create(CultureInfo.InvariantCulture, $"… {dropped} lines were not shown here while the console stood still; the log file has them"));
        }
    }

    private void Write(TextWriter writer, string line)
    {
        try
        {
            writer.WriteLine(line);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ObjectDisposedException)
        {
            if (!hasFailed)
                trouble($"console cannot be written: {e.Message}");
            hasFailed = true;
        }
    }
}
