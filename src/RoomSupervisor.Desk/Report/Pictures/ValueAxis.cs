// Values up the left side of a picture: a line across and its number. Must never decide which values: the scale does.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws the values of a vertical scale.</summary>
internal static class ValueAxis
{
    /// <summary>A line and a number for each value.</summary>
    /// <param name="svg">Where.</param>
    /// <param name="plot">The plot the lines cross.</param>
    /// <param name="at">Pixel of a value on its vertical scale.</param>
    /// <param name="values">The values.</param>
    /// <param name="text">A value as it is written.</param>
    /// <param name="letters">Size of letters that the numbers are centred by, px.</param>
    /// <param name="size">Size of the numbers themselves, px.</param>
    /// <param name="line">Class of a value's line.</param>
    internal static void Draw(SvgWriter svg, Frame plot, Func<double, double> at, IEnumerable<double> values, Func<double, string> text, double letters, double size, Func<double, string>? line = null)
    {
        foreach (var value in values)
        {
            var y = at(value);
            svg.Line(plot.Left, y, plot.Right, y, line?.Invoke(value) ?? "grid", value);
            svg.Text(plot.Left - 5, y + letters * 0.35, text(value), size, Anchor.End, "quiet");
        }
    }
}
