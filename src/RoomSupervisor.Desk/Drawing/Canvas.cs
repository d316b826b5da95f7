// A sheet that grows with what is drawn on it: strokes are kept until its size is known. Must never draw outside its frame.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>Collects strokes.</summary>
internal sealed class Canvas
{
    private const double Margin = 16;

    private readonly List<Action<SvgWriter>> strokes = [];

    /// <summary>Right edge of all that was drawn.</summary>
    public double Right { get; private set; }

    /// <summary>Lower edge of all that was drawn.</summary>
    public double Bottom { get; private set; }

    public void Line(double x1, double y1, double x2, double y2, string className)
    {
        Reach(Math.Max(x1, x2), Math.Max(y1, y2));
        strokes.Add(svg => svg.Line(x1, y1, x2, y2, className));
    }

    public void Rectangle(double left, double top, double width, double height, string className)
    {
        Reach(left + width, top + height);
        strokes.Add(svg => svg.Rectangle(new Frame(left, top, width, height), className));
    }

    public void Circle(double x, double y, double radius, string className)
    {
        Reach(x + radius, y + radius);
        strokes.Add(svg => svg.Circle(x, y, radius, className));
    }

    /// <summary>A line through several places; closed and filled when asked.</summary>
    public void Path(string className, bool isClosed, params ReadOnlySpan<(double X, double Y)> places)
    {
        var path = new PathText();
        path.Move(places[0].X, places[0].Y);
        foreach (var (x, y) in places[1..])
            path.Line(x, y);
        foreach (var (x, y) in places)
            Reach(x, y);
        if (isClosed)
            path.Close();
        var data = path.ToString();
        strokes.Add(svg => svg.Path(data, className));
    }

    public void Text(double x, double y, string text, double letters, Anchor anchor = Anchor.Start, string className = "", string point = "")
    {
        var width = TextWidth.Of(text, letters, className == "strong");
        Reach(anchor switch { Anchor.Start => x + width, Anchor.Middle => x + width / 2, _ => x }, y + 0.3 * letters);
        strokes.Add(svg => svg.Text(x, y, text, letters, anchor, className, point));
    }

    /// <summary>The file as text.</summary>
    public string End(string label, string light, string dark, string rules)
    {
        var svg = new SvgWriter(Math.Ceiling(Right + Margin), Math.Ceiling(Bottom + Margin), label, "schematic");
        svg.Rectangle(new Frame(Margin / 2, Margin / 2, Math.Ceiling(Right), Math.Ceiling(Bottom)), "edge");
        foreach (var stroke in strokes)
            stroke(svg);
        return StandAlone.End(svg, light, dark, rules);
    }

    private void Reach(double x, double y) => (Right, Bottom) = (Math.Max(Right, x), Math.Max(Bottom, y));
}
