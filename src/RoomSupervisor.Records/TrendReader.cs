// Reads the trend file for pictures and tables, beside a controller that writes it. Must never write to it. What the controller still has in memory (at most
// ten minutes) is not in it.
using System.Globalization;
using Microsoft.Data.Sqlite;

namespace RoomSupervisor.Records;

/// <summary>One sample as it was kept.</summary>
/// <param name="Utc">Wall time.</param>
/// <param name="Value">Base unit; of a state its number in <see cref="TrendNames.States"/>; NaN where there was none.</param>
/// <param name="Cause">Name of what bound a command or spoilt a reading; "" for nothing.</param>
/// <param name="A">First figure of the cause; NaN where there is none.</param>
public readonly record struct TrendPoint(DateTime Utc, double Value, string Cause, double A)
{
    /// <summary>Second and third figure of the cause; NaN where there is none.</summary>
    public double B { get; init; } = double.NaN;

    /// <inheritdoc cref="B"/>
    public double C { get; init; } = double.NaN;

    /// <summary>Name of what would have bound a command next; "" where nothing would, or nobody kept it.</summary>
    public string Next { get; init; } = "";

    /// <summary>What that would have allowed; NaN where there is none.</summary>
    public double NextA { get; init; } = double.NaN;
}

/// <summary>An hour as it was rolled up: lowest, mean over time, highest; of a state the one that lasted longest as the mean.</summary>
public readonly record struct TrendHour(DateTime Utc, double Low, double Mean, double High);

/// <summary>A series in the file.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Unit">Unit of its values, "" for a switch or a state.</param>
/// <param name="States">Names of its states by number; empty for a figure.</param>
public sealed record TrendNames(string Name, string Unit, IReadOnlyList<string> States);

/// <summary>An event as it was kept.</summary>
public readonly record struct TrendEvent(DateTime Utc, int Id, string Name, string Priority, string Place, string Text);

/// <summary>The trend file, open for reading.</summary>
public sealed class TrendReader : IDisposable
{
    private readonly SqliteConnection connection;
    private readonly Dictionary<string, List<(long Id, TrendNames Names)>> series = new(StringComparer.Ordinal);
    private readonly Dictionary<long, string> causes = [];
    private readonly bool hasNext;

