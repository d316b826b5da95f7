// The Records thread of a site: takes entries from the loop's rings, makes lines and trends of them, tells people at once and the disk in batches: every ten
// minutes, at once after a warning, and at the end. A disk that cannot be written must never stop, slow or end the control, and it is said.
using System.Collections.Concurrent;
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog.Debugging;
using Serilog.Events;

namespace RoomSupervisor.Records;

/// <summary>Writes the log until disposed. Nobody who speaks to it ever waits for a disk or a console.</summary>
public sealed class SiteLog : IDisposable
{
    /// <summary>Lines that are no events, held while the disk stands still.</summary>
    private const int MostSaid = 1000;

    /// <summary>What an event means and what to check is written again after this, s: not for every sensor of a dead device, but on every screenful of a day.</summary>
    private const double ExplainAgainAfterS = 600;

    /// <summary>Between two batches, however many warnings come, s; and before a disk that could not be written is tried again.</summary>
    private const double LeastS = 5, AgainAfterS = 60;

    private static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(100), Patience = TimeSpan.FromSeconds(5);

    private readonly LogPlace place;
    private readonly LogRing ring;
    private readonly LogVocabulary words;
    private readonly LogParts parts;
    private readonly LogFile file;
    private readonly ConsoleLines console;
    private readonly TextWriter complaints;
    private readonly ConcurrentQueue<LogLine> said = new();
    private readonly Dictionary<int, double> explained = [];
    private readonly Lock bookLock = new();
    private readonly AlarmBook book;
    private readonly DayCount day = new();
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private readonly Thread? thread;
    private readonly ClockWatch clockWatch = new();
    private readonly StatusPace pace = new();
    private long troubles, spills, holes, toldHoles, toldDropped;
    private string lastTrouble = "", lastHole = "";
    private (DateTime Utc, double ElapsedS) latest = (DateTime.UnixEpoch, 0);
    private double spilledS = double.NegativeInfinity, failedSinceS = double.NaN, againAtS = double.NegativeInfinity;
    private bool isUrgent;
    private volatile bool isAsked;

    /// <param name="place">Where to write. A directory that cannot be made or written is said on <paramref name="complaints"/>, and the console goes on.</param>
    /// <param name="ring">Entries from the loop.</param>
    /// <param name="words">Names and events.</param>
    /// <param name="complaints">Where the log says that it cannot log, usually standard error.</param>
    /// <param name="parts">What it has beside its lines; null: nothing.</param>
    /// <param name="hasThread">False for whoever calls <see cref="Turn"/> himself, in virtual time.</param>
    public SiteLog(LogPlace place, LogRing ring, LogVocabulary words, TextWriter complaints, LogParts? parts = null, bool hasThread = true)
    {
        (this.place, this.ring, this.words, this.complaints, this.parts) = (place, ring, words, complaints, parts ?? new LogParts());
        book = new AlarmBook(words.Events);
        console = new ConsoleLines(text => Say(latest.Utc, latest.ElapsedS, Priority.Warning, text));
        SelfLog.Enable(WithoutStamp);
        file = new LogFile(place, console, this.parts.Head);
        Guarded(file.Begin);
        if (!hasThread)
            return;
        thread = new Thread(Run) { IsBackground = true, Name = "records" };
        thread.Start();
    }

    /// <summary>How often a file could not be written since start.</summary>
    public long FileTroubles => Interlocked.Read(ref troubles);

    /// <summary>Batches written, or tried, since start; any thread.</summary>
    public long Spills => Interlocked.Read(ref spills);

    /// <summary>Bytes written to the disk within the last 24 h, log and trends.</summary>
    public long BytesLastDay => day.Sum;

    /// <summary>Bytes written to the disk since start, everything; for the thread that turns it.</summary>
    public long BytesWritten => file.Written + (parts.Trends?.Written ?? 0) + parts.Guests.Sum(guest => guest.Written) + parts.AlsoWritten();

    /// <summary>What stands, or went and was not acknowledged; worst first. Any thread.</summary>
    public IReadOnlyList<BookEntry> Open => Booked(all => all.Open);

    /// <summary>A line that is no event: start, stop, what was understood. Returns at once; any thread.</summary>
    public void Say(DateTime utc, double elapsedS, Priority priority, string line)
    {
        if (said.Count < MostSaid)
            said.Enqueue(new LogLine(utc, elapsedS, priority, line));
        else
            ring.CountLost();
    }

