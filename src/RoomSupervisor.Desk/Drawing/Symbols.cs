// Standard symbols: pump, valves, vessel, coil, surface (after ISO 14617 and EN 1861, from memory), instruments as circles with letters (ISA-5.1, ISO 14617-6, from memory).
// Shapes only: where they stand and what hangs on them is the layout's business.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>Draws symbols.</summary>
internal static class Symbols
{
    /// <summary>Radius of a pump and of an instrument, pixels; height of a row of instruments; size of a coil or surface.</summary>
    public const double PumpRadius = 11, Radius = 9.5, Row = 23, Emitter = 34;

    /// <summary>Height of ordinary letters, pixels.</summary>
    public const double Letters = 10;

    private const double Half = 8, LabelGap = 14;

    /// <summary>Height of the letters in a circle, pixels: of two; of more, which stand on two lines from four on. Smaller ones nobody reads on paper.</summary>
    private const double TwoLetters = 7.4, MoreLetters = 6.8;

    /// <summary>A pump that pushes to the right: a circle with a triangle in the direction of flow.</summary>
    public static void Pump(Canvas canvas, double x, double y)
    {
        canvas.Circle(x, y, PumpRadius, "symbol");
        canvas.Path("solid", true, (x - 5, y - 9), (x - 5, y + 9), (x + PumpRadius - 0.5, y));
    }

    /// <summary>A check valve that lets pass to the right.</summary>
    public static void CheckValve(Canvas canvas, double x, double y)
    {
        canvas.Path("solid", true, (x - 5, y - 5), (x - 5, y + 5), (x + 4, y));
        canvas.Line(x + 5, y - 6, x + 5, y + 6, "stroke");
    }

    /// <summary>A valve in a pipe from above to below.</summary>
    public static void Valve(Canvas canvas, double x, double y)
        => canvas.Path("symbol", true, (x - 6, y - Half), (x + 6, y - Half), (x - 6, y + Half), (x + 6, y + Half));

    /// <summary>A mixing valve: supply from the left, mixture to the right, return from below.</summary>
    public static void MixingValve(Canvas canvas, double x, double y)
    {
        canvas.Path("symbol", true, (x - Half, y - 6), (x - Half, y + 6), (x, y));
        canvas.Path("symbol", true, (x + Half, y - 6), (x + Half, y + 6), (x, y));
        canvas.Path("solid", true, (x - 6, y + Half), (x + 6, y + Half), (x, y));
    }

    /// <summary>A coil with its fan: a box with a zigzag, a circle with two blades.</summary>
    public static void Coil(Canvas canvas, double left, double top)
    {
        canvas.Rectangle(left, top, Emitter, Emitter, "symbol");
        canvas.Path("stroke", false, (left + 4, top + 9), (left + 11, top + 25), (left + 17, top + 9), (left + 23, top + 25), (left + 30, top + 9));
        Fan(canvas, left - 9, top + Emitter / 2);
    }

    private static void Fan(Canvas canvas, double x, double y)
    {
        canvas.Circle(x, y, 7, "symbol");
        canvas.Path("solid", true, (x, y), (x - 3, y - 6), (x + 3, y - 6));
        canvas.Path("solid", true, (x, y), (x - 3, y + 6), (x + 3, y + 6));
    }

    /// <summary>A surface: a box with a meander; a thick edge where the room is.</summary>
    public static void Surface(Canvas canvas, double left, double top)
    {
        canvas.Rectangle(left, top, Emitter, Emitter, "symbol");
        canvas.Path("stroke", false, (left + 17, top), (left + 17, top + 5), (left + 5, top + 5), (left + 5, top + 11), (left + 29, top + 11), (left + 29, top + 17), (left + 5, top + 17), (left + 5, top + 23),
            (left + 29, top + 23), (left + 29, top + 29), (left + 17, top + 29), (left + 17, top + Emitter));
    }

    /// <summary>A standing vessel.</summary>
    public static void Vessel(Canvas canvas, double left, double top, double width, double height)
        => canvas.Path("symbol", true, (left + 8, top), (left + width - 8, top), (left + width, top + 8), (left + width, top + height - 8), (left + width - 8, top + height), (left + 8, top + height), (left, top + height - 8), (left, top + 8));

    /// <summary>The circle of an instrument with its letters.</summary>
    public static void Circle(Canvas canvas, double x, double y, string letters)
    {
        canvas.Circle(x, y, Radius, "instrument");
        if (letters.Length > 3)
        {
            canvas.Text(x, y - 1, letters[..2], MoreLetters, Anchor.Middle, "letters");
            canvas.Text(x, y + 6.2, letters[2..], MoreLetters, Anchor.Middle, "letters");
            return;
        }
        var size = letters.Length < 3 ? TwoLetters : MoreLetters;
        canvas.Text(x, y + 0.36 * size, letters, size, Anchor.Middle, "letters");
    }

    /// <summary>An instrument with its point beside it.</summary>
    public static void Instrument(Canvas canvas, double x, double y, DrawnPoint point)
    {
        Circle(canvas, x, y, point.Letters);
        canvas.Text(x + LabelGap, y + 3.4, point.Label, Letters, point: point.Id);
    }

    /// <summary>Instruments under each other, joined by a dashed line that goes up to where they belong.</summary>
    /// <param name="canvas">The sheet.</param>
    /// <param name="x">Middle of the circles.</param>
    /// <param name="top">Middle of the first.</param>
    /// <param name="points">What they are.</param>
    /// <param name="from">Height at which the dashed line begins; NaN: none.</param>
    public static void Instruments(Canvas canvas, double x, double top, IReadOnlyList<DrawnPoint> points, double from = double.NaN)
    {
        if (points.Count == 0)
            return;
        if (!double.IsNaN(from))
            canvas.Line(x, from, x, top - Radius, "signal");
        for (var i = 0; i < points.Count; i++)
        {
            if (i > 0)
                canvas.Line(x, top + (i - 1) * Row + Radius, x, top + i * Row - Radius, "signal");
            Instrument(canvas, x, top + i * Row, points[i]);
        }
    }

    /// <summary>Width of a row of instruments from the left of the circle to the end of the text.</summary>
    public static double WidthOf(IEnumerable<DrawnPoint> points)
        => points.Select(point => Radius + LabelGap + TextWidth.Of(point.Label, Letters)).DefaultIfEmpty(0).Max();
}