    private TrendReader(string path)
    {
        connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadOnly, Pooling = false, DefaultTimeout = 5 }.ToString());
        try
        {
            connection.Open();
            using (var rows = TrendTables.Command(connection, "SELECT id, name, unit, states FROM series ORDER BY id").ExecuteReader())
            {
                while (rows.Read())
                {
                    var names = new TrendNames(rows.GetString(1), rows.GetString(2), rows.GetString(3) is { Length: > 0 } states ? states.Split(',') : []);
                    if (!series.TryGetValue(names.Name, out var list))
                        series[names.Name] = list = [];
                    list.Add((rows.GetInt64(0), names));
                }
            }
            using var reasons = TrendTables.Command(connection, "SELECT id, name FROM cause").ExecuteReader();
            hasNext = TrendTables.HasNext(connection);
            while (reasons.Read())
                causes[reasons.GetInt64(0)] = reasons.GetString(1);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Opens the file; null with the reason.</summary>
    public static TrendReader? Open(string path, out string why)
    {
        why = "";
        if (!File.Exists(path))
        {
            why = "there is no such file yet: the controller writes it while it runs, ten minutes after its start for the first time";
            return null;
        }
        try
        {
            return new TrendReader(path);
        }
        catch (SqliteException e)
        {
            why = TrendTables.IsBroken(e) ? "it is damaged; the controller sets it aside and begins a new one" : e.Message;
            return null;
        }
    }

    /// <summary>Every series, by name; of one that has changed its unit or states the newest.</summary>
    public IReadOnlyList<TrendNames> Series => [.. series.Values.Select(list => list[^1].Names).OrderBy(names => names.Name, StringComparer.Ordinal)];

    /// <summary>The newest sample's time; null: there is none.</summary>
    public DateTime? Newest => TrendTables.Number(connection, "SELECT MAX(at) FROM sample", long.MinValue) is > long.MinValue and var at ? TrendTables.Utc(at) : null;

    /// <summary>When hours begin to be missing: the start of the first day that is not rolled up yet.</summary>
    public DateTime RolledUpTo => TrendTables.Number(connection, "SELECT day FROM rolled", 0) is var day ? TrendTables.Utc(day) : default;

    /// <summary>Samples of several series, each in order of time, with the one that held at the beginning before it.</summary>
    public IReadOnlyDictionary<string, List<TrendPoint>> Samples(IReadOnlyList<string> names, DateTime fromUtc, DateTime toUtc)
    {
        var found = names.Distinct(StringComparer.Ordinal).ToDictionary(name => name, _ => new List<TrendPoint>(), StringComparer.Ordinal);
        var wanted = Wanted(names);
        if (wanted.Count == 0)
            return found;
        using var command = TrendTables.Command(connection,
            $"SELECT at, series, value, cause, a, b, c{(hasNext ? ", next, next_a" : "")} FROM sample WHERE at>=$from AND at<$to AND series IN ({List(wanted.Keys)}) ORDER BY at, id",
            ("$from", TrendTables.Ms(fromUtc) - TrendRollUp.HoldsMs), ("$to", TrendTables.Ms(toUtc)));
        using var rows = command.ExecuteReader();
        while (rows.Read())
        {
            var (name, states) = wanted[rows.GetInt64(1)];
            var value = rows.IsDBNull(2) ? double.NaN : rows.GetDouble(2);
            var point = new TrendPoint(TrendTables.Utc(rows.GetInt64(0)), State(value, states, name), Name(rows, 3), Figure(rows, 4))
            {
                B = Figure(rows, 5),
                C = Figure(rows, 6),
                Next = hasNext ? Name(rows, 7) : "",
                NextA = hasNext ? Figure(rows, 8) : double.NaN,
            };
            var list = found[name];
            if (point.Utc <= fromUtc && list.Count > 0)
                list[^1] = point;
            else
                list.Add(point);
        }
        return found;
    }

    /// <summary>Hours of several series.</summary>
    public IReadOnlyDictionary<string, List<TrendHour>> Hours(IReadOnlyList<string> names, DateTime fromUtc, DateTime toUtc)
    {
        var found = names.Distinct(StringComparer.Ordinal).ToDictionary(name => name, _ => new List<TrendHour>(), StringComparer.Ordinal);
        foreach (var (id, (name, states)) in Wanted(names))
        {
            using var command = TrendTables.Command(connection, "SELECT hour, low, mean, high FROM hour WHERE series=$series AND hour>=$from AND hour<$to",
                ("$series", id), ("$from", TrendTables.Ms(fromUtc) / TrendTables.HourMs), ("$to", TrendTables.Ms(toUtc) / TrendTables.HourMs));
            using var rows = command.ExecuteReader();
            while (rows.Read())
                found[name].Add(new TrendHour(TrendTables.Utc(rows.GetInt64(0) * TrendTables.HourMs), rows.GetDouble(1), State(rows.GetDouble(2), states, name), rows.GetDouble(3)));
        }
        foreach (var list in found.Values)
            list.Sort((one, other) => one.Utc.CompareTo(other.Utc));
        return found;
    }

    /// <summary>Events of a time, oldest first.</summary>
    public IReadOnlyList<TrendEvent> Events(DateTime fromUtc, DateTime toUtc)
    {
        List<TrendEvent> found = [];
        using var command = TrendTables.Command(connection, "SELECT at, event, name, priority, place, text FROM event WHERE at>=$from AND at<$to ORDER BY at, id", ("$from", TrendTables.Ms(fromUtc)), ("$to", TrendTables.Ms(toUtc)));
        using var rows = command.ExecuteReader();
        while (rows.Read())
            found.Add(new TrendEvent(TrendTables.Utc(rows.GetInt64(0)), rows.GetInt32(1), rows.GetString(2), rows.GetString(3), rows.GetString(4), rows.GetString(5)));
        return found;
    }

    /// <summary>What stood, or went unseen, when the controller last wrote: worst first, then oldest.</summary>
    public IReadOnlyList<BookEntry> Book() => [.. TrendStore.ReadBook(connection).OrderByDescending(entry => entry.Priority).ThenBy(entry => entry.SinceUtc)];

    public void Dispose() => connection.Dispose();

    private string Name(SqliteDataReader row, int column) => row.IsDBNull(column) ? "" : causes.GetValueOrDefault(row.GetInt64(column), "");

    private static double Figure(SqliteDataReader row, int column) => row.IsDBNull(column) ? double.NaN : row.GetDouble(column);

    private Dictionary<long, (string Name, IReadOnlyList<string> States)> Wanted(IReadOnlyList<string> names) => names
        .Distinct(StringComparer.Ordinal)
        .SelectMany(name => series.GetValueOrDefault(name) ?? [])
        .ToDictionary(one => one.Id, one => (one.Names.Name, one.Names.States));

    /// <summary>An older program may have numbered its states otherwise: by name they are the same.</summary>
    private double State(double value, IReadOnlyList<string> states, string name)
    {
        var newest = series[name][^1].Names.States;
        if (states.Count == 0 || ReferenceEquals(states, newest) || !(value >= 0 && value < states.Count))
            return value;
        for (var i = 0; i < newest.Count; i++)
        {
            if (newest[i] == states[(int)value])
                return i;
        }
        return double.NaN;
    }

    private static string List(IEnumerable<long> ids) => string.Join(',', ids.Select(id => id.ToString(CultureInfo.InvariantCulture)));
}