    /// <summary>Has what waits in memory written soon: somebody is going to read it. Any thread.</summary>
    public void AskToSpill() => isAsked = true;

    /// <summary>Asks or tells the book of events something; any thread.</summary>
    public T Booked<T>(Func<AlarmBook, T> what)
    {
        lock (bookLock)
            return what(book);
    }

    /// <summary>Writes what is left and closes the files; leaves a disk alone that does not come back within five seconds.</summary>
    public void Dispose()
    {
        stop.Set();
        if (thread is null)
            End();
        if (thread?.Join(Patience) ?? true)
            stop.Dispose();
        console.Dispose();
        SelfLog.Disable();
    }

    /// <summary>One turn of the Records thread.</summary>
    public void Turn()
    {
        Guarded(Drain);
        parts.Each(guest => guest.Drain(), Guarded);
        var now = Now();
        Guarded(() => Look(now));
        var isDue = isAsked || file.IsDue || (parts.Trends?.IsDue ?? false) || (isUrgent && now.ElapsedS - spilledS >= LeastS) || now.ElapsedS - spilledS >= place.SpillEveryS;
        if (isDue && (isAsked || now.ElapsedS >= againAtS))
            Spill(now);
    }

    /// <summary>The clocks; where they break, the stamps of what came last: the log must still tell of it.</summary>
    private (DateTime Utc, double ElapsedS) Now()
    {
        try
        {
            return parts.Clock?.Invoke() ?? latest;
        }
#pragma warning disable CA1031 // Whatever a clock throws must not take the program down with the log.
        catch (Exception)
#pragma warning restore CA1031
        {
            return latest;
        }
    }

    private void Run()
    {
        Guarded(TakeUp);
        while (!stop.Wait(Beat))
            Turn();
        End();
    }

    /// <summary>What the run before had left standing. On this thread: nobody waits for a large file to be looked through.</summary>
    public void TakeUp()
    {
        if (parts.Trends is not { } trends)
            return;
        var now = Now();
        var kept = trends.Begin(now.Utc);
        Booked(all =>
        {
            all.TakeUp(kept);
            return true;
        });
        TellTrends(now);
    }

