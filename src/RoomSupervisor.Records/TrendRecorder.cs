// Trends between the loop's ring and the file: samples wait in memory, go out in batches, and stay in memory while the disk cannot be written. Works on the
// Records thread; must never throw for a damaged file, which is set aside and said.
using Microsoft.Data.Sqlite;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>Keeps trends and events of a site.</summary>
/// <param name="path">The trend file.</param>
/// <param name="ring">Samples from the loop.</param>
/// <param name="series">What is followed, in the order of <see cref="TrendSample.Series"/>.</param>
/// <param name="budgetBytes">Largest size of the file, bytes.</param>
public sealed class TrendRecorder(string path, TrendRing ring, IReadOnlyList<TrendSeries> series, long budgetBytes = 100_000_000) : IDisposable
{
    /// <summary>Name of the trend file in the directory of the logs.</summary>
    public const string FileName = "trends.db";

    private const int DueSamples = 20_000, MostSamples = 200_000, MostEvents = 20_000, PruneEvery = 36;

    private readonly List<TrendSample> samples = [];
    private readonly List<KeptEvent> events = [];
    private readonly List<(EventDefinition, string)> notices = [];
    private TrendStore? store;
    private long writtenBefore;
    private int sincePrune;
    private bool isBegun, isEnd;

    /// <summary>Samples that fitted nowhere since start.</summary>
    public long Dropped { get; private set; }

    /// <summary>True when so many samples wait that they should go out now.</summary>
    public bool IsDue => samples.Count >= DueSamples && samples.Count < MostSamples;

    /// <summary>Bytes written since start, at most.</summary>
    public long Written => writtenBefore + (store?.Written ?? 0);

    /// <summary>Opens the file; what an earlier run had left standing comes back.</summary>
    internal IReadOnlyList<BookEntry> Begin(DateTime utc)
    {
        IReadOnlyList<BookEntry> kept = [];
        Whole(() =>
        {
            Open(utc);
            kept = store!.ReadBook();
        });
        return kept;
    }

    /// <summary>Takes what the loop has put into the ring.</summary>
    internal void Drain()
    {
        while (ring.TryTake(out var sample))
        {
            if (samples.Count < MostSamples)
                samples.Add(sample);
            else
                Dropped++;
        }
        Dropped += ring.TakeLost();
    }

    /// <summary>Keeps an event beside the trends.</summary>
    internal void Event(in LogEntry entry, EventDefinition definition, string place, string text)
    {
        if (events.Count < MostEvents)
            events.Add(new KeptEvent(entry.Utc, definition.Id, definition.Name, definition.Priority, place, text));
        else
            Dropped++;
    }

    /// <summary>The clock was set. Stamps of a start without a clock are moved with it; others stay what they were.</summary>
    internal void ClockMoved(DateTime nowUtc, double byS)
    {
        if (byS <= 0 || nowUtc.AddSeconds(-byS) >= TrendTables.Plausible)
            return;
        for (var i = 0; i < samples.Count; i++)
        {
            if (samples[i].Utc < TrendTables.Plausible)
                samples[i] = samples[i] with { Utc = samples[i].Utc.AddSeconds(byS) };
        }
        for (var i = 0; i < events.Count; i++)
        {
            if (events[i].Utc < TrendTables.Plausible)
                events[i] = events[i] with { Utc = events[i].Utc.AddSeconds(byS) };
        }
        Whole(() => store?.Shift(byS));
    }

    /// <summary>The next batch is the last of an orderly stop.</summary>
    internal void MarkEnd() => isEnd = true;

    /// <summary>Writes what waits.</summary>
    /// <exception cref="SqliteException">The disk cannot be written; what waits goes on waiting.</exception>
    internal void Spill(DateTime utc, IReadOnlyList<BookEntry> book)
    {
        Whole(() =>
        {
            Open(utc);
            store!.Write(samples, events, book, utc, isEnd);
            // What is written once must not be written again when the rest fails.
            var earliest = samples.Count > 0 ? samples.Min(sample => sample.Utc) : utc;
            samples.Clear();
            events.Clear();
            store.TidyUp(earliest, utc, isEnd);
            if (sincePrune++ % PruneEvery == 0)
                store.Prune();
        });
    }

    /// <summary>What is to be told since the last call.</summary>
    internal IReadOnlyList<(EventDefinition What, string Figure)> TakeNotices()
    {
        (EventDefinition, string)[] taken = [.. notices];
        notices.Clear();
        return taken;
    }

    public void Dispose() => Close();

    private void Open(DateTime utc)
    {
        if (store is not null)
            return;
        store = new TrendStore(path, series, budgetBytes);
        if (!store.BeginRun(utc) && !isBegun)
            notices.Add((RecordsEvents.RunBrokeOff, "10 min"));
        isBegun = true;
    }

    private void Close()
    {
        writtenBefore += store?.Written ?? 0;
        store?.Dispose();
        store = null;
    }

    /// <summary>Does it; with a damaged file, sets that aside and does it again with a new one.</summary>
    private void Whole(Action work)
    {
        try
        {
            work();
        }
        catch (SqliteException e) when (TrendTables.IsBroken(e))
        {
            Close();
            SetAside();
            notices.Add((RecordsEvents.TrendsSetAside, ""));
            work();
        }
        catch (SqliteException)
        {
            // A connection that has seen the disk fail is not used again.
            Close();
            throw;
        }
    }

    /// <summary>One damaged file is kept for whoever wants to look at it, with what belongs to it.</summary>
    private void SetAside()
    {
        File.Move(path, path + ".broken", overwrite: true);
        foreach (var beside in (string[])["-wal", "-shm"])
        {
            if (File.Exists(path + beside))
                File.Move(path + beside, path + ".broken" + beside, overwrite: true);
        }
    }
}
