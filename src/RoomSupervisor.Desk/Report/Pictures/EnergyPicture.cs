// Energy by hour: heat moved by surfaces and coils as a stack, the electricity for it beside, fuel upon that. Must never add heat to what it took.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws energy by hour.</summary>
internal sealed class EnergyPicture(RunWindow window, ReportUnits units)
{
    private static readonly KeyEntry[] Entries =
    [
        new("bar-surface", "surfaces", true), new("bar-sensible", "coils, temperature", true),
        new("bar-latent", "coils, moisture", true, Patterns.Latent), new("bar-electric", "electricity", true, Patterns.Electric),
    ];

    // Only a house that burns some has fuel in its key.
    private readonly KeyEntry[] entries = window.Run.Hours.Any(hour => hour.FuelKwh > 0) ? [.. Entries, new("bar-fuel", "fuel", true)] : Entries;

    internal IEnumerable<string> Draw(Sheet sheet) => window.Run.Hours.Length == 0 ? [] : TimeAxis.Panels(window, sheet).Select((panel, n) => One(panel, sheet, n == 0));

    private string One(Stretch stretch, Sheet sheet, bool hasKey)
    {
        var time = new TimeAxis(window, stretch, sheet);
        var top = (hasKey ? Key.Height(entries, sheet) : 0) + sheet.Letters + 8;
        var plot = new Frame(time.Left, top, time.Width, sheet.Narrow ? 120 : 150);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + 2 + time.Height, $"Energy by hour, {window.Day(stretch.First)}", "picture energy");
        if (hasKey)
            Key.Draw(svg, entries, sheet, 0);
        var high = window.Run.Hours.Select(hour => Math.Max(hour.SurfaceKwh + hour.CoilSensibleKwh + hour.CoilLatentKwh, hour.ElectricKwh + hour.FuelKwh)).Max();
        var (shown, unit) = units.Measure(high, ReportUnits.Heat);
        var perKwh = high > 0 ? shown / high : 1;
        var up = new Scale(0, Math.Max(shown * 1.05, 0.1), plot.Bottom, plot.Top);
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(up.Step(5)), value => XmlText.Number(value), sheet.Letters, sheet.Letters - 0.5);
        svg.Text(2, plot.Top - sheet.Letters * 0.7, unit + " in the hour", sheet.Letters - 1, Anchor.Start, "quiet");
        for (var hour = 0; hour < window.Run.Hours.Length; hour++)
            Hour(svg, window.Run.Hours[hour], perKwh, window.SamplesOfHours(hour) - stretch.First, time, up, plot);
        time.Names(svg, plot.Bottom + 2);
        return svg.End();
    }

    private void Hour(SvgWriter svg, HourOfEnergy hour, double perKwh, double sample, TimeAxis time, Scale up, Frame plot)
    {
        double left = Math.Max(time.Across.At(sample), plot.Left), right = Math.Min(time.Across.At(sample + window.SamplesOfHours(1)), plot.Right);
        var width = right - left;
        if (width < 0.5)
            return;
        var height = 0.0;
        Part(hour.SurfaceKwh, "bar-surface", "", 0.08, 0.52);
        Part(hour.CoilSensibleKwh, "bar-sensible", "", 0.08, 0.52);
        Part(hour.CoilLatentKwh, "bar-latent", Patterns.Latent, 0.08, 0.52);
        height = 0;
        Part(hour.ElectricKwh, "bar-electric", Patterns.Electric, 0.62, 0.28);
        Part(hour.FuelKwh, "bar-fuel", "", 0.62, 0.28);

        void Part(double kwh, string className, string pattern, double from, double share)
        {
            if (!(kwh > 0))
                return;
            var top = height + kwh * perKwh;
            svg.Rectangle(new Frame(left + width * from, up.At(top), width * share, up.At(height) - up.At(top)), className, pattern);
            height = top;
        }
    }
}