    private void End()
    {
        Guarded(Drain);
        parts.Each(guest => guest.Drain(), Guarded);
        Guarded(() => parts.Trends?.MarkEnd());
        Spill(Now());
        Guarded(() => parts.Trends?.Dispose());
        parts.Each(guest => guest.Dispose(), Guarded);
        Guarded(file.Dispose);
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
            Entry(entry);
        }
        while (said.TryDequeue(out var line))
            Write(line);
        parts.Trends?.Drain();
        if (ring.TakeLost() is > 0 and var lost)
            Tell(RecordsEvents.EntriesDropped, Quantities.Show(lost, Quantity.Number, words.Units), latest);
    }

    private void Entry(in LogEntry entry)
    {
        try
        {
            if (entry.IsStatus)
                Write(new LogLine(entry.Utc, entry.ElapsedS, Priority.Note, LogWords.StatusLine(entry, words), LogFile.StatusFacts(pace.IsNews(entry))));
            else
                Happened(entry);
        }
#pragma warning disable CA1031 // One entry that cannot be put into words is told as a hole; the rest goes on.
        catch (Exception e)
#pragma warning restore CA1031
        {
            holes++;
            Trouble(lastHole = $"{e.GetType().Name}: {e.Message}");
        }
    }

    private void Happened(in LogEntry entry)
    {
        Notices(entry.Utc, entry.ElapsedS);
        var definition = words.Events[entry.Happening.EventId];
        var (where, sentence) = (words.NameOf(entry.Happening.Owner, entry.Happening.Index), LogWords.Sentence(entry, words));
        var copy = entry;
        var telling = Booked(all => all.Take(copy.Happening, copy.Utc, copy.ElapsedS, () => sentence));
        parts.Trends?.Event(entry, definition, where, sentence);
        if (telling == Telling.Count)
            return;
        if (definition.Priority >= Priority.Alarm)
            parts.Alarmed?.Invoke(entry.Utc, definition, where, sentence);
        var text = LogWords.Line(entry, where, sentence, words, IsExplained(entry)) + (telling == Telling.Tell ? "" : $" | {(telling == Telling.TellLast ? RecordsEvents.Chatters : RecordsEvents.KeepsComing).Text}");
        Write(new LogLine(entry.Utc, entry.ElapsedS, definition.Priority, text, LogWords.Facts(entry, words)));
    }

    /// <summary>What ended by time: chattering, shelves.</summary>
    private void Notices(DateTime utc, double nowS)
    {
        foreach (var notice in Booked(all => all.Turn(utc, nowS)))
        {
            var about = words.Events[notice.Key.EventId];
            Write(new LogLine(utc, nowS, notice.What.Priority, $"{words.NameOf(notice.Key.Owner, notice.Key.Index)}: {about.Name} {notice.Text}"));
        }
    }

    /// <summary>True when what such an event means was written not long ago; else it is going to be now.</summary>
    private bool IsExplained(in LogEntry entry)
    {
        var isExplained = explained.TryGetValue(entry.Happening.EventId, out var atS) && entry.ElapsedS - atS < ExplainAgainAfterS;
        if (!isExplained)
            explained[entry.Happening.EventId] = entry.ElapsedS;
        return isExplained;
    }

    private void Look((DateTime Utc, double ElapsedS) now)
    {
        Notices(now.Utc, now.ElapsedS);
        if (parts.Clock is null || !clockWatch.Moved(now.Utc, now.ElapsedS, out var byS))
            return;
        parts.Trends?.ClockMoved(now.Utc, byS);
        Tell(RecordsEvents.ClockSet, (byS < 0 ? "-" : "+") + Quantities.Show(Math.Abs(byS), Quantity.Duration, words.Units), now);
    }

    private void Write(in LogLine line)
    {
        latest = (line.Utc, line.ElapsedS);
        isUrgent |= line.Priority >= Priority.Warning;
        file.Write(line);
        if (holes == toldHoles)
            return;
        var text = string.Create(CultureInfo.InvariantCulture, $"the log could not be written {holes - toldHoles} time(s), lines are missing before this one: {lastHole}");
        toldHoles = holes;
        file.Write(line with { Priority = Priority.Warning, Text = text, Facts = null });
    }

    /// <summary>An event of the records themselves.</summary>
    private void Tell(EventDefinition what, string figure, (DateTime Utc, double ElapsedS) now)
    {
        var sentence = what.Text.Replace("{A}", figure, StringComparison.Ordinal);
        Write(new LogLine(now.Utc, now.ElapsedS, what.Priority, what.Priority < Priority.Warning ? sentence : $"{sentence} | means: {what.Meaning} | check: {what.Check}",
            [new LogEventProperty("Event", new ScalarValue(what.Id)), new LogEventProperty("Name", new ScalarValue(what.Name))]));
    }

    private void TellTrends((DateTime Utc, double ElapsedS) now)
    {
        foreach (var (what, figure) in parts.Trends?.TakeNotices() ?? [])
            Tell(what, figure, now);
    }

    private void Spill((DateTime Utc, double ElapsedS) now)
    {
        (spilledS, isUrgent, isAsked) = (now.ElapsedS, false, false);
        var before = FileTroubles;
        Guarded(file.Spill);
        parts.Each(guest => guest.Spill(), Guarded);
        Guarded(() => parts.Trends?.Spill(now.Utc, Booked(all => all.Kept)));
        day.Set(now.ElapsedS, BytesWritten);
        TellTrends(now);
        Interlocked.Increment(ref spills);
        if (FileTroubles != before)
        {
            (failedSinceS, againAtS) = (double.IsNaN(failedSinceS) ? now.ElapsedS : failedSinceS, now.ElapsedS + AgainAfterS);
            return;
        }
        lastTrouble = "";
        if (double.IsNaN(failedSinceS))
            return;
        Tell(RecordsEvents.LogNotWritten, Quantities.Show(now.ElapsedS - failedSinceS, Quantity.Duration, words.Units), now);
        var dropped = file.Dropped + (parts.Trends?.Dropped ?? 0);
        if (dropped > toldDropped)
            Write(new LogLine(now.Utc, now.ElapsedS, Priority.Warning, string.Create(CultureInfo.InvariantCulture, $"{dropped - toldDropped} lines and samples no longer fitted into memory meanwhile: they are missing")));
        (failedSinceS, toldDropped) = (double.NaN, dropped);
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
