// Trends as one SVG file that stands alone: temperatures, percents, and the states as a ribbon with words. Light and dark by the reader's own wish. Must never
// tell curves apart by colour alone: each has its own dash.
using System.Globalization;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Trend;

/// <summary>Draws trends.</summary>
public static class TrendPicture
{
    /// <summary>Columns a view for a picture has.</summary>
    public const int Columns = 700;

    private const double Width = 800, Left = 48, Right = 748, Letters = 12;

    private const string Light = "--c0:#1d262c;--c1:#1f5fa8;--c2:#a5480a;--c3:#6b5a00;--c4:#1e6140;", Dark = "--c0:#f0f1ec;--c1:#7db6f2;--c2:#f0a060;--c3:#d8c35a;--c4:#86cfa4";

    private const string Rules = """
        path{fill:none;stroke-width:1.6;stroke-linejoin:round;stroke-linecap:round}
        .c0{stroke:var(--c0)}.c1{stroke:var(--c1);stroke-dasharray:7 3}.c2{stroke:var(--c2);stroke-dasharray:2 3}.c3{stroke:var(--c3);stroke-dasharray:9 3 2 3}.c4{stroke:var(--c4);stroke-dasharray:1 5}
        """;

    /// <summary>The picture as the text of an SVG file.</summary>
    public static string Draw(TrendView view)
    {
        var wish = view.Wish;
        var temperatures = TrendChoice.Temperatures(view).Take(5).ToList();
        var percents = TrendChoice.Percents(view).Take(5).ToList();
        double top = 58;
        var first = new Frame(Left, top, Right - Left, temperatures.Count > 0 ? 220 : 0);
        var second = new Frame(Left, first.Bottom + (temperatures.Count > 0 ? 44 : 0), Right - Left, percents.Count > 0 ? 120 : 0);
        var ribbon = new Frame(Left, second.Bottom + 14, Right - Left, TrendChoice.States(view) is null ? 0 : 22);
        var title = $"{wish.Place}, {TrendChoice.Stretch(wish)} (local time)";
        var svg = new SvgWriter(Width, ribbon.Bottom + 40, title, "trend");
        svg.Text(Left, 22, title, Letters + 2);
        if (view.IsEmpty)
            svg.Text(Left, 44, "nothing was recorded in this time", Letters, className: "quiet");
        if (temperatures.Count > 0)
            Panel(svg, temperatures, value => TrendChoice.Shown(value, wish.Units), TrendChoice.Axis(temperatures, wish.Units), TrendChoice.Unit(wish.Units), first);
        if (percents.Count > 0)
            Panel(svg, percents, value => value, (0, 100), "%", second);
        foreach (var (utc, mark) in TrendChoice.Marks(wish, 12))
        {
            var x = Left + TrendChoice.Share(wish, utc) * (Right - Left);
            svg.Line(x, first.Top, x, ribbon.Bottom, "grid");
            svg.Text(x, ribbon.Bottom + 18, mark, Letters - 1, Anchor.Middle, "quiet");
        }
        if (TrendChoice.States(view) is { } states)
            Ribbon(svg, states, ribbon);
        return StandAlone.End(svg, Light, Dark, Rules);
    }

    private static void Panel(SvgWriter svg, List<TrendCurve> curves, Func<double, double> shown, (double Low, double High) axis, string unit, Frame plot)
    {
        var up = TrendChoice.Up(axis, plot);
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(up.Step(6)), value => XmlText.Number(value), Letters, Letters - 1);
        svg.Rectangle(plot, "edge");
        svg.Text(plot.Left - 6, plot.Top - 12, unit, Letters - 1, Anchor.End, "quiet");
        var x = plot.Left;
        for (var i = 0; i < curves.Count; i++)
        {
            svg.Path(Line(curves[i], shown, plot, up), "c" + i.ToString(CultureInfo.InvariantCulture));
            var name = TrendChoice.Words(curves[i].Part);
            svg.Line(x, plot.Top - 14, x + 22, plot.Top - 14, "c" + i.ToString(CultureInfo.InvariantCulture));
            svg.Text(x + 27, plot.Top - 10, name, Letters - 1);
            x += 27 + 7 * name.Length + 16;
        }
    }

    /// <summary>Each column from its lowest to its highest: a spike of a minute in a year is still seen.</summary>
    private static string Line(TrendCurve curve, Func<double, double> shown, Frame plot, Scale up)
    {
        var path = new PathText();
        var isDown = false;
        for (var i = 0; i < curve.Mean.Length; i++)
        {
            if (double.IsNaN(curve.Mean[i]))
            {
                isDown = false;
                continue;
            }
            var x = plot.Left + (i + 0.5) * plot.Width / curve.Mean.Length;
            double low = up.Within(shown(curve.Low[i])), high = up.Within(shown(curve.High[i]));
            if (isDown)
                path.Line(x, low);
            else
                path.Move(x, low);
            path.Line(x, high);
            path.Line(x, up.Within(shown(curve.Mean[i])));
            isDown = true;
        }
        return path.ToString();
    }

    private static void Ribbon(SvgWriter svg, TrendCurve states, Frame frame)
    {
        foreach (var (first, count, state) in TrendChoice.Runs(states))
        {
            var column = frame.Width / states.Mean.Length;
            var run = new Frame(frame.Left + first * column, frame.Top, count * column, frame.Height);
            svg.Rectangle(run, "edge");
            var name = TrendChoice.State(states, state);
            if (run.Width > 7 * name.Length + 4)
                svg.Text(run.Left + run.Width / 2, run.Bottom - 7, name, Letters - 1, Anchor.Middle);
        }
    }
}
