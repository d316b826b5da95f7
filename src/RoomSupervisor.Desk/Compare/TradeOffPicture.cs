// Two things that pull against each other in one square, a letter for each control, a dot for each seed. Must never colour or rank a control: the corner that is better in both is named, no more.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Draws trade-offs.</summary>
internal sealed class TradeOffPicture(Comparison comparison, ReportUnits units)
{
    private static readonly (string Across, string Up)[] Pairs =
    [
        ("electric_kwh", "discomfort_kh"), ("audible_changes_per_hour", "discomfort_kh"), ("mean_humidity_percent", "discomfort_kh"), ("electric_kwh", "mean_humidity_percent"),
    ];

    /// <summary>Four squares, two beside each other on a wide sheet.</summary>
    internal string Draw(Sheet sheet)
    {
        var columns = sheet.Narrow ? 1 : 2;
        var width = sheet.Width / columns;
        var height = sheet.Narrow ? 270.0 : 290;
        var svg = new SvgWriter(sheet.Width, height * Pairs.Length / columns, "What each control trades for what", "picture trade");
        for (var i = 0; i < Pairs.Length; i++)
            One(svg, sheet, Pairs[i], new Frame(i % columns * width, i / columns * height, width, height));
        return svg.End();
    }

    private void One(SvgWriter svg, Sheet sheet, (string Across, string Up) pair, Frame place)
    {
        var (across, up) = (Column(pair.Across), Column(pair.Up));
        var plot = new Frame(place.Left + 46, place.Top + sheet.Letters + 12, place.Width - 66, place.Height - 3.4 * sheet.Letters - 24);
        var (x, y) = (Axis(across, plot.Left, plot.Right), Axis(up, plot.Bottom, plot.Top));
        ValueAxis.Draw(svg, plot, y.At, y.Ticks(), value => XmlText.Number(value), sheet.Letters, sheet.Letters - 1);
        foreach (var tick in x.Ticks())
        {
            svg.Line(x.At(tick), plot.Top, x.At(tick), plot.Bottom, "grid", tick);
            svg.Text(x.At(tick), plot.Bottom + sheet.Letters + 3, XmlText.Number(tick), sheet.Letters - 1, Anchor.Middle, "quiet");
        }
        svg.Text(place.Left + 2, place.Top + sheet.Letters, Words(up) + y.Remark, sheet.Letters, Anchor.Start, "strong");
        svg.Text(plot.Right, plot.Bottom + 2.3 * sheet.Letters + 4, Words(across) + x.Remark, sheet.Letters, Anchor.End, "strong");
        svg.Text(plot.Left + 5, plot.Bottom - 6, "less of both", sheet.Letters - 1.5, Anchor.Start, "quiet");
        Points(svg, sheet, across, up, x, y, plot);
    }

    private void Points(SvgWriter svg, Sheet sheet, ComparedColumn across, ComparedColumn up, TradeAxis x, TradeAxis y, Frame plot)
    {
        foreach (var row in comparison.All)
        {
            foreach (var run in row.Runs.Where(_ => row.Runs.Count > 1))
                svg.Circle(x.At(Shown(across, run.Measures)), y.At(Shown(up, run.Measures)), 2.2, "often cell");
        }
        var rings = comparison.All.Select(row => (row.Contender.Letter, Left: x.At(units.Measure(row.Mean(across.Of), across.Unit).Value), Top: y.At(units.Measure(row.Mean(up.Of), up.Unit).Value))).ToList();
        foreach (var (_, left, top) in rings)
            svg.Circle(left, top, 5, "ring");
        List<Frame> taken = [.. rings.Select(ring => new Frame(ring.Left - 5, ring.Top - 5, 10, 10))];
        foreach (var (letter, left, top) in rings)
        {
            var name = $"({letter})";
            if (!Placing.Put(svg, name, sheet.Letters, "strong", taken, plot, (left + 9, top + 4.5, Anchor.Start), (left - 9, top + 4.5, Anchor.End), (left, top - 9, Anchor.Middle), (left, top + sheet.Letters + 7, Anchor.Middle)))
                Placing.Around(svg, left, top, name, sheet.Letters, "strong", taken, plot);
        }
    }

    private double Shown(ComparedColumn column, ComparedMeasures measures) => units.Measure(column.Of(measures), column.Unit).Value;

    private TradeAxis Axis(ComparedColumn column, double low, double high)
        => TradeAxis.Of([.. comparison.All.SelectMany(row => row.Runs).Select(run => Shown(column, run.Measures))], low, high);

    private string Words(ComparedColumn column) => $"{column.Head}{(column.Unit.Length > 0 ? ", " + units.Measure(0, column.Unit).Unit : "")}";

    private static ComparedColumn Column(string name) => CompareTable.Columns.First(column => column.Name == name);
}
