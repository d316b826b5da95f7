// Writes the trend file: one transaction a batch, roll-ups of finished days, and never more than its budget. A damaged file is set aside and a new one
// begun; a disk that cannot be written is the caller's to tell. Works on the Records thread only.
using System.Data;
using Microsoft.Data.Sqlite;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>One event as it is kept.</summary>
internal readonly record struct KeptEvent(DateTime Utc, int Id, string Name, Priority Priority, string Place, string Text);

/// <summary>The trend file, open for writing.</summary>
internal sealed class TrendStore : IDisposable
{
    /// <summary>Written pages that wait in the file beside before they are moved into the file itself, bytes.</summary>
    private const long WalBytes = 1_000_000;

    /// <summary>Pages of a new file, bytes: small ones, for a batch begins and ends in the middle of some, and each is written whole, twice.</summary>
    private const int NewPageBytes = 1024;

    private const int FrameHeadBytes = 24;

    private readonly SqliteConnection connection;
    private readonly string path;
    private readonly long budgetBytes, pageBytes;
    private readonly long[] seriesIds;
    private readonly Dictionary<Cause, long> causes = [];
    private IReadOnlyList<BookEntry> bookWritten = [new BookEntry(default, default, default, "")];
    private long run;

    /// <exception cref="SqliteException">The file is damaged, or the disk cannot be written.</exception>
    public TrendStore(string path, IReadOnlyList<TrendSeries> series, long budgetBytes)
    {
        (this.path, this.budgetBytes) = (path, budgetBytes);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Pooling = false, DefaultTimeout = 5 }.ToString());
        try
        {
            connection.Open();
            // A batch is on the card when it is told as written; pages go into the file now and then.
            TrendTables.Do(connection, $"PRAGMA page_size={NewPageBytes}; PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA wal_autocheckpoint=0; PRAGMA cache_size=-2000;");
            var id = TrendTables.Number(connection, "PRAGMA application_id", 0);
            if (id != 0 && id != TrendTables.ApplicationId)
                throw new SqliteException("not a trend file", 26);
            TrendTables.Do(connection, $"PRAGMA application_id={TrendTables.ApplicationId};");
            // A newer program that comes back after a rollback must find its own number.
            if (TrendTables.Number(connection, "PRAGMA user_version", 0) < TrendTables.Version)
                TrendTables.Do(connection, $"PRAGMA user_version={TrendTables.Version};");
            TrendTables.Do(connection, TrendTables.Schema);
            if (!TrendTables.HasNext(connection))
                TrendTables.Do(connection, "ALTER TABLE sample ADD COLUMN next INTEGER; ALTER TABLE sample ADD COLUMN next_a REAL");
            pageBytes = TrendTables.Number(connection, "PRAGMA page_size", NewPageBytes);
            seriesIds = [.. series.Select(one => IdOf("series(name, unit, states)", "name=$a AND unit=$b AND states=$c", one.Name, Quantities.BaseUnit(one.Quantity), one.States))];
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Bytes that were written since it was opened: pages beside the file, and each once more when it is moved into it. What waits beside counts when it is moved.</summary>
    public long Written { get; private set; }

    /// <summary>Begins a run. False when the one before ended without a stop.</summary>
    public bool BeginRun(DateTime utc)
    {
        var before = TrendTables.Number(connection, "SELECT ended IS NOT NULL FROM run ORDER BY id DESC LIMIT 1", 1) == 1;
        if (!before)
            Check();
        TrendTables.Do(connection, "INSERT INTO run(started, spilled) VALUES($at, $at)", ("$at", TrendTables.Ms(utc)));
        run = TrendTables.Number(connection, "SELECT MAX(id) FROM run", 0);
        return before;
    }

    /// <summary>Writes a batch whole or not at all.</summary>
    public void Write(IReadOnlyList<TrendSample> samples, IReadOnlyList<KeptEvent> events, IReadOnlyList<BookEntry> book, DateTime utc, bool isEnd)
    {
        using (var transaction = connection.BeginTransaction(IsolationLevel.Serializable, deferred: false))
        {
            Samples(samples, transaction);
            Events(events, transaction);
            Book(book, transaction);
            Execute(transaction, isEnd ? "UPDATE run SET spilled=$at, ended=$at WHERE id=$run" : "UPDATE run SET spilled=$at WHERE id=$run", ("$at", TrendTables.Ms(utc)), ("$run", run));
            transaction.Commit();
        }
    }

    /// <summary>Rolls up the days that are over and moves what waits beside the file into it.</summary>
    /// <param name="earliest">Oldest stamp of the last batch.</param>
    /// <param name="utc">Now.</param>
    /// <param name="isEnd">True at an orderly stop.</param>
    public void TidyUp(DateTime earliest, DateTime utc, bool isEnd)
    {
        TrendRollUp.Roll(connection, TrendTables.Ms(earliest), TrendTables.Ms(utc));
        var wal = new FileInfo(path + "-wal");
        if (isEnd || (wal.Exists && wal.Length > WalBytes))
            Checkpoint();
    }

    /// <summary>What an earlier run had left standing.</summary>
    public IReadOnlyList<BookEntry> ReadBook() => ReadBook(connection);

    internal static IReadOnlyList<BookEntry> ReadBook(SqliteConnection connection)
    {
        List<BookEntry> entries = [];
        using var command = TrendTables.Command(connection, "SELECT event, owner, place, priority, since, text, times, cleared, seen_by, seen FROM book");
        using var rows = command.ExecuteReader();
        while (rows.Read())
        {
            var key = new EventKey(rows.GetInt32(0), (Owner)rows.GetInt32(1), rows.GetInt32(2));
            entries.Add(new BookEntry(key, (Priority)rows.GetInt32(3), TrendTables.Utc(rows.GetInt64(4)), rows.GetString(5))
            {
                Times = rows.GetInt32(6),
                ClearedUtc = rows.IsDBNull(7) ? null : TrendTables.Utc(rows.GetInt64(7)),
                AcknowledgedBy = rows.GetString(8),
                AcknowledgedUtc = rows.IsDBNull(9) ? null : TrendTables.Utc(rows.GetInt64(9)),
            });
        }
        return entries;
    }

    /// <summary>The clock was set right after a start without one: what was stamped before is moved with it.</summary>
    public void Shift(double byS)
    {
        foreach (var table in (string[])["sample", "event"])
            TrendTables.Do(connection, $"UPDATE {table} SET at=at+$by WHERE run=$run AND at<$plausible", ("$by", (long)(byS * 1000)), ("$run", run), ("$plausible", TrendTables.Ms(TrendTables.Plausible)));
        TrendTables.Do(connection, "UPDATE run SET started=started+$by WHERE id=$run AND started<$plausible", ("$by", (long)(byS * 1000)), ("$run", run), ("$plausible", TrendTables.Ms(TrendTables.Plausible)));
    }

    /// <summary>Keeps the file within its budget: the oldest samples go first, one day after the other, then the oldest hours.</summary>
    public void Prune()
    {
        while (UsedBytes > budgetBytes)
        {
            var oldest = TrendTables.Number(connection, "SELECT MIN(at) FROM sample", long.MaxValue);
            var newest = TrendTables.Number(connection, "SELECT MAX(at) FROM sample", long.MinValue);
            var hour = TrendTables.Number(connection, "SELECT MIN(hour) FROM hour", long.MaxValue);
            if (oldest < newest - 2 * TrendTables.DayMs)
                TrendTables.Do(connection, "DELETE FROM sample WHERE at<$until; DELETE FROM event WHERE at<$until", ("$until", (oldest / TrendTables.DayMs + 1) * TrendTables.DayMs));
            else if (hour != long.MaxValue)
                TrendTables.Do(connection, "DELETE FROM hour WHERE hour<$until", ("$until", hour + 30 * 24));
            else if (oldest < newest)
                TrendTables.Do(connection, "DELETE FROM sample WHERE at<$until", ("$until", oldest + (newest - oldest) / 2));
            else
                return;
            Checkpoint();
        }
    }

    public void Dispose() => connection.Dispose();

    /// <summary>Bytes in use; pages that are free are used again before the file grows.</summary>
    private long UsedBytes => (TrendTables.Number(connection, "PRAGMA page_count", 0) - TrendTables.Number(connection, "PRAGMA freelist_count", 0)) * pageBytes;

    private void Check()
    {
        using var command = TrendTables.Command(connection, "PRAGMA quick_check(1)");
        if (command.ExecuteScalar() as string is not "ok" and var found)
            throw new SqliteException($"damaged: {found}", 11);
    }

    private void Checkpoint()
    {
        using var command = TrendTables.Command(connection, "PRAGMA wal_checkpoint(TRUNCATE)");
        var (frames, pages) = Frames();
        command.ExecuteNonQuery();
        Written += frames * (pageBytes + FrameHeadBytes) + pages * pageBytes;
    }

    /// <summary>Frames that wait beside the file, and the pages they are of: each page is moved once. A frame begins with the number of its page (SQLite's file format, "The WAL File Format").</summary>
    private (long Frames, long Pages) Frames()
    {
        const int HeaderBytes = 32;
        var frameBytes = pageBytes + FrameHeadBytes;
        var pages = new HashSet<uint>();
        var frames = 0L;
        if (!File.Exists(path + "-wal"))
            return (0, 0);
        using var wal = new FileStream(path + "-wal", FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0);
        Span<byte> number = stackalloc byte[4];
        for (long at = HeaderBytes; at + frameBytes <= wal.Length; at += frameBytes, frames++)
        {
            wal.Seek(at, SeekOrigin.Begin);
            wal.ReadExactly(number);
            pages.Add(System.Buffers.Binary.BinaryPrimitives.ReadUInt32BigEndian(number));
        }
        return (frames, pages.Count);
    }

    private void Samples(IReadOnlyList<TrendSample> samples, SqliteTransaction transaction)
    {
        using var command = TrendTables.Command(
            connection, "INSERT INTO sample(run, at, series, value, cause, a, b, c, next, next_a) VALUES($run, $at, $series, $value, $cause, $x, $y, $z, $next, $n)",
            ("$run", run), ("$at", 0L), ("$series", 0L), ("$value", null), ("$cause", null), ("$x", null), ("$y", null), ("$z", null), ("$next", null), ("$n", null));
        command.Transaction = transaction;
        var given = command.Parameters;
        foreach (var sample in samples)
        {
            var hasReason = sample.Reason.Cause != Cause.None;
            given[1].Value = TrendTables.Ms(sample.Utc);
            given[2].Value = seriesIds[sample.Series];
            given[3].Value = Real(sample.Value, true);
            given[4].Value = hasReason ? CauseId(sample.Reason.Cause) : DBNull.Value;
            given[5].Value = Real(sample.Reason.A, hasReason);
            given[6].Value = Real(sample.Reason.B, hasReason && sample.Reason.B != 0);
            given[7].Value = Real(sample.Reason.C, hasReason && sample.Reason.C != 0);
            var hasNext = sample.Next.Cause != Cause.None;
            given[8].Value = hasNext ? CauseId(sample.Next.Cause) : DBNull.Value;
            given[9].Value = Real(sample.Next.A, hasNext);
            command.ExecuteNonQuery();
        }
    }

    private void Events(IReadOnlyList<KeptEvent> events, SqliteTransaction transaction)
    {
        foreach (var one in events)
        {
            Execute(transaction, "INSERT INTO event(run, at, event, name, priority, place, text) VALUES($run, $at, $event, $name, $priority, $place, $text)",
                ("$run", run), ("$at", TrendTables.Ms(one.Utc)), ("$event", one.Id), ("$name", one.Name), ("$priority", Names.Of(one.Priority)), ("$place", one.Place), ("$text", one.Text));
        }
    }

    private void Book(IReadOnlyList<BookEntry> book, SqliteTransaction transaction)
    {
        // What has not changed is not written again: a batch touches as few pages as it can.
        if (book.Select(entry => entry with { LatestS = 0 }).SequenceEqual(bookWritten))
            return;
        bookWritten = [.. book.Select(entry => entry with { LatestS = 0 })];
        if (book.Count > 0 || TrendTables.Number(connection, "SELECT COUNT(*) FROM book", 0) > 0)
            Execute(transaction, "DELETE FROM book");
        foreach (var entry in book)
        {
            Execute(transaction, "INSERT INTO book VALUES($event, $owner, $place, $priority, $since, $text, $times, $cleared, $by, $seen)",
                ("$event", entry.Key.EventId), ("$owner", (int)entry.Key.Owner), ("$place", entry.Key.Index), ("$priority", (int)entry.Priority), ("$since", TrendTables.Ms(entry.SinceUtc)), ("$text", entry.Text),
                ("$times", entry.Times), ("$cleared", Stamp(entry.ClearedUtc)), ("$by", entry.AcknowledgedBy), ("$seen", Stamp(entry.AcknowledgedUtc)));
        }
    }

    private static long? Stamp(DateTime? utc) => utc is { } time ? TrendTables.Ms(time) : null;

    /// <summary>Two decimals are more than any sensor tells, and short in the file.</summary>
    private static object Real(double value, bool exists) => exists && double.IsFinite(value) ? Math.Round(value, 2) : DBNull.Value;

    private long CauseId(Cause cause)
    {
        if (!causes.TryGetValue(cause, out var id))
            causes[cause] = id = IdOf("cause(name)", "name=$a", CauseWords.Name(cause));
        return id;
    }

    /// <summary>The row's id; made where there is none. Numbers of causes and states may change with the program: in the file they have names.</summary>
    private long IdOf(string table, string where, params ReadOnlySpan<string> values)
    {
        (string Name, object? Value)[] given = [.. values.ToArray().Select((value, i) => ("$" + (char)('a' + i), (object?)value))];
        var name = table[..table.IndexOf('(', StringComparison.Ordinal)];
        TrendTables.Do(connection, $"INSERT OR IGNORE INTO {table} VALUES({string.Join(", ", given.Select(one => one.Name))})", given);
        return TrendTables.Number(connection, $"SELECT id FROM {name} WHERE {where}", -1, given);
    }

    private void Execute(SqliteTransaction transaction, string text, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = TrendTables.Command(connection, text, values);
        command.Transaction = transaction;
        command.ExecuteNonQuery();
    }
}
