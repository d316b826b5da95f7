// A stretch of the recorded trends of one place, sorted into columns of a picture. A value holds until its next sample. Must never draw on what was not
// recorded: a column without samples is empty.
using RoomSupervisor.Records;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Trend;

/// <summary>One series in columns; NaN where nothing is known.</summary>
/// <param name="Names">Name, unit, states.</param>
/// <param name="Low">Lowest of the column.</param>
/// <param name="Mean">Mean over time; of a state the one that lasted longest.</param>
/// <param name="High">Highest of the column.</param>
public sealed record TrendCurve(TrendNames Names, double[] Low, double[] Mean, double[] High)
{
    /// <summary>Name without that of its place.</summary>
    public string Part => Names.Name[(Names.Name.IndexOf('.', StringComparison.Ordinal) + 1)..];
}

/// <summary>A change of a command with what bound it.</summary>
public readonly record struct TrendChange(DateTime Utc, string Name, double Value, string Cause, double Figure)
{
    /// <summary>What would have bound next; "" where nothing would, or nobody kept it.</summary>
    public string Next { get; init; } = "";
}

/// <summary>What to look at.</summary>
/// <param name="Place">A room, loop, source, or the beginning of a point's id.</param>
/// <param name="FromUtc">Beginning.</param>
/// <param name="ToUtc">End.</param>
/// <param name="Zone">Time zone of the site.</param>
/// <param name="Units">Units people read.</param>
public sealed record TrendWish(string Place, DateTime FromUtc, DateTime ToUtc, TimeZoneInfo Zone, UnitSystem Units)
{
    /// <summary>From here on hours take the place of samples.</summary>
    public static readonly TimeSpan ByHourFrom = TimeSpan.FromDays(10);

    public bool IsByHour => ToUtc - FromUtc > ByHourFrom;

    /// <summary>From here on samples are read; before it, hours.</summary>
    internal DateTime SamplesFrom(TrendReader reader) => IsByHour && reader.RolledUpTo > FromUtc ? reader.RolledUpTo : FromUtc;

    public DateTime Local(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), Zone);
}

/// <summary>Curves of a place.</summary>
public sealed class TrendView
{
    private const double HoldsS = 960;   // a value that does not move has a sample every quarter of an hour

    private TrendView(TrendWish wish, IReadOnlyList<TrendCurve> curves, IReadOnlyList<TrendChange> changes) => (Wish, Curves, Changes) = (wish, curves, changes);

    public TrendWish Wish { get; }

    /// <summary>Every series of the place.</summary>
    public IReadOnlyList<TrendCurve> Curves { get; }

    /// <summary>Changes of its commands, oldest first; only of a stretch that is read by samples.</summary>
    public IReadOnlyList<TrendChange> Changes { get; }

    /// <summary>True when there is nothing at all.</summary>
    public bool IsEmpty => Curves.All(curve => curve.Mean.All(double.IsNaN));

    /// <summary>Names of the series of a place.</summary>
    public static IReadOnlyList<TrendNames> SeriesOf(TrendReader reader, string place)
        => [.. reader.Series.Where(names => names.Name == place || names.Name.StartsWith(place + ".", StringComparison.Ordinal))];

    /// <summary>Reads a stretch into so many columns.</summary>
    public static TrendView Of(TrendReader reader, TrendWish wish, int columns)
    {
        var series = SeriesOf(reader, wish.Place);
        var names = series.Select(one => one.Name).ToArray();
        var samplesFrom = wish.SamplesFrom(reader);
        var samples = reader.Samples(names, samplesFrom, wish.ToUtc);
        var hours = wish.IsByHour ? reader.Hours(names, wish.FromUtc, samplesFrom) : null;
        List<TrendCurve> curves = [];
        foreach (var one in series)
        {
            var columnsOf = new Columns(wish, columns, one.States.Count > 0);
            foreach (var hour in hours?[one.Name] ?? [])
                columnsOf.Add(hour.Utc, hour.Utc.AddHours(1), hour.Low, hour.Mean, hour.High);
            var points = samples[one.Name];
            for (var i = 0; i < points.Count; i++)
            {
                var end = points[i].Utc.AddSeconds(HoldsS);
                if (i + 1 < points.Count && points[i + 1].Utc < end)
                    end = points[i + 1].Utc;
                columnsOf.Add(points[i].Utc, end, points[i].Value, points[i].Value, points[i].Value);
            }
            curves.Add(columnsOf.ToCurve(one));
        }
        return new TrendView(wish, curves, wish.IsByHour ? [] : ChangesOf(samples, wish));
    }

    private static List<TrendChange> ChangesOf(IReadOnlyDictionary<string, List<TrendPoint>> samples, TrendWish wish)
    {
        List<TrendChange> changes = [];
        foreach (var (name, points) in samples.Where(one => one.Key.EndsWith(".fan", StringComparison.Ordinal) || one.Key.EndsWith(".valve", StringComparison.Ordinal)))
        {
            for (var i = 1; i < points.Count; i++)
            {
                if (points[i].Utc >= wish.FromUtc && (points[i].Cause != points[i - 1].Cause || Math.Abs(points[i].Value - points[i - 1].Value) >= 1))
                    changes.Add(new TrendChange(points[i].Utc, name, points[i].Value, points[i].Cause, points[i].A) { Next = points[i].Next });
            }
        }
        return [.. changes.OrderBy(change => change.Utc)];
    }

    /// <summary>Sums up what falls into each column.</summary>
    private sealed class Columns(TrendWish wish, int count, bool isState)
    {
        private readonly double[] low = Filled(count, double.PositiveInfinity), high = Filled(count, double.NegativeInfinity), sum = new double[count], known = new double[count], longest = new double[count];
        private readonly double columnS = (wish.ToUtc - wish.FromUtc).TotalSeconds / count;

        public void Add(DateTime from, DateTime to, double lowest, double mean, double highest)
        {
            double begin = Math.Max(0, (from - wish.FromUtc).TotalSeconds), end = Math.Min((to - wish.FromUtc).TotalSeconds, columnS * count);
            if (double.IsNaN(mean) || end <= begin)
                return;
            for (var i = (int)(begin / columnS); i < count && i * columnS < end; i++)
            {
                var lasts = Math.Min(end, (i + 1) * columnS) - Math.Max(begin, i * columnS);
                (low[i], high[i]) = (Math.Min(low[i], lowest), Math.Max(high[i], highest));
                known[i] += lasts;
                if (!isState)
                    sum[i] += mean * lasts;
                else if (lasts > longest[i])
                    (longest[i], sum[i]) = (lasts, mean);
            }
        }

        public TrendCurve ToCurve(TrendNames names)
        {
            var mean = new double[count];
            for (var i = 0; i < count; i++)
            {
                mean[i] = known[i] <= 0 ? double.NaN : isState ? sum[i] : sum[i] / known[i];
                if (known[i] <= 0)
                    (low[i], high[i]) = (double.NaN, double.NaN);
            }
            return new TrendCurve(names, low, mean, high);
        }

        private static double[] Filled(int count, double value)
        {
            var all = new double[count];
            Array.Fill(all, value);
            return all;
        }
    }
}
