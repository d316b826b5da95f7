// Psychrometric chart of all rooms. A line across it is the saturation humidity ratio of the water of a loop at the tightest moment: a room above
// it would be wet. Must never compare air of one moment with water of another: marks and lines are of that one moment; grey shows all others.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws the chart.</summary>
internal sealed class PsychrometricPicture(RunWindow window, ReportUnits units, Tightest moment)
{
    internal const double LowC = 16, HighC = 34, LowRatio = 4, HighRatio = 20;

    private static readonly int[] Humidity = [20, 40, 60, 80, 100];

    private readonly ChartAir _air = new(window.Run.AltitudeM);

    /// <summary>Sample the marks stand for.</summary>
    private int Moment => moment.Is ? moment.Sample : window.ChosenDay.First + window.ChosenDay.Count / 2;

    internal string Draw(Sheet sheet)
    {
        var right = sheet.Narrow ? 34 : 44;
        var plot = new Frame(8, 24, sheet.Width - 8 - right, sheet.Narrow ? 330 : 400);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + 2 * sheet.Letters + 16, "Psychrometric chart of all rooms", "picture psychrometric");
        var across = new Scale(units.Temperature(LowC), units.Temperature(HighC), plot.Left, plot.Right);
        var up = new Scale(units.Ratio(LowRatio), units.Ratio(HighRatio), plot.Bottom, plot.Top);
        Cells(svg, plot, across, up);
        Axes(svg, plot, across, up, sheet);
        var taken = new List<Frame>();
        Curves(svg, across, up);
        Loops(svg, plot, up, sheet, taken);
        Humidities(svg, plot, across, up, sheet, taken);
        Rooms(svg, plot, across, up, sheet, taken);
        return svg.End();
    }

    private void Axes(SvgWriter svg, Frame plot, Scale across, Scale up, Sheet sheet)
    {
        var letters = sheet.Letters - 1;
        foreach (var value in across.Ticks(units.TemperatureStep))
        {
            svg.Line(across.At(value), plot.Top, across.At(value), plot.Bottom, "grid", value);
            svg.Text(across.At(value), plot.Bottom + letters + 8, ReportUnits.Plain(value, 0), letters, Anchor.Middle, "quiet");
        }
        foreach (var value in up.Ticks(up.Step(9)))
        {
            svg.Line(plot.Left, up.At(value), plot.Right, up.At(value), "grid", value);
            svg.Text(plot.Right + 5, up.At(value) + letters * 0.35, ReportUnits.Plain(value, 0), letters, Anchor.Start, "quiet");
        }
        svg.Text((plot.Left + plot.Right) / 2, plot.Bottom + 2 * letters + 13, $"air temperature, {units.TemperatureUnit}", letters, Anchor.Middle, "quiet");
        svg.Text(sheet.Width - 2, plot.Top - 9, $"humidity ratio, {units.RatioUnit} dry air", letters, Anchor.End, "quiet");
    }

    /// <summary>Where the air of any room was in the run, on a raster of three pixels.</summary>
    private void Cells(SvgWriter svg, Frame plot, Scale across, Scale up)
    {
        const double Cell = 3;
        var cells = new SortedDictionary<(int Y, int X), int>();
        foreach (var room in window.Run.Rooms)
            for (var i = window.All.First; i < window.All.End; i++)
            {
                double x = across.At(units.Temperature(room.TrueAirC[i])), y = up.At(units.Ratio(room.HumidityRatioGPerKg[i]));
                if (!(x >= plot.Left && x < plot.Right && y >= plot.Top && y < plot.Bottom))
                    continue;
                var at = ((int)((y - plot.Top) / Cell), (int)((x - plot.Left) / Cell));
                cells[at] = cells.GetValueOrDefault(at) + 1;
            }
        var often = window.SamplesOfHours(0.25);
        svg.Path(Of(count => count < often), "cell");
        svg.Path(Of(count => count >= often), "cell often");

        string Of(Func<int, bool> isOne)
        {
            var path = new PathText();
            foreach (var ((y, x), count) in cells)
            {
                if (!isOne(count))
                    continue;
                path.Move(plot.Left + x * Cell, plot.Top + y * Cell);
                path.Line(plot.Left + (x + 1) * Cell, plot.Top + y * Cell);
                path.Line(plot.Left + (x + 1) * Cell, plot.Top + (y + 1) * Cell);
                path.Line(plot.Left + x * Cell, plot.Top + (y + 1) * Cell);
                path.Close();
            }
            return path.ToString();
        }
    }

    private void Curves(SvgWriter svg, Scale across, Scale up)
    {
        foreach (var percent in Humidity)
            svg.Path(_air.Curve(percent, across, up, units, LowC, HighC, HighRatio), percent == 100 ? "saturation" : "humidity");
    }

    /// <summary>Names of the curves, near where they leave the picture, left of the curve or farther down it where other words stand.</summary>
    private void Humidities(SvgWriter svg, Frame plot, Scale across, Scale up, Sheet sheet, List<Frame> taken)
    {
        var letters = sheet.Letters - 1;
        foreach (var percent in Humidity)
        {
            var places = new List<(double X, double Y, Anchor Anchor)>();
            var end = Math.Min(HighC, _air.TemperatureAt(percent, HighRatio));
            for (var celsius = end - 0.3; celsius > LowC + 3; celsius -= 0.5)
                places.Add((across.At(units.Temperature(celsius)) - 7, up.At(units.Ratio(_air.RatioGPerKg(celsius, percent))) + letters * 0.2, Anchor.End));
            Placing.Put(svg, percent == 100 ? "100 %, saturated" : $"{percent} %", letters, "halo quiet", taken, plot, [.. places]);
        }
    }

    /// <summary>A line for the water of each loop that cools surfaces, named at its left end above the saturation curve.</summary>
    private void Loops(SvgWriter svg, Frame plot, Scale up, Sheet sheet, List<Frame> taken)
    {
        for (var n = 0; n < window.Run.Loops.Length; n++)
        {
            var loop = window.Run.Loops[n];
            if (!loop.ServesSurfaces || !loop.Cools[Moment] || !loop.Flows[Moment])
                continue;
            var ratio = _air.RatioGPerKg(loop.SupplyC[Moment], 100);
            if (!(ratio >= LowRatio && ratio <= HighRatio))
                continue;
            var y = up.At(units.Ratio(ratio));
            svg.Line(plot.Left, y, plot.Right, y, "wet-line", units.Ratio(ratio));
            taken.Add(new Frame(plot.Left, y - 1.5, plot.Width, 3));
            var wet = $" at {units.TemperatureText(loop.SupplyC[Moment])}: {(sheet.Narrow ? "wet above" : "above this line wet")}";
            var text = TextWidth.Cut(loop.Title, (sheet.Letters - 1) * 1.12, plot.Width - 16 - TextWidth.Of(wet, sheet.Letters - 1, isBold: true)) + wet;
            Placing.Put(svg, text, sheet.Letters - 1, "halo strong", taken, plot, (plot.Left + 4, y - 5, Anchor.Start), (plot.Left + 4, y + sheet.Letters + 1, Anchor.Start));
        }
    }

    /// <summary>Numbered marks of the rooms at the moment.</summary>
    private void Rooms(SvgWriter svg, Frame plot, Scale across, Scale up, Sheet sheet, List<Frame> taken)
    {
        var rooms = window.Run.Rooms;
        var marks = new List<(double X, double Y, int Number)>();
        for (var n = 0; n < rooms.Length; n++)
        {
            double x = across.At(units.Temperature(rooms[n].TrueAirC[Moment])), y = up.At(units.Ratio(rooms[n].HumidityRatioGPerKg[Moment]));
            if (x >= plot.Left && x <= plot.Right && y >= plot.Top && y <= plot.Bottom)
                marks.Add((x, y, n + 1));
        }
        foreach (var (x, y, _) in marks)
        {
            svg.Circle(x, y, 3.5, "mark");
            taken.Add(new Frame(x - 4, y - 4, 8, 8));
        }
        foreach (var (x, y, number) in marks)
            Placing.Around(svg, x, y, XmlText.Number(number, 0), sheet.Letters, "halo strong", taken, plot);
    }
}
