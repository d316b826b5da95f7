// A smaller copy of the trend file beside a controller that writes it: the database copies itself whole, then the copy lets go of what is older. Must never write to the original.
using Microsoft.Data.Sqlite;

namespace RoomSupervisor.Records;

/// <summary>Copying trends.</summary>
public static class TrendCopy
{
    /// <summary>Copies what is younger; hours and the book of events stay whole.</summary>
    /// <exception cref="SqliteException">The original is damaged, or the copy cannot be written.</exception>
    public static void Write(string from, string to, DateTime sinceUtc)
    {
        using var original = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = from, Mode = SqliteOpenMode.ReadOnly, Pooling = false, DefaultTimeout = 5 }.ToString());
        original.Open();
        using var copy = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = to, Pooling = false }.ToString());
        copy.Open();
        original.BackupDatabase(copy);
        TrendTables.Do(copy, "PRAGMA journal_mode=DELETE");
        // The last sample before holds for a while after: a quarter of an hour more is kept.
        var since = TrendTables.Ms(sinceUtc) - TrendRollUp.HoldsMs;
        TrendTables.Do(copy, "DELETE FROM sample WHERE at<$at", ("$at", since));
        TrendTables.Do(copy, "DELETE FROM event WHERE at<$at", ("$at", since));
        TrendTables.Do(copy, "VACUUM");
    }
}
