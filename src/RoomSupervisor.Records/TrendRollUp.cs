// Hours out of samples, a finished day at a time: what is kept of a year. A value holds until its next sample, so a mean is one over time. Must never run
// into a day that still goes on.
using Microsoft.Data.Sqlite;

namespace RoomSupervisor.Records;

/// <summary>Roll-ups of the trend file.</summary>
internal static class TrendRollUp
{
    /// <summary>A value that has had no sample for longer than this is not known, ms: the loop writes one at least every 15 min.</summary>
    public const long HoldsMs = 16 * 60_000;

    /// <summary>Rolls up the days that are over. A batch with older stamps (the clock went back) has its days rolled up again.</summary>
    public static void Roll(SqliteConnection connection, long earliestMs, long nowMs)
    {
        var rolled = TrendTables.Number(connection, "SELECT day FROM rolled", long.MinValue);
        var today = Floor(nowMs);
        var from = rolled == long.MinValue ? Floor(TrendTables.Number(connection, "SELECT MIN(at) FROM sample", nowMs)) : rolled;
        from = Math.Min(from, Floor(earliestMs));
        if (from >= today && rolled != long.MinValue)
            return;
        using var transaction = connection.BeginTransaction();
        for (var day = from; day < today; day += TrendTables.DayMs)
        {
            // Days without samples are passed over at once: a clock that began in 1970 has thousands.
            day = Floor(TrendTables.Number(connection, "SELECT MIN(at) FROM sample WHERE at>=$day", today, ("$day", day)));
            if (day < today)
                Day(connection, transaction, day);
        }
        TrendTables.Do(connection, "DELETE FROM rolled");
        TrendTables.Do(connection, "INSERT INTO rolled VALUES($day)", ("$day", Math.Max(from, today)));
        transaction.Commit();
    }

    private static long Floor(long ms) => ms - (ms % TrendTables.DayMs + TrendTables.DayMs) % TrendTables.DayMs;

    private static void Day(SqliteConnection connection, SqliteTransaction transaction, long day)
    {
        var series = new Dictionary<long, List<(long At, double Value)>>();
        var states = new HashSet<long>();
        using (var rows = TrendTables.Command(connection,
            "SELECT s.series, s.at, s.value, n.states<>'' FROM sample s JOIN series n ON n.id=s.series WHERE s.at>=$from AND s.at<$to ORDER BY s.at, s.id",
            ("$from", day - HoldsMs), ("$to", day + TrendTables.DayMs)).ExecuteReader())
        {
            while (rows.Read())
            {
                var id = rows.GetInt64(0);
                if (!series.TryGetValue(id, out var list))
                    series[id] = list = [];
                list.Add((rows.GetInt64(1), rows.IsDBNull(2) ? double.NaN : rows.GetDouble(2)));
                if (rows.GetInt64(3) == 1)
                    states.Add(id);
            }
        }
        using var command = TrendTables.Command(connection, "INSERT OR REPLACE INTO hour VALUES($series, $hour, $low, $mean, $high)", ("$series", 0L), ("$hour", 0L), ("$low", 0.0), ("$mean", 0.0), ("$high", 0.0));
        command.Transaction = transaction;
        foreach (var (id, samples) in series.OrderBy(one => one.Key))
        {
            for (var hour = 0; hour < 24; hour++)
            {
                if (Hour(samples, day + hour * TrendTables.HourMs, states.Contains(id)) is not { } sum)
                    continue;
                var given = command.Parameters;
                (given[0].Value, given[1].Value) = (id, day / TrendTables.HourMs + hour);
                (given[2].Value, given[3].Value, given[4].Value) = (sum.Low, Math.Round(sum.Mean, 3), sum.High);
                command.ExecuteNonQuery();
            }
        }
    }

    /// <summary>Lowest, mean over time and highest of an hour; of a state, the one that lasted longest stands for the mean. Null: nothing known.</summary>
    private static (double Low, double Mean, double High)? Hour(List<(long At, double Value)> samples, long from, bool isState)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity, sum = 0;
        var known = 0L;
        var lasting = new SortedDictionary<double, long>();
        for (var i = 0; i < samples.Count; i++)
        {
            var begin = Math.Max(samples[i].At, from);
            var next = i + 1 < samples.Count ? samples[i + 1].At : long.MaxValue;
            var end = Math.Min(Math.Min(next, samples[i].At + HoldsMs), from + TrendTables.HourMs);
            var (value, lasts) = (samples[i].Value, end - begin);
            if (lasts <= 0 || double.IsNaN(value))
                continue;
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
            sum += value * lasts;
            known += lasts;
            if (isState)
                lasting[value] = lasting.GetValueOrDefault(value) + lasts;
        }
        return known == 0 ? null : (low, isState ? lasting.MaxBy(one => one.Value).Key : sum / known, high);
    }
}
