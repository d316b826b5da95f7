// A room's day: the true air in its wanted band, the water and the worst-case dew point on the same axis, doors, and the stages as a ribbon in
// words. Must never show what the controller believed as the truth: only the dew point is its own, and is called so.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws the day of a room.</summary>
internal sealed class RoomDayPicture(RunWindow window, ReportUnits units)
{
    private static readonly KeyEntry[] Entries =
    [
        new("air", "room air"), new("water", "water in its surfaces"), new("dew", "dew point, worst case"),
        new("band", "wanted", true), new("open", "door or window open", true, Patterns.Open),
    ];

    private readonly RoomAxis _axis = RoomAxis.Of(window, units);

    /// <summary>The pictures of a room on a sheet, one below the other.</summary>
    internal IEnumerable<string> Draw(int room, Sheet sheet) => TimeAxis.Panels(window, sheet).Select((panel, n) => One(room, panel, sheet, n == 0));

    private string One(int room, Stretch stretch, Sheet sheet, bool hasKey)
    {
        var time = new TimeAxis(window, stretch, sheet);
        var record = window.Run.Rooms[room];
        var top = hasKey ? Key.Height(Entries, sheet) + 4 : 2;
        var plot = new Frame(time.Left, top + sheet.Letters + 8, time.Width, sheet.Narrow ? 170 : 200);
        var ribbon = new Frame(plot.Left, plot.Bottom + 12, plot.Width, sheet.Letters + 11);
        var svg = new SvgWriter(sheet.Width, ribbon.Bottom + time.Height, $"{record.Title}, {window.Day(stretch.First)}", "picture room-day");
        if (hasKey)
            Key.Draw(svg, Entries, sheet, 0);
        var up = new Scale(_axis.Low, _axis.High, plot.Bottom, plot.Top);
        var doors = new DoorMarks(window, time);
        Band(svg, record, time, up);
        doors.Areas(svg, record, plot);
        time.Grid(svg, plot.Top, plot.Bottom);
        _axis.Draw(svg, plot, up, sheet);
        Lines(svg, room, time, up);
        doors.Words(svg, record, plot);
        new StageRibbon(time).Draw(svg, record, ribbon);
        time.Names(svg, ribbon.Bottom);
        return svg.End();
    }

    private void Lines(SvgWriter svg, int room, TimeAxis time, Scale up)
    {
        var record = window.Run.Rooms[room];
        svg.Path(Line(sample => record.WorstDewC[sample]), "dew");
        svg.Path(Line(sample => Margins.Water(window.Run, room, sample)), "water");
        svg.Path(Line(sample => record.TrueAirC[sample]), "air");

        string Line(Func<int, double> celsius)
        {
            var values = new double[time.Stretch.Count];
            for (var i = 0; i < values.Length; i++)
                values[i] = units.Temperature(celsius(time.Stretch.First + i));
            return Decimate.Line(values, time.Across, up);
        }
    }

    /// <summary>The wanted band. One open end reaches to the edge of the picture; where neither is set there is none.</summary>
    private void Band(SvgWriter svg, RoomRecord record, TimeAxis time, Scale up)
    {
        foreach (var (left, right, (low, high)) in Decimate.Runs(time.Stretch.Count, i => (record.HeatBelowC[time.Stretch.First + i], record.CoolAboveC[time.Stretch.First + i]), time.Across))
        {
            if (float.IsNaN(low) && float.IsNaN(high))
                continue;
            var bottom = float.IsNaN(low) ? up.AtLow : up.Within(units.Temperature(low));
            var top = float.IsNaN(high) ? up.AtHigh : up.Within(units.Temperature(high));
            svg.Rectangle(new Frame(left, top, right - left, bottom - top), "band");
            if (!float.IsNaN(high))
                svg.Line(left, top, right, top, "limit");
            if (!float.IsNaN(low))
                svg.Line(left, bottom, right, bottom, "limit");
        }
    }
}

/// <summary>The axis of temperature all rooms share, shown unit.</summary>
internal sealed record RoomAxis(double Low, double High, ReportUnits Units)
{
    /// <summary>Heating water above this lies on the edge of the picture, or the band would be a line, °C.</summary>
    private const double HighestWaterC = 34;

    internal static RoomAxis Of(RunWindow window, ReportUnits units)
    {
        double low = 20, high = 24;
        for (var room = 0; room < window.Run.Rooms.Length; room++)
        {
            var record = window.Run.Rooms[room];
            for (var i = window.All.First; i < window.All.End; i++)
            {
                Take(record.TrueAirC[i]);
                Take(record.WorstDewC[i]);
                Take(record.HeatBelowC[i]);
                Take(record.CoolAboveC[i]);
                Take(Math.Min(Margins.Water(window.Run, room, i), HighestWaterC));
            }
        }
        var step = units.TemperatureStep;
        return new RoomAxis(Math.Floor(units.Temperature(low - 0.3) / step) * step, Math.Ceiling(units.Temperature(high + 0.3) / step) * step, units);

        void Take(double celsius)
        {
            if (double.IsNaN(celsius))
                return;
            (low, high) = (Math.Min(low, celsius), Math.Max(high, celsius));
        }
    }

    internal void Draw(SvgWriter svg, Frame plot, Scale up, Sheet sheet)
    {
        var step = Units.TemperatureStep;
        while ((High - Low) / step * (sheet.Letters + 6) > plot.Height)
            step *= 2;
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(step), value => ReportUnits.Plain(value, 0), sheet.Letters, sheet.Letters - 0.5);
        svg.Text(plot.Left - 5, plot.Top - sheet.Letters * 0.75, Units.TemperatureUnit, sheet.Letters - 0.5, Anchor.End, "quiet");
    }
}
