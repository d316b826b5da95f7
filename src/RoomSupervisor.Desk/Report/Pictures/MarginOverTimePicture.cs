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
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(up.Step(6)), value => ReportUnits.Plain(value), sheet.Letters, sheet.Letters - 0.5, value => value == 0 ? "limit" : "grid");
        svg.Text(2, plot.Top - sheet.Letters * 0.6, units.DifferenceText(1).Split(' ')[^1] + " to spare, the tightest room of each loop", sheet.Letters - 1, Anchor.Start, "quiet");
        for (var n = 0; n < loops.Length; n++)
            svg.Path(Decimate.Line(least[n].AsSpan(stretch.First - window.All.First, stretch.Count), time.Across, up), Classes[n % Classes.Length]);
        if (moment.Sample >= stretch.First && moment.Sample < stretch.End)
            Mark(svg, least, time, up, plot);
        time.Names(svg, plot.Bottom + 2);
        return svg.End();
    }

    /// <summary>A ring around the tightest moment, and when it was, where no line passes.</summary>
    private void Mark(SvgWriter svg, double[][] least, TimeAxis time, Scale up, Frame plot)
    {
        double x = time.Across.At(moment.Sample - time.Stretch.First), y = up.Within(units.Difference(moment.SpareK));
        svg.Circle(x, y, 4, "ring");
        var letters = time.Sheet.Letters - 1;
        var places = new List<(double X, double Y, Anchor Anchor)>();
        for (double far = 6; far < plot.Height; far += 4)
            foreach (var level in (ReadOnlySpan<double>)[y - far, y + far + letters * 0.7])
                places.AddRange([(x + 8, level, Anchor.Start), (x - 8, level, Anchor.End), (x, level - 4, Anchor.Middle)]);
        var text = $"tightest {window.Clock(moment.Sample)}";
        if (!Placing.Put(svg, text, letters, "halo", Obstacles(least, time, up), plot, [.. places]))
            Placing.Put(svg, text, letters, "halo", [], plot, [.. places]);
    }

    /// <summary>What the lines take, in strips of at most six pixels.</summary>
    private List<Frame> Obstacles(double[][] least, TimeAxis time, Scale up)
    {
        var taken = new List<Frame>();
        var strip = Math.Max(1, (int)(6 / time.Width * time.Stretch.Count));
        foreach (var values in least)
            for (var i = 0; i < time.Stretch.Count; i += strip)
            {
                var real = values.AsSpan(time.Stretch.First - window.All.First + i, Math.Min(strip, time.Stretch.Count - i)).ToArray().Where(double.IsFinite).Select(up.Within).ToArray();
                if (real.Length > 0)
                    taken.Add(new Frame(time.Across.At(i), real.Min() - 1, time.Across.At(strip) - time.Across.At(0), real.Max() - real.Min() + 2));
            }
        return taken;
    }
}
