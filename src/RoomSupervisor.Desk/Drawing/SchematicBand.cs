// One loop across the sheet: mixing valve, pump, sensors, then what hangs on it, room by room, between supply and return. Must never join pipes that the site keeps apart.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>The band of a loop.</summary>
internal sealed class SchematicBand
{
    /// <summary>Where the instruments of a mixing valve stand, where those of other slots do; width of a pump's symbols; what a continued band needs at its left; pixels.</summary>
    public const double MixingAt = 34, RowsAt = 6, PumpWidth = 66, FromAbove = 66;

    private const double MixingX = 12, FirstRow = 36, LeastHeight = 98, PipeAt = 37, BoxAt = 20, BoxUnder = 40, ValveUnder = 24, InstrumentsAt = 70, NameAt = 50, TitleLetters = 12;

    private readonly Canvas canvas;
    private readonly DrawnLoop loop;
    private readonly Across across;
    private readonly List<(DrawnColumn Column, double Left)> columns;
    private readonly double top;

    public SchematicBand(Canvas canvas, DrawnLoop loop, Across across, List<(DrawnColumn Column, double Left)> columns, double top)
    {
        (this.canvas, this.loop, this.across, this.columns, this.top) = (canvas, loop, across, columns, top);
        var emitters = columns.SelectMany(column => column.Column.Emitters[loop.Index]).ToList();
        var slots = FirstRow + Symbols.Row * Math.Max(1, new[] { loop.Mixing.Count, loop.Pump.Count, loop.Sensors.Count }.Max()) + Symbols.Row * loop.Return.Count;
        var rows = emitters.Select(emitter => FirstRow + Symbols.Row * Math.Max(1, emitter.Points.Count)).DefaultIfEmpty(0).Max();
        Supply = top + (loop.HasStandby ? 58 : 38);
        Return = Supply + new[] { LeastHeight, slots, rows }.Max();
    }

    /// <summary>True for the first band of the loop; later ones continue it.</summary>
    public required bool IsFirst { get; init; }

    /// <summary>Where it goes on to further rooms below; NaN: it ends here.</summary>
    public required double GoesOnTo { get; init; }

    /// <summary>Height of the supply.</summary>
    public double Supply { get; }

    /// <summary>Height of the return.</summary>
    public double Return { get; }

    public double Bottom => Return + 18;

    /// <summary>Width of an emitter with its points.</summary>
    public static double WidthOf(DrawnEmitter emitter)
        => new[] { InstrumentsAt - Symbols.Radius + Symbols.WidthOf(emitter.Points) + 14, NameAt + TextWidth.Of(emitter.Name, Symbols.Letters, true) + 14 }.Max();

    public void Draw()
    {
        var begin = IsFirst ? across.Out : columns[0].Left - FromAbove + 12;
        var end = End();
        canvas.Line(begin, Supply, end, Supply, "pipe out");
        canvas.Line(IsFirst ? across.Back : begin, Return, end, Return, "pipe back");
        canvas.Text(IsFirst ? across.Slots : begin, top + 14, IsFirst ? loop.Title : $"{loop.Title}, continued", TitleLetters, className: "strong");
        if (IsFirst)
            Slots();
        else
            Arrow(begin);
        if (!double.IsNaN(GoesOnTo))
            Arrow(GoesOnTo - 6);
        foreach (var (column, left) in columns)
        {
            canvas.Line(left - 4, Supply - 14, left - 4, Return + 10, "room");   // so that the eye finds the column again
            var x = left;
            foreach (var emitter in column.Emitters[loop.Index])
            {
                Emitter(emitter, x);
                x += WidthOf(emitter);
            }
        }
    }

    /// <summary>The last pipe down, or where it goes on.</summary>
    private double End()
    {
        if (!double.IsNaN(GoesOnTo))
            return GoesOnTo;
        var end = IsFirst ? across.Columns - 4 : columns[0].Left;
        foreach (var (column, left) in columns)
        {
            var x = left;
            foreach (var emitter in column.Emitters[loop.Index])
            {
                end = x + PipeAt;
                x += WidthOf(emitter);
            }
        }
        return end;
    }

