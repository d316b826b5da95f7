// What one hears: fans and background together, energies added. Must never show a fan without the background: nobody hears it so.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws fan levels, a strip a room.</summary>
internal sealed class FanLevelPicture(RunWindow window, double backgroundDba)
{
    /// <summary>Level at the ear with the background, dB(A); the background alone when fans stand still. Energetic sum, definition of the level.</summary>
    internal static double Heard(double fanDba, double backgroundDba)
        => SoundLevel.TrySum([fanDba, backgroundDba], out var sum, out _) ? sum : backgroundDba;

    internal IEnumerable<string> Draw(Sheet sheet) => window.Run.Rooms.Length == 0 ? [] : TimeAxis.Panels(window, sheet).Select(panel => One(panel, sheet));

    private string One(Stretch stretch, Sheet sheet)
    {
        var rooms = window.Run.Rooms;
        var time = new TimeAxis(window, stretch, sheet);
        double strip = 46, row = strip + sheet.Letters + 9;
        var svg = new SvgWriter(sheet.Width, rooms.Length * row + 4 + time.Height, $"Sound in the rooms, {window.Day(stretch.First)}", "picture fans");
        for (var n = 0; n < rooms.Length; n++)
            Strip(svg, rooms[n], time, new Frame(time.Left, n * row + sheet.Letters + 7, time.Width, strip));
        time.Names(svg, rooms.Length * row + 2);
        return svg.End();
    }

    private void Strip(SvgWriter svg, RoomRecord room, TimeAxis time, Frame plot)
    {
        var letters = time.Sheet.Letters;
        var values = new double[time.Stretch.Count];
        for (var i = 0; i < values.Length; i++)
            values[i] = Heard(room.FanLevelDba[time.Stretch.First + i], backgroundDba);
        var low = Math.Floor((backgroundDba - 2) / 5) * 5;
        var up = new Scale(low, Math.Max(low + 20, Math.Ceiling(Highest() / 5) * 5), plot.Bottom, plot.Top);
        svg.Text(plot.Left, plot.Top - 5, TextWidth.Cut(room.Title, letters, plot.Width * 0.6), letters, Anchor.Start);
        var loudest = values.DefaultIfEmpty(backgroundDba).Max();
        svg.Text(plot.Right, plot.Top - 5, loudest < backgroundDba + 0.05 ? "no fan heard" : $"loudest {XmlText.Number(loudest, 0)} dB(A)", letters - 1, Anchor.End, "quiet");
        time.Grid(svg, plot.Top, plot.Bottom);
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(10).Prepend(low).Distinct(), value => XmlText.Number(value, 0), letters, letters - 1.5);
        svg.Line(plot.Left, up.At(backgroundDba), plot.Right, up.At(backgroundDba), "background", backgroundDba);
        var line = Decimate.Line(values, time.Across, up);
        if (line.Length > 0)
            svg.Path($"{line}V{XmlText.Number(up.At(backgroundDba))}H{XmlText.Number(plot.Left)}z", "sound-area");
        svg.Path(line, "sound");
    }

    private double Highest() => window.Run.Rooms.SelectMany(room => room.FanLevelDba.Skip(window.All.First).Take(window.All.Count)).Where(float.IsFinite)
        .Select(fan => Heard(fan, backgroundDba)).DefaultIfEmpty(backgroundDba).Max();
}
