// The log of a site: a thread that takes entries from the ring and writes them through Serilog, to the console in local time and to a
// rolling file in UTC with monotonic seconds. A log that cannot be written must never stop, slow or end the control, and must say so.
using System.Collections.Concurrent;
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog.Core;
using Serilog.Debugging;

namespace RoomSupervisor.Records;

/// <summary>Where and how the log is written.</summary>
/// <param name="Directory">Directory of the log files.</param>
/// <param name="Zone">Time zone of the site, for the console.</param>
/// <param name="BudgetBytes">All files together, bytes; the oldest go first.</param>
/// <param name="ToConsole">True to write to the console too.</param>
public sealed record LogPlace(string Directory, TimeZoneInfo Zone, long BudgetBytes = 20_000_000, bool ToConsole = true);

/// <summary>A finished line with its stamps.</summary>
internal readonly record struct LogLine(DateTime Utc, double ElapsedS, Priority Priority, string Text);

/// <summary>Writes the log until disposed. Nobody who speaks to it ever waits for a disk or a console.</summary>
public sealed class SiteLog : IDisposable
{
    /// <summary>Lines that are no events, held while the disk stands still.</summary>
    private const int MostSaid = 1000;

    /// <summary>What an event means and what to check is written again after this, s: not for every sensor of a dead device, but on every screenful of a day.</summary>
    private const double ExplainAgainAfterS = 600;

    private static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(100), Patience = TimeSpan.FromSeconds(5);

    private readonly LogRing ring;
    private readonly LogVocabulary words;
    private readonly Logger logger;
    private readonly ConsoleLines console;
    private readonly TextWriter complaints;
    private readonly ConcurrentQueue<LogLine> said = new();
    private readonly Dictionary<int, double> explained = [];
    private readonly ManualResetEventSlim stop = new();
    private readonly Thread thread;
    private long troubles;
    private long toldTroubles;
    private string lastTrouble = "";
    private (DateTime Utc, double ElapsedS) latest = (DateTime.UnixEpoch, 0);

    /// <param name="place">Where to write. A directory that cannot be made or written is said on <paramref name="complaints"/>, and the console goes on.</param>
    /// <param name="ring">Entries from the loop.</param>
    /// <param name="words">Names and events.</param>
    /// <param name="complaints">Where the log says that it cannot log, usually standard error.</param>
    public SiteLog(LogPlace place, LogRing ring, LogVocabulary words, TextWriter complaints)
    {
        this.ring = ring;
        this.words = words;
        this.complaints = complaints;
        console = new ConsoleLines(text => Say(latest.Utc, latest.ElapsedS, Priority.Warning, text));
        SelfLog.Enable(WithoutStamp);
        logger = LogFile.Build(place, console, Trouble);
        toldTroubles = troubles;   // without a directory there is no file in which to tell of a hole
        thread = new Thread(Run) { IsBackground = true, Name = "records" };
        thread.Start();
    }

    /// <summary>How often the file could not be written since start.</summary>
    public long FileTroubles => Interlocked.Read(ref troubles);

    /// <summary>A line that is no event: start, stop, what was understood. Returns at once; any thread.</summary>
    public void Say(DateTime utc, double elapsedS, Priority priority, string line)
    {
        if (said.Count < MostSaid)
            said.Enqueue(new LogLine(utc, elapsedS, priority, line));
        else
            ring.CountLost();
    }

    /// <summary>Writes what is left and closes the files; leaves a disk alone that does not come back within five seconds.</summary>
    public void Dispose()
    {
        stop.Set();
        if (thread.Join(Patience))
            stop.Dispose();
        console.Dispose();
        SelfLog.Disable();
    }

    private void Run()
    {
        while (!stop.Wait(Beat))
            Guarded(Drain);
        Guarded(Drain);
        Guarded(logger.Dispose);   // flushes, and so can fail on a full disk
    }

    private void Guarded(Action work)
    {
        try
        {
            work();
        }
#pragma warning disable CA1031 // Whatever the log stumbles over must not take the program down with it.
        catch (Exception e)
#pragma warning restore CA1031
        {
            Trouble($"{e.GetType().Name}: {e.Message}");
        }
    }

    /// <summary>Events and other lines in the order in which they happened.</summary>
    private void Drain()
    {
        while (ring.TryTake(out var entry))
        {
            while (said.TryPeek(out var line) && line.ElapsedS <= entry.ElapsedS && said.TryDequeue(out line))
                Write(line);
            Guarded(() => Write(new LogLine(entry.Utc, entry.ElapsedS, words.Events[entry.Happening.EventId].Priority, LogWords.Line(entry, words, IsExplained(entry)))));
        }
        while (said.TryDequeue(out var line))
            Write(line);
        if (ring.TakeLost() is > 0 and var lost)
            Write(new LogLine(latest.Utc, latest.ElapsedS, Priority.Warning, $"{lost} log entries were dropped: more happened than could be written"));
    }

    /// <summary>True when what such an event means was written not long ago; else it is going to be now.</summary>
    private bool IsExplained(in LogEntry entry)
    {
        var isExplained = explained.TryGetValue(entry.Happening.EventId, out var atS) && entry.ElapsedS - atS < ExplainAgainAfterS;
        if (!isExplained)
            explained[entry.Happening.EventId] = entry.ElapsedS;
        return isExplained;
    }

    private void Write(in LogLine line)
    {
        latest = (line.Utc, line.ElapsedS);
        var before = FileTroubles;
        LogFile.Write(logger, line);
        if (FileTroubles != before || before == toldTroubles)
            return;
        // It can be written again: the hole is told in the file itself, where somebody will look for what is missing.
        var missing = before - toldTroubles;
        toldTroubles = before;
        var text = string.Create(CultureInfo.InvariantCulture, $"the log could not be written {missing} time(s), lines are missing before this one: {lastTrouble}");
        lastTrouble = "";
        LogFile.Write(logger, line with { Priority = Priority.Warning, Text = text });
    }

    /// <summary>Serilog's own log begins with the time, which would make every complaint a new one.</summary>
    private void WithoutStamp(string message) => Trouble(message[(message.IndexOf(' ', StringComparison.Ordinal) + 1)..]);

    private void Trouble(string message)
    {
        Interlocked.Increment(ref troubles);
        var first = message.Split('\n')[0];
        if (first == lastTrouble)
            return;
        lastTrouble = first;
        console.Add(complaints, $"log: cannot write: {first}");
    }
}
