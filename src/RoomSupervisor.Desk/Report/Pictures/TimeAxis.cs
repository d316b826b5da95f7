// The axis of local time under a picture: hours, days, midnights. Must never assume that a day has 24 hours.
using System.Globalization;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Time across a picture.</summary>
/// <param name="Window">The run.</param>
/// <param name="Stretch">What is drawn.</param>
/// <param name="Sheet">The sheet.</param>
internal sealed record TimeAxis(RunWindow Window, Stretch Stretch, Sheet Sheet)
{
    private static readonly int[] Steps = [1, 2, 3, 4, 6, 12, 24];

    /// <summary>Left edge of a plot on a sheet.</summary>
    internal double Left => Sheet.Narrow ? 30 : 42;

    /// <summary>Width of a plot on a sheet.</summary>
    internal double Width => Sheet.Width - Left - 8;

    /// <summary>Sample number from the start of the stretch to pixel.</summary>
    internal Scale Across => new(0, Math.Max(Stretch.Count, 1), Left, Left + Width);

    /// <summary>Height of hours and day names.</summary>
    internal double Height => 2 * Sheet.Letters + 13;

    /// <summary>The stretches a sheet shows one below the other: all at once, or a day each on a phone.</summary>
    internal static List<Stretch> Panels(RunWindow window, Sheet sheet) => sheet.Narrow ? window.Days : window.All.Count == 0 ? [] : [window.All];

    /// <summary>Upright lines at the hours that are named.</summary>
    internal void Grid(SvgWriter svg, double top, double bottom)
    {
        foreach (var (sample, time) in Hours())
            svg.Line(Across.At(sample), top, Across.At(sample), bottom, time.Hour == 0 ? "midnight" : "grid");
    }

    /// <summary>Names of hours and days below a picture.</summary>
    internal void Names(SvgWriter svg, double top)
    {
        var letters = Sheet.Letters - 1;
        var lastRight = double.NegativeInfinity;
        foreach (var (sample, time) in Hours())
        {
            var text = time.ToString(Sheet.Narrow ? "HH" : "HH:mm", CultureInfo.InvariantCulture);
            var half = TextWidth.Of(text, letters) / 2;
            var x = Across.At(sample);
            if (x - half < lastRight + 4 || x + half > Sheet.Width)
                continue;
            svg.Text(x, top + letters + 5, text, letters, Anchor.Middle, "quiet");
            lastRight = x + half;
        }
        foreach (var day in Window.Days.Where(day => day.First >= Stretch.First && day.End <= Stretch.End))
            DayName(svg, day, top + 2 * letters + 9, letters);
    }

    private void DayName(SvgWriter svg, Stretch day, double y, double letters)
    {
        var (left, right) = (Across.At(day.First - Stretch.First), Across.At(day.End - Stretch.First));
        foreach (var form in (ReadOnlySpan<string>)["dddd d MMMM", "ddd d MMM"])
        {
            var text = Window.Local(day.First).ToString(form, CultureInfo.InvariantCulture);
            if (TextWidth.Of(text, letters, isBold: true) > right - left - 6)
                continue;
            svg.Text((left + right) / 2, y, text, letters, Anchor.Middle, "day");
            return;
        }
    }

    /// <summary>Whole local hours of the step that fits, with their place in samples from the start of the stretch.</summary>
    private IEnumerable<(double Sample, DateTime Time)> Hours()
    {
        var quarter = Window.SamplesOfHours(0.25);
        var step = Steps.FirstOrDefault(hours => hours * 4 * quarter / Math.Max(Stretch.Count, 1) * Width >= (Sheet.Narrow ? 34 : 46), 24);
        var into = Window.Local(Stretch.First).TimeOfDay.TotalHours * 4;
        for (var n = Math.Ceiling(into - 1e-6) - into; n * quarter <= Stretch.Count + 1e-6; n++)
        {
            var time = Window.Local(Stretch.First + n * quarter).AddSeconds(0.5);
            if (time.Minute == 0 && time.Hour % step == 0)
                yield return (n * quarter, time);
        }
    }
}
