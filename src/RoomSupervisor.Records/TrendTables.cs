// The trend file as SQLite sees it: its tables, and small things every user of it needs. Must never be asked by the loop.
using Microsoft.Data.Sqlite;

namespace RoomSupervisor.Records;

/// <summary>Tables and helpers of the trend file.</summary>
internal static class TrendTables
{
    /// <summary>Stands in the file's head, so that a foreign file is seen (the letters "rsTr").</summary>
    public const int ApplicationId = 0x72735472;

    /// <summary>2: samples carry what would have bound next. An older program leaves that out, a newer one adds the columns.</summary>
    public const int Version = 2;

    public const long HourMs = 3_600_000, DayMs = 24 * HourMs;

    /// <summary>Before this no clock of this program was right.</summary>
    public static readonly DateTime Plausible = new(2025, 1, 1, 0, 0, 0, DateTimeKind.Utc);

    /// <summary>Rows of samples follow each other in time, so that a batch touches few pages; hours lie by series, so that a year of one is read in one piece.</summary>
    public const string Schema = """
        CREATE TABLE IF NOT EXISTS series(id INTEGER PRIMARY KEY, name TEXT NOT NULL, unit TEXT NOT NULL, states TEXT NOT NULL, UNIQUE(name, unit, states));
        CREATE TABLE IF NOT EXISTS cause(id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
        CREATE TABLE IF NOT EXISTS run(id INTEGER PRIMARY KEY, started INTEGER NOT NULL, spilled INTEGER NOT NULL, ended INTEGER);
        CREATE TABLE IF NOT EXISTS sample(id INTEGER PRIMARY KEY, run INTEGER NOT NULL, at INTEGER NOT NULL, series INTEGER NOT NULL, value REAL, cause INTEGER, a REAL, b REAL, c REAL, next INTEGER, next_a REAL);
        CREATE INDEX IF NOT EXISTS sample_at ON sample(at);
        CREATE TABLE IF NOT EXISTS hour(series INTEGER NOT NULL, hour INTEGER NOT NULL, low REAL, mean REAL, high REAL, PRIMARY KEY(series, hour)) WITHOUT ROWID;
        CREATE TABLE IF NOT EXISTS event(id INTEGER PRIMARY KEY, run INTEGER NOT NULL, at INTEGER NOT NULL, event INTEGER NOT NULL, name TEXT NOT NULL, priority TEXT NOT NULL, place TEXT NOT NULL, text TEXT NOT NULL);
        CREATE INDEX IF NOT EXISTS event_at ON event(at);
        CREATE TABLE IF NOT EXISTS book(event INTEGER, owner INTEGER, place INTEGER, priority INTEGER, since INTEGER, text TEXT, times INTEGER, cleared INTEGER, seen_by TEXT, seen INTEGER);
        CREATE TABLE IF NOT EXISTS rolled(day INTEGER NOT NULL);
        """;

    /// <summary>True for a file whose samples carry what would have bound next.</summary>
    public static bool HasNext(SqliteConnection connection) => Number(connection, "SELECT COUNT(*) FROM pragma_table_info('sample') WHERE name='next'", 0) > 0;

    public static long Ms(DateTime utc) => (utc - DateTime.UnixEpoch).Ticks / TimeSpan.TicksPerMillisecond;

    public static DateTime Utc(long ms) => DateTime.UnixEpoch.AddMilliseconds(ms);

    public static SqliteCommand Command(SqliteConnection connection, string text, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        var command = connection.CreateCommand();
#pragma warning disable CA2100 // Texts of this program; values travel as parameters.
        command.CommandText = text;
#pragma warning restore CA2100
        foreach (var (name, value) in values)
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        return command;
    }

    public static void Do(SqliteConnection connection, string text, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(connection, text, values);
        command.ExecuteNonQuery();
    }

    /// <summary>One number; <paramref name="otherwise"/> where there is none.</summary>
    public static long Number(SqliteConnection connection, string text, long otherwise, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(connection, text, values);
        return command.ExecuteScalar() is long number ? number : otherwise;
    }

    /// <summary>True for a file that is damaged or no such file at all (SQLITE_CORRUPT, SQLITE_NOTADB).</summary>
    public static bool IsBroken(SqliteException e) => e.SqliteErrorCode is 11 or 26;
}
