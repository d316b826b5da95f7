// Trends as CSV (RFC 4180): every series of a place, base units, universal and local time with its offset, so that the two hours of autumn differ. Numbers
// always with a point.
using System.Globalization;
using RoomSupervisor.Records;

namespace RoomSupervisor.Desk.Trend;

/// <summary>Writes trends as a table.</summary>
public static class TrendTable
{
    /// <summary>Writes samples as they were kept, and hours (lowest, mean, highest) where the stretch is long.</summary>
    /// <returns>Rows written.</returns>
    public static int Write(TextWriter to, TrendReader reader, TrendWish wish)
    {
        to.Write("utc,local,series,unit,value,low,high,state,cause,figure,next,next_figure\r\n");
        var series = TrendView.SeriesOf(reader, wish.Place).ToDictionary(names => names.Name, StringComparer.Ordinal);
        string[] names = [.. series.Keys];
        var samplesFrom = wish.SamplesFrom(reader);
        List<(DateTime Utc, string Name, string Tail)> rows = [];
        if (wish.IsByHour)
        {
            foreach (var (name, hours) in reader.Hours(names, wish.FromUtc, samplesFrom))
                rows.AddRange(hours.Select(hour => (hour.Utc, name, Rest(series[name], hour.Mean, hour.Low, hour.High, Nothing))));
        }
        foreach (var (name, points) in reader.Samples(names, samplesFrom, wish.ToUtc))
            rows.AddRange(points.Where(point => point.Utc >= wish.FromUtc).Select(point => (point.Utc, name, Rest(series[name], point.Value, double.NaN, double.NaN, point))));
        foreach (var row in rows.OrderBy(row => row.Utc).ThenBy(row => row.Name, StringComparer.Ordinal))
        {
            var local = new DateTimeOffset(DateTime.SpecifyKind(row.Utc, DateTimeKind.Utc)).ToOffset(wish.Zone.GetUtcOffset(row.Utc));
            to.Write(string.Create(CultureInfo.InvariantCulture, $"{row.Utc:yyyy-MM-ddTHH:mm:ss.fffZ},{local:yyyy-MM-ddTHH:mm:sszzz},{row.Name},{row.Tail}\r\n"));
        }
        return rows.Count;
    }

    /// <summary>An hour has no reason of its own.</summary>
    private static readonly TrendPoint Nothing = new(default, double.NaN, "", double.NaN);

    private static string Rest(TrendNames names, double value, double low, double high, in TrendPoint why)
    {
        var state = value >= 0 && value < names.States.Count ? names.States[(int)value] : "";
        return $"{names.Unit},{Number(value)},{Number(low)},{Number(high)},{state},{why.Cause},{Number(why.A)},{why.Next},{Number(why.NextA)}";
    }

    private static string Number(double value) => double.IsNaN(value) ? "" : value.ToString("0.###", CultureInfo.InvariantCulture);
}
