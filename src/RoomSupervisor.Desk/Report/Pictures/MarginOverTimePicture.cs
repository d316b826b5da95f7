// Degrees to spare over time: of each loop the room nearest to its dew point. Must never draw where no cooling water flows.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws margins over time.</summary>
internal sealed class MarginOverTimePicture(RunWindow window, ReportUnits units, Tightest moment)
{
    private static readonly string[] Classes = ["air", "water", "dew", "third"];

    internal IEnumerable<string> Draw(Sheet sheet)
    {
        var loops = Enumerable.Range(0, window.Run.Loops.Length).Where(loop => window.Run.Loops[loop].ServesSurfaces).ToArray();
        if (loops.Length == 0)
            return [];
        var least = loops.Select(loop => Enumerable.Range(window.All.First, window.All.Count).Select(i => units.Difference(Margins.Least(window.Run, loop, i))).ToArray()).ToArray();
        var real = least.SelectMany(values => values).Where(double.IsFinite).ToArray();
        if (real.Length == 0)
            return [];
        var range = (Low: Math.Min(0, Math.Floor(real.Min())), High: Math.Max(units.Difference(3), Math.Ceiling(real.Max())));
        return TimeAxis.Panels(window, sheet).Select((panel, n) => One(panel, sheet, loops, least, range, n == 0));
    }

    private string One(Stretch stretch, Sheet sheet, int[] loops, double[][] least, (double Low, double High) range, bool hasKey)
    {
        var entries = loops.Select((loop, n) => new KeyEntry(Classes[n % Classes.Length], window.Run.Loops[loop].Title)).ToArray();
        var time = new TimeAxis(window, stretch, sheet);
        var top = (hasKey ? Key.Height(entries, sheet) : 0) + sheet.Letters + 6;
        var plot = new Frame(time.Left, top, time.Width, sheet.Narrow ? 100 : 120);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + 2 + time.Height, $"Degrees to spare over time, {window.Day(stretch.First)}", "picture margin");
        if (hasKey)
            Key.Draw(svg, entries, sheet, 0);
        var up = new Scale(range.Low, range.High, plot.Bottom, plot.Top);
        time.Grid(svg, plot.Top, plot.Bottom);
        foreach (var value in up.Ticks(up.Step(6)))
        {
            svg.Line(plot.Left, up.At(value), plot.Right, up.At(value), value == 0 ? "limit" : "grid", value);
            svg.Text(plot.Left - 5, up.At(value) + sheet.Letters * 0.35, ReportUnits.Plain(value), sheet.Letters - 0.5, Anchor.End, "quiet");
        }
        svg.Text(2, plot.Top - sheet.Letters * 0.6, units.DifferenceText(1).Split(' ')[^1] + " to spare, the tightest room of each loop", sheet.Letters - 1, Anchor.Start, "quiet");
        for (var n = 0; n < loops.Length; n++)
            svg.Path(Decimate.Line(least[n].AsSpan(stretch.First - window.All.First, stretch.Count), time.Across, up), Classes[n % Classes.Length]);
        if (moment.Sample >= stretch.First && moment.Sample < stretch.End)
            Mark(svg, stretch, time, up, plot);
        time.Names(svg, plot.Bottom + 2);
        return svg.End();
    }

    private void Mark(SvgWriter svg, Stretch stretch, TimeAxis time, Scale up, Frame plot)
    {
        double x = time.Across.At(moment.Sample - stretch.First), y = up.Within(units.Difference(moment.SpareK));
        svg.Circle(x, y, 4, "ring");
        var text = $"tightest {window.Clock(moment.Sample)}";
        var letters = time.Sheet.Letters - 1;
        Placing.Put(svg, text, letters, "halo", [], plot, (x + 8, y - 6, Anchor.Start), (x - 8, y - 6, Anchor.End), (x + 8, y + letters + 5, Anchor.Start), (x - 8, y + letters + 5, Anchor.End));
    }
}
