// Which curves of a place a picture shows, and how an axis and its time marks lie. Must never show one value twice under two names.
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Trend;

/// <summary>The choice of curves and axes, the same for terminal and picture.</summary>
internal static class TrendChoice
{
    private static readonly string[] Wishes = ["wanted", "set_point", "lowest_safe_supply"];

    /// <summary>Temperatures: the measured one first. The plain dew point and the raw reading stand behind what the sequence made of them.</summary>
    internal static IReadOnlyList<TrendCurve> Temperatures(TrendView view) =>
        [.. Drawn(view).Where(curve => curve.Names.Unit == "°C" && curve.Part is not ("air.temperature" or "dew_point")).OrderBy(curve => IsWish(curve) ? 2 : curve.Part.StartsWith("dew_point", StringComparison.Ordinal) ? 1 : 0)];

    /// <summary>Commands in percent, and humidity.</summary>
    internal static IReadOnlyList<TrendCurve> Percents(TrendView view) => [.. Drawn(view).Where(curve => curve.Names.Unit == "%").OrderBy(curve => curve.Part.EndsWith("fan", StringComparison.Ordinal) ? 0 : 1)];

    /// <summary>Curves that have a value somewhere: points that nobody wired took the places of set point and dew point.</summary>
    private static IEnumerable<TrendCurve> Drawn(TrendView view) => view.Curves.Where(curve => curve.Mean.Any(double.IsFinite));

    /// <summary>The stage of a room, else the guard of a loop; null: there is none.</summary>
    internal static TrendCurve? States(TrendView view) => view.Curves.FirstOrDefault(curve => curve.Part == "stage") ?? view.Curves.FirstOrDefault(curve => curve.Part == "guard");

    internal static bool IsWish(TrendCurve curve) => Wishes.Contains(curve.Part);

    /// <summary>A state's name.</summary>
    internal static string State(TrendCurve states, int state) => state < states.Names.States.Count ? states.Names.States[state] : "?";

    /// <summary>The stretch in local time.</summary>
    internal static string Stretch(TrendWish wish)
        => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{wish.Local(wish.FromUtc):yyyy-MM-dd HH:mm} to {wish.Local(wish.ToUtc):yyyy-MM-dd HH:mm}");

    internal static string Words(string name) => name.Replace('_', ' ').Replace('.', ' ');

    /// <summary>°C to what is shown.</summary>
    internal static double Shown(double celsius, UnitSystem units) => units == UnitSystem.Us ? celsius * 1.8 + 32 : celsius;

    internal static string Unit(UnitSystem units) => units == UnitSystem.Us ? "°F" : "°C";

    /// <summary>Whole degrees around what is drawn, at least four.</summary>
    internal static (double Low, double High) Axis(IReadOnlyList<TrendCurve> curves, UnitSystem units)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var curve in curves)
        {
            for (var i = 0; i < curve.Mean.Length; i++)
            {
                if (double.IsNaN(curve.Mean[i]))
                    continue;
                (low, high) = (Math.Min(low, Shown(curve.Low[i], units)), Math.Max(high, Shown(curve.High[i], units)));
            }
        }
        if (low > high)
            (low, high) = (Shown(18, units), Shown(26, units));
        (low, high) = (Math.Floor(low), Math.Ceiling(high));
        return high - low >= 4 ? (low, high) : (Math.Floor((low + high) / 2) - 2, Math.Floor((low + high) / 2) + 2);
    }

    /// <summary>Round times of the clock on the wall: the finest of hours, days, weeks and months that gives at most so many. With both hours of autumn, both.</summary>
    internal static IReadOnlyList<(DateTime Utc, string Text)> Marks(TrendWish wish, int most)
    {
        foreach (var step in (int[])[1, 2, 3, 6, 12, 24, 48, 168])
        {
            var marks = Every(wish, step).ToList();
            if (marks.Count <= most)
                return marks;
        }
        var months = Every(wish, 24).Where(mark => wish.Local(mark.Utc).Day == 1).Select(mark => (mark.Utc, wish.Local(mark.Utc).ToString("MMM", System.Globalization.CultureInfo.InvariantCulture))).ToList();
        return months.Count <= most ? months : [.. months.Where((_, i) => i % (1 + months.Count / most) == 0)];
    }

    private static IEnumerable<(DateTime Utc, string Text)> Every(TrendWish wish, int hours)
    {
        var at = wish.FromUtc.AddTicks(-(wish.FromUtc.Ticks % TimeSpan.TicksPerHour));
        for (; at <= wish.ToUtc; at = at.AddMinutes(30))   // half-hour time zones have their marks too
        {
            var local = wish.Local(at);
            if (at < wish.FromUtc || local.Minute != 0)
                continue;
            var day = local.Date.Subtract(DateTime.UnixEpoch).Days;
            if (hours <= 24 ? local.Hour % hours == 0 : local.Hour == 0 && (hours == 48 ? day % 2 == 0 : local.DayOfWeek == DayOfWeek.Monday))
                yield return (at, hours < 24 ? local.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture) : local.ToString("d MMM", System.Globalization.CultureInfo.InvariantCulture));
        }
    }

    /// <summary>Share of the stretch at which a time lies.</summary>
    internal static double Share(TrendWish wish, DateTime utc) => (utc - wish.FromUtc).TotalSeconds / (wish.ToUtc - wish.FromUtc).TotalSeconds;

    /// <summary>Runs of one state: first column, columns, number of the state.</summary>
    internal static IEnumerable<(int First, int Count, int State)> Runs(TrendCurve states)
    {
        for (var i = 0; i < states.Mean.Length;)
        {
            var end = i + 1;
            while (end < states.Mean.Length && states.Mean[end].Equals(states.Mean[i]))
                end++;
            if (!double.IsNaN(states.Mean[i]))
                yield return (i, end - i, (int)states.Mean[i]);
            i = end;
        }
    }

    /// <summary>A scale of the picture.</summary>
    internal static Scale Up((double Low, double High) axis, Frame plot) => new(axis.Low, axis.High, plot.Bottom, plot.Top);
}