    /// <summary>An arrow in both pipes: they go on elsewhere.</summary>
    private void Arrow(double x)
    {
        canvas.Path("solid", true, (x, Supply - 5), (x, Supply + 5), (x + 7, Supply));
        canvas.Path("solid", true, (x + 7, Return - 5), (x + 7, Return + 5), (x, Return));
    }

    private void Slots()
    {
        if (loop.IsMixed)
        {
            var x = across.Slots + MixingX;
            canvas.Line(x, Supply, x, Return, "pipe back");
            canvas.Circle(x, Return, 2.5, "dot");
            Symbols.MixingValve(canvas, x, Supply);
            if (loop.Mixing.Count > 0)
                canvas.Path("signal", false, (x + 8, Supply + 12), (across.Slots + MixingAt + Symbols.Radius, Supply + 12), (across.Slots + MixingAt + Symbols.Radius, Supply + FirstRow - Symbols.Radius));
            Symbols.Instruments(canvas, across.Slots + MixingAt + Symbols.Radius, Supply + FirstRow, loop.Mixing);
        }
        Pumps(across.Pump);
        Symbols.Instruments(canvas, across.Sensors + RowsAt + Symbols.Radius, Supply + FirstRow, loop.Sensors, Supply);
        Returns(across.Sensors + RowsAt + Symbols.Radius);
    }

    private void Pumps(double left)
    {
        var x = left + 22;
        if (loop.HasStandby)
        {
            canvas.Path("pipe out", false, (left + 2, Supply), (left + 2, Supply - 26), (left + 60, Supply - 26), (left + 60, Supply));
            Symbols.Pump(canvas, x, Supply - 26);
            Symbols.CheckValve(canvas, x + 22, Supply - 26);
            Symbols.CheckValve(canvas, x + 22, Supply);
        }
        Symbols.Pump(canvas, x, Supply);
        Symbols.Instruments(canvas, left + RowsAt + Symbols.Radius, Supply + FirstRow, loop.Pump, Supply + Symbols.PumpRadius);
    }

    private void Returns(double x)
    {
        var first = Return - 18 - Symbols.Row * (loop.Return.Count - 1);
        Symbols.Instruments(canvas, x, first, loop.Return);
        if (loop.Return.Count > 0)
            canvas.Line(x, Return - 18 + Symbols.Radius, x, Return, "signal");
    }

    private void Emitter(DrawnEmitter emitter, double left)
    {
        var (pipe, box) = (left + PipeAt, left + BoxAt);
        canvas.Line(pipe, Supply, pipe, Supply + BoxUnder, "pipe out");
        canvas.Line(pipe, Supply + BoxUnder + Symbols.Emitter, pipe, Return, "pipe back");
        canvas.Circle(pipe, Supply, 2.5, "dot");
        canvas.Circle(pipe, Return, 2.5, "dot");
        Symbols.Valve(canvas, pipe, Supply + ValveUnder - 2);
        if (emitter.IsCoil)
            Symbols.Coil(canvas, box, Supply + BoxUnder);
        else
            Symbols.Surface(canvas, box, Supply + BoxUnder);
        canvas.Text(left + NameAt, Supply + 15, emitter.Name, Symbols.Letters, className: "strong");
        var x = left + InstrumentsAt;
        var valve = emitter.Points.Count > 0 && emitter.Points[0].Letters == "TV";
        if (valve)
        {
            canvas.Path("signal", false, (pipe + 6, Supply + ValveUnder - 2), (x, Supply + ValveUnder - 2), (x, Supply + FirstRow - Symbols.Radius));
            Symbols.Instrument(canvas, x, Supply + FirstRow, emitter.Points[0]);
        }
        var rest = valve ? emitter.Points.Skip(1).ToList() : emitter.Points;
        if (rest.Count > 0)
            canvas.Line(box + Symbols.Emitter, Supply + FirstRow + Symbols.Row, x - Symbols.Radius, Supply + FirstRow + Symbols.Row, "signal");
        Symbols.Instruments(canvas, x, Supply + FirstRow + Symbols.Row, rest);
    }
}
