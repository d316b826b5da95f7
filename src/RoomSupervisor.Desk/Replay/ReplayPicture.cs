// A replay with other settings as one SVG file that stands alone: each output that differs with its course as it was and as it would have been. Never more than one shape per curve.
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Runtime.Recording;

namespace RoomSupervisor.Desk.Replay;

/// <summary>Draws it.</summary>
public static class ReplayPicture
{
    private const double Width = 800, Left = 48, Right = 776, Letters = 12, Panel = 74, Gap = 34;

    /// <summary>Outputs drawn at most.</summary>
    private const int Most = 8;

    private const string Light = "--c0:#1d262c;--c1:#a5480a;", Dark = "--c0:#f0f1ec;--c1:#f0a060";

    private const string Rules = """
        path,line.c0,line.c1{fill:none;stroke-width:1.6;stroke-linejoin:round;stroke-linecap:round}.c0{stroke:var(--c0)}.c1{stroke:var(--c1);stroke-dasharray:6 3}
        """;

    /// <summary>The picture as the text of an SVG file.</summary>
    public static string Draw(ReplayOutcome outcome, ReplayMeasures measures, string settings)
    {
        var curves = ReplayReport.Changed(measures).Take(Most).ToList();
        var title = $"{settings}: {ReplayReport.Local(outcome, outcome.FromUtc)} to {ReplayReport.Local(outcome, outcome.ToUtc)} (local time)";
        var svg = new SvgWriter(Width, 70 + Math.Max(1, curves.Count) * (Panel + Gap) + 10, title, "replay");
        svg.Text(Left, 22, title, Letters + 2);
        svg.Line(Left, 38, Left + 22, 38, "c0");
        svg.Text(Left + 27, 42, "as it was", Letters - 1);
        svg.Line(Left + 110, 38, Left + 132, 38, "c1");
        svg.Text(Left + 137, 42, "as it would have been, with the air as it was recorded", Letters - 1);
        if (curves.Count == 0)
            svg.Text(Left, 70, "nothing would have been otherwise", Letters, className: "quiet");
        for (var i = 0; i < curves.Count; i++)
            Draw(svg, outcome, measures, curves[i], new Frame(Left, 70 + i * (Panel + Gap), Right - Left, Panel), i == curves.Count - 1);
        return StandAlone.End(svg, Light, Dark, Rules);
    }

    private static void Draw(SvgWriter svg, ReplayOutcome outcome, ReplayMeasures measures, ReplayCurve curve, Frame plot, bool isLast)
    {
        var up = new Scale(0, ReplayReport.Full(curve), plot.Bottom, plot.Top);
        svg.Text(plot.Left, plot.Top - 5, curve.Id, Letters - 1);
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(up.Step(3)), value => XmlText.Number(value), Letters, Letters - 2);
        for (var quarter = 0; quarter <= 4; quarter++)
        {
            var x = plot.Left + quarter * plot.Width / 4;
            svg.Line(x, plot.Top, x, plot.Bottom, "grid");
            if (isLast)
                svg.Text(x, plot.Bottom + 16, ReplayReport.Local(outcome, measures.FromUtc + quarter / 4.0 * curve.Columns.Length * ReplayMeasures.ColumnLength)[11..], Letters - 1, Anchor.Middle, "quiet");
        }
        svg.Rectangle(plot, "edge");
        svg.Path(Line(curve, column => column.Was, plot, up), "c0");
        svg.Path(Line(curve, column => column.Would, plot, up), "c1");
    }

    private static string Line(ReplayCurve curve, Func<(double Was, double Would), double> of, Frame plot, Scale up)
    {
        var path = new PathText();
        var isDown = false;
        for (var i = 0; i < curve.Columns.Length; i++)
        {
            var value = of(curve.Columns[i]);
            if (!double.IsFinite(value))
            {
                isDown = false;
                continue;
            }
            var (x, y) = (plot.Left + (i + 0.5) * plot.Width / curve.Columns.Length, up.Within(value));
            if (isDown)
                path.Line(x, y);
            else
                path.Move(x, y);
            isDown = true;
        }
        return path.ToString();
    }
}
