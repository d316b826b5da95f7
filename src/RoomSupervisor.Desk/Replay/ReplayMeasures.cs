// What a replay with other settings would have done otherwise: per output mean, time on, and time that differed, and its course for pictures. The air is what was recorded: it did not
// feel the change, and whoever shows these figures says so.
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Replay;

/// <summary>One output, as it was and as it would have been.</summary>
/// <param name="Id">Its point.</param>
/// <param name="Quantity">Its quantity.</param>
public sealed record ReplayCurve(string Id, Quantity Quantity)
{
    /// <summary>Time that was seen, s.</summary>
    public double SeenS { get; internal set; }

    /// <summary>Time during which both differed by more than a hundredth, s.</summary>
    public double DiffersS { get; internal set; }

    /// <summary>When first; null: never.</summary>
    public DateTime? FirstUtc { get; internal set; }

    /// <summary>Value times seconds, as it was and as it would have been.</summary>
    internal (double Was, double Would) Sum { get; set; }

    /// <summary>Seconds above zero.</summary>
    internal (double Was, double Would) On { get; set; }

    /// <summary>A mean for each column of a picture, NaN where nothing was recorded.</summary>
    public (double Was, double Would)[] Columns { get; internal set; } = [];

    /// <summary>Mean values over the time seen.</summary>
    public (double Was, double Would) Mean => (Sum.Was / SeenS, Sum.Would / SeenS);

    /// <summary>Hours with a value above zero.</summary>
    public (double Was, double Would) OnH => (On.Was / 3600, On.Would / 3600);
}

/// <summary>Gathers them while a trace is played.</summary>
public sealed class ReplayMeasures
{
    /// <summary>Longest time between two scans that counts, s: longer, and nobody knows what was.</summary>
    private const double LongestS = 90;

    /// <summary>Columns of a picture: one for every four minutes of a day.</summary>
    private const int MinutesAColumn = 4;

    private readonly List<Column> columns = [];
    private ReplayCurve[] curves = [];
    private DateTime beganUtc;

    public IReadOnlyList<ReplayCurve> Curves => curves;

    /// <summary>Begin of the first column.</summary>
    public DateTime FromUtc => beganUtc;

    /// <summary>Length of a column.</summary>
    public static TimeSpan ColumnLength => TimeSpan.FromMinutes(MinutesAColumn);

    /// <summary>Takes a scan; give it to <see cref="ReplayPlan.Watch"/>.</summary>
    public void Take(ScanTime time, House house, OutputImage was, OutputImage would)
    {
        if (curves.Length == 0)
        {
            curves = [.. house.OutputTable.All.Select(point => new ReplayCurve(point.Id, point.Quantity))];
            beganUtc = time.Utc;
        }
        var stepS = Math.Clamp(time.StepS, 0, LongestS);
        var column = (int)((time.Utc - beganUtc).TotalMinutes / MinutesAColumn);
        // A clock that was set back or far ahead draws nothing.
        var drawn = column >= 0 && column < 40 * 24 * 60 / MinutesAColumn ? At(column) : null;
        for (var i = 0; i < curves.Length; i++)
        {
            var (one, other) = (was.Commands[i].Value, would.Commands[i].Value);
            if (!double.IsFinite(one) || !double.IsFinite(other))
                continue;
            Take(curves[i], time.Utc, stepS, one, other);
            drawn?.Add(i, one, other);
        }
    }

    /// <summary>Ends the gathering: columns become means.</summary>
    public void Finish()
    {
        for (var i = 0; i < curves.Length; i++)
            curves[i].Columns = [.. columns.Select(column => column.Mean(i))];
    }

    private static void Take(ReplayCurve curve, DateTime utc, double stepS, double one, double other)
    {
        curve.SeenS += stepS;
        curve.Sum = (curve.Sum.Was + stepS * one, curve.Sum.Would + stepS * other);
        curve.On = (curve.On.Was + (one > 0 ? stepS : 0), curve.On.Would + (other > 0 ? stepS : 0));
        if (Math.Abs(one - other) < 0.01)
            return;
        curve.DiffersS += stepS;
        curve.FirstUtc ??= utc;
    }

    private Column At(int index)
    {
        while (columns.Count <= index)
            columns.Add(new Column(curves.Length));
        return columns[index];
    }

    private sealed class Column(int outputs)
    {
        private readonly (double Was, double Would, int Count)[] sums = new (double, double, int)[outputs];

        public void Add(int output, double was, double would)
            => sums[output] = (sums[output].Was + was, sums[output].Would + would, sums[output].Count + 1);

        public (double Was, double Would) Mean(int output)
            => sums[output] is { Count: > 0 } sum ? (sum.Was / sum.Count, sum.Would / sum.Count) : (double.NaN, double.NaN);
    }
}
