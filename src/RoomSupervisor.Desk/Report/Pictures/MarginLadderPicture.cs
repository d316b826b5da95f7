// The margin ladder: the supply of a loop as a bar, each room's worst-case dew point as a tick, and the gap in degrees to spare, at the tightest
// moment. Must never show a room whose surfaces that water does not pass.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws the ladder.</summary>
internal sealed class MarginLadderPicture(RunWindow window, ReportUnits units, Tightest moment)
{
    private readonly record struct Rung(int Loop, int Room, double SupplyC, double DewC);

    /// <summary>Empty when no water cooled a surface.</summary>
    internal string Draw(Sheet sheet)
    {
        var rungs = moment.Is ? Rungs() : [];
        if (rungs.Count == 0)
            return "";
        var loops = rungs.Select(rung => rung.Loop).Distinct().Count();
        double row = 2 * sheet.Letters + (sheet.Narrow ? 18 : 4), head = sheet.Letters + 11, nameWidth = sheet.Narrow ? 0 : 150;
        var plot = new Frame(nameWidth + 8, 2, sheet.Width - nameWidth - 16 - Beside(rungs, sheet), rungs.Count * row + loops * head + 4);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + sheet.Letters + 8, "Degrees to spare above the dew point", "picture ladder");
        var across = Axis(rungs, plot);
        foreach (var value in across.Ticks(across.Step(sheet.Narrow ? 6 : 10)))
        {
            svg.Line(across.At(value), plot.Top, across.At(value), plot.Bottom, "grid", value);
            svg.Text(across.At(value), plot.Bottom + sheet.Letters + 3, ReportUnits.Plain(value), sheet.Letters - 1, Anchor.Middle, "quiet");
        }
        var top = plot.Top;
        foreach (var group in rungs.GroupBy(rung => rung.Loop))
        {
            Supply(svg, group.First(), across, new Frame(plot.Left, top, plot.Width, head), group.Count() * row, sheet);
            top += head;
            foreach (var rung in group)
            {
                Draw(svg, rung, across, plot, top, row, sheet);
                top += row;
            }
        }
        return svg.End();
    }

    private List<Rung> Rungs()
    {
        var rungs = new List<Rung>();
        for (var loop = 0; loop < window.Run.Loops.Length; loop++)
            for (var room = 0; room < window.Run.Rooms.Length; room++)
                if (!double.IsNaN(Margins.Spare(window.Run, loop, room, moment.Sample)))
                    rungs.Add(new Rung(loop, room, window.Run.Loops[loop].SupplyC[moment.Sample], window.Run.Rooms[room].WorstDewC[moment.Sample]));
        return [.. rungs.OrderBy(rung => rung.Loop).ThenBy(rung => rung.SupplyC - rung.DewC)];
    }

    private Scale Axis(List<Rung> rungs, Frame plot)
    {
        var low = units.Temperature(rungs.Min(rung => Math.Min(rung.DewC, rung.SupplyC)));
        var high = units.Temperature(rungs.Max(rung => Math.Max(rung.DewC, rung.SupplyC)));
        return new Scale(Math.Floor(low - 0.5), Math.Ceiling(high + 0.5), plot.Left, plot.Right);
    }

    /// <summary>The supply of a loop as a bar past all its rooms, named above it at the left.</summary>
    private void Supply(SvgWriter svg, Rung rung, Scale across, Frame head, double height, Sheet sheet)
    {
        var left = sheet.Narrow ? 2 : 8;
        var supply = $": supply {units.TemperatureText(rung.SupplyC)}";
        var title = TextWidth.Cut(window.Run.Loops[rung.Loop].Title, sheet.Letters * 1.12, sheet.Width - left - TextWidth.Of(supply, sheet.Letters, isBold: true));
        svg.Text(left, head.Bottom - 5, title + supply, sheet.Letters, Anchor.Start, "halo strong");
        svg.Rectangle(new Frame(across.At(units.Temperature(rung.SupplyC)) - 3, head.Bottom, 6, height), "supply");
    }

    /// <summary>A room: its name, its tick, and the gap as a dimension line with its figure.</summary>
    private void Draw(SvgWriter svg, Rung rung, Scale across, Frame plot, double top, double row, Sheet sheet)
    {
        var letters = sheet.Letters;
        var (dew, supply, middle) = (across.At(units.Temperature(rung.DewC)), across.At(units.Temperature(rung.SupplyC)), top + row - 12);
        var title = window.Run.Rooms[rung.Room].Title;
        if (sheet.Narrow)
            svg.Text(2, top + letters + 2, TextWidth.Cut(title, letters, sheet.Width - 8), letters, Anchor.Start, "halo");
        else
            svg.Text(plot.Left - 12, middle + letters * 0.35, TextWidth.Cut(title, letters, plot.Left - 16), letters, Anchor.End);
        var isShort = rung.SupplyC < rung.DewC;
        if (isShort)
            svg.Rectangle(new Frame(supply, middle - 5, dew - supply, 10), "short", Patterns.Short);
        svg.Line(dew, middle - 9, dew, middle + 9, "dew-tick", units.Temperature(rung.DewC));
        if (Math.Abs(supply - dew) > 14)
            Dimension(svg, Math.Min(dew, supply), Math.Max(dew, supply), middle, isShort);
        svg.Text(Math.Max(dew, supply) + 9, middle + letters * 0.35, Words(rung), letters, Anchor.Start, "halo strong");
    }

    private string Words(Rung rung)
    {
        var spare = rung.SupplyC - rung.DewC;
        return spare < 0 ? $"{units.DifferenceText(-spare)} short" : $"{units.DifferenceText(spare)} to spare";
    }

    /// <summary>Room right of the axis for the longest figure.</summary>
    private double Beside(List<Rung> rungs, Sheet sheet) => rungs.Max(rung => TextWidth.Of(Words(rung), sheet.Letters, isBold: true));

    /// <summary>A dimension line as on a drawing: thin, an arrow at each end.</summary>
    private static void Dimension(SvgWriter svg, double left, double right, double y, bool isShort)
    {
        if (!isShort)
            right -= 3;
        var path = new PathText();
        path.Move(left + 7, y - 3);
        path.Line(left + 1, y);
        path.Line(left + 7, y + 3);
        path.Move(left + 1, y);
        path.Line(right - 1, y);
        path.Move(right - 7, y - 3);
        path.Line(right - 1, y);
        path.Line(right - 7, y + 3);
        svg.Path(path.ToString(), "dimension");
    }
}
