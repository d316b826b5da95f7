// A source at the left of its loops, with the buffer behind it and the tank it charges where the site has them, and the two pipes from which its loops branch.
// Must never draw a buffer or a tank that is not there.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>Draws sources.</summary>
internal static class SchematicPlant
{
    private const double BoxWidth = 104, BoxHeight = 64, Under = 22, SupplyAt = 38, ReturnAt = 70, RowsAt = 34, VesselWidth = 44, VesselHeight = 84, TankHeight = 70, TankRowsAt = 58, Gap = 24;

    /// <summary>Width of a source with what belongs to it.</summary>
    public static double WidthOf(DrawnSource source) => MachineWidth(source) + BufferWidth(source);

    private static double MachineWidth(DrawnSource source) => new[]
    {
        BoxWidth, TextWidth.Of(source.Name, Symbols.Letters + 1, true), RowsAt + Symbols.WidthOf(source.Points), source.Tank is null ? 0 : TankRowsAt + Math.Max(Symbols.WidthOf(source.Tank), TextWidth.Of("hot water", Symbols.Letters + 1, true)),
    }.Max();

    private static double BufferWidth(DrawnSource source)
        => source.Buffer is null ? 0 : Gap + new[] { VesselWidth, TextWidth.Of("buffer", Symbols.Letters + 1, true), Symbols.WidthOf(source.Buffer) }.Max();

    /// <summary>Draws it and returns the height it reaches down to.</summary>
    public static double Draw(Canvas canvas, DrawnSource source, Across across, double left, double top, IReadOnlyList<SchematicBand> bands)
    {
        Pipes(canvas, source, across, left, top, bands);
        canvas.Text(left, top + 14, source.Name, Symbols.Letters + 1, className: "strong");
        canvas.Rectangle(left, top + Under, BoxWidth, BoxHeight, "symbol");
        canvas.Text(left + BoxWidth / 2, top + Under + BoxHeight / 2 + 4, source.Type, Symbols.Letters + 1, Anchor.Middle);
        var rows = top + Under + BoxHeight + 22;
        Symbols.Instruments(canvas, left + RowsAt + Symbols.Radius, rows, source.Points, top + Under + BoxHeight);
        var bottom = Math.Max(top + Under + BoxHeight, rows + Symbols.Row * source.Points.Count);
        if (source.Buffer is { } buffer)
            bottom = Math.Max(bottom, Buffer(canvas, buffer, left + MachineWidth(source) + Gap, top));
        return source.Tank is { } tank ? Tank(canvas, tank, left, top + Under + BoxHeight, rows + Symbols.Row * source.Points.Count) : bottom + 14;
    }

    private static void Pipes(Canvas canvas, DrawnSource source, Across across, double left, double top, IReadOnlyList<SchematicBand> bands)
    {
        if (bands.Count == 0)
            return;
        canvas.Line(left + BoxWidth, top + SupplyAt, across.Out, top + SupplyAt, "pipe out");
        canvas.Line(left + BoxWidth, top + ReturnAt, across.Back, top + ReturnAt, "pipe back");
        canvas.Line(across.Out, Math.Min(top + SupplyAt, bands[0].Supply), across.Out, bands[^1].Supply, "pipe out");
        canvas.Line(across.Back, Math.Min(top + ReturnAt, bands[0].Return), across.Back, bands[^1].Return, "pipe back");
        foreach (var band in bands.SkipLast(1))
        {
            canvas.Circle(across.Out, band.Supply, 2.5, "dot");
            canvas.Circle(across.Back, band.Return, 2.5, "dot");
        }
    }

    private static double Buffer(Canvas canvas, IReadOnlyList<DrawnPoint> points, double left, double top)
    {
        canvas.Text(left, top + 14, "buffer", Symbols.Letters + 1, className: "strong");
        Symbols.Vessel(canvas, left, top + Under, VesselWidth, VesselHeight);
        Symbols.Instruments(canvas, left + Symbols.Radius, top + Under + VesselHeight + 22, points, top + Under + VesselHeight);
        return top + Under + VesselHeight + 22 + Symbols.Row * points.Count;
    }

    private static double Tank(Canvas canvas, IReadOnlyList<DrawnPoint> points, double left, double from, double top)
    {
        canvas.Line(left + 10, from, left + 10, top, "pipe out");
        canvas.Line(left + 22, from, left + 22, top, "pipe back");
        Symbols.Vessel(canvas, left, top, VesselWidth, TankHeight);
        canvas.Text(left + TankRowsAt, top + 10, "hot water", Symbols.Letters + 1, className: "strong");
        Symbols.Instruments(canvas, left + TankRowsAt + Symbols.Radius, top + 32, points);
        if (points.Count > 0)
            canvas.Line(left + VesselWidth, top + 32, left + TankRowsAt, top + 32, "signal");
        return top + Math.Max(TankHeight, 32 + Symbols.Row * points.Count) + 14;
    }
}
