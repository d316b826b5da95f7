// Our own small SVG writer: lines, areas and real text, coloured by classes of the page's style. Must never write what is not well-formed,
// nor a colour of its own: light, dark and paper are the style's business.
using System.Text;

namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Where a text stands beside its point.</summary>
internal enum Anchor : byte
{
    Start, Middle, End,
}

/// <summary>Writes one picture.</summary>
internal sealed class SvgWriter
{
    private readonly StringBuilder _text = new();

    internal SvgWriter(double width, double height, string label, string className)
    {
        _text.Append("<svg class=\"").Append(XmlText.Escape(className)).Append("\" viewBox=\"0 0 ").Append(XmlText.Number(width)).Append(' ')
            .Append(XmlText.Number(height)).Append("\" role=\"img\" aria-label=\"").Append(XmlText.Escape(label)).Append("\" xmlns=\"http://www.w3.org/2000/svg\">\n");
    }

    /// <summary>A straight line; <paramref name="marked"/> is the value a grid line stands for.</summary>
    internal void Line(double x1, double y1, double x2, double y2, string className, double marked = double.NaN)
    {
        Open("line", className);
        Numbers(("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2));
        if (!double.IsNaN(marked))
            _text.Append(" data-v=\"").Append(XmlText.Number(marked, 3)).Append('"');
        _text.Append("/>\n");
    }

    /// <summary>A rectangle; <paramref name="fill"/> names a pattern of <see cref="Patterns"/>, empty for what the class says.</summary>
    internal void Rectangle(Frame frame, string className, string fill = "")
    {
        Open("rect", className);
        Numbers(("x", frame.Left), ("y", frame.Top), ("width", Math.Max(frame.Width, 0)), ("height", Math.Max(frame.Height, 0)));
        Fill(fill);
        _text.Append("/>\n");
    }

    /// <summary>A circle.</summary>
    internal void Circle(double x, double y, double radius, string className)
    {
        Open("circle", className);
        Numbers(("cx", x), ("cy", y), ("r", radius));
        _text.Append("/>\n");
    }

    /// <summary>A path; nothing when it is empty.</summary>
    internal void Path(string data, string className, string fill = "")
    {
        if (data.Length == 0)
            return;
        Open("path", className);
        _text.Append(" d=\"").Append(data).Append('"');
        Fill(fill);
        _text.Append("/>\n");
    }

    /// <summary>Text with its base line at y; <paramref name="point"/> is the id of the point it names.</summary>
    internal void Text(double x, double y, string text, double letters, Anchor anchor = Anchor.Start, string className = "", string point = "")
    {
        if (text.Length == 0)
            return;
        Open("text", className);
        Numbers(("x", x), ("y", y), ("font-size", letters));
        if (anchor != Anchor.Start)
            _text.Append(" text-anchor=\"").Append(anchor == Anchor.End ? "end" : "middle").Append('"');
        if (point.Length > 0)
            _text.Append(" data-point=\"").Append(XmlText.Escape(point)).Append('"');
        _text.Append('>').Append(XmlText.Escape(text)).Append("</text>\n");
    }

    /// <summary>Ends the picture and returns it.</summary>
    internal string End() => _text.Append("</svg>\n").ToString();

    private void Open(string element, string className)
    {
        _text.Append('<').Append(element);
        if (className.Length > 0)
            _text.Append(" class=\"").Append(className).Append('"');
    }

    private void Fill(string pattern)
    {
        if (pattern.Length > 0)
            _text.Append(" fill=\"url(#").Append(pattern).Append(")\"");
    }

    private void Numbers(params ReadOnlySpan<(string Name, double Value)> numbers)
    {
        foreach (var (name, value) in numbers)
            _text.Append(' ').Append(name).Append("=\"").Append(XmlText.Number(value)).Append('"');
    }
}
