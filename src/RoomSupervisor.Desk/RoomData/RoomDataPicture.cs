// A pull-down as it was foreseen and as it came, as one SVG file that stands alone. Light and dark by the reader's own wish. Must never tell curves apart by colour alone.
using System.Globalization;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.RoomData;

/// <summary>Draws prediction against reality.</summary>
public static class RoomDataPicture
{
    private const double Width = 640, Height = 380, Left = 60, Right = 620, Top = 96, Bottom = 330;

    private const string Light = "--data:#1f5fa8;--typed:#a5480a;", Dark = "--data:#7db6f2;--typed:#f0a060";

    private const string Rules = """
        path,line{fill:none;stroke-width:1.8}
        .came{stroke:var(--ink)}.data{stroke:var(--data);stroke-dasharray:8 3}.typed{stroke:var(--typed);stroke-dasharray:2 3}
        """;

    /// <summary>The picture as the text of an SVG file; null: no pull-down has been foreseen yet.</summary>
    /// <param name="house">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="data">What was measured of it.</param>
    public static string? Draw(House house, int room, in RoomDataMemory data)
    {
        ArgumentNullException.ThrowIfNull(house);
        if (data.Last.Count < 3)
            return null;
        var last = data.Last;
        var (low, high) = Range(last);
        var title = $"{house.Rooms[room].Id.Replace('-', ' ')}: a pull-down foreseen and as it came";
        var svg = new SvgWriter(Width, Height, title, "room data");
        svg.Text(Left, 24, title, 15);
        (string Words, string Class, double At)[] legend = [("by its sensor", "came", 0), ("foreseen with measured data", "data", 130), ("foreseen as typed in", "typed", 350)];
        foreach (var (words, name, at) in legend)
        {
            svg.Line(Left + at, 52, Left + at + 24, 52, name);
            svg.Text(Left + at + 30, 56, words, 12);
        }
        svg.Text(Left, 76, RoomDataLines.Use(house, room, data), 10, className: "quiet");
        var minutes = (last.Count - 1) * last.EveryS / 60;
        for (var i = 0; i <= 4; i++)
        {
            var (y, x) = (Bottom - i * (Bottom - Top) / 4, Left + i * (Right - Left) / 4);
            svg.Line(Left, y, Right, y, "grid");
            svg.Text(Left - 8, y + 4, Quantities.Show(low + i * (high - low) / 4, Quantity.Temperature, house.Units), 11, Anchor.End, "quiet");
            svg.Text(x, Bottom + 20, (i * minutes / 4).ToString("0.#", CultureInfo.InvariantCulture) + " min", 11, Anchor.Middle, "quiet");
        }
        svg.Path(Curve(last, last.Came, low, high).ToString(), "came");
        svg.Path(Curve(last, last.ByData, low, high).ToString(), "data");
        svg.Path(Curve(last, last.ByTyped, low, high).ToString(), "typed");
        return StandAlone.End(svg, Light, Dark, Rules);
    }

    /// <summary>Lowest and highest of the three curves with something to spare, °C.</summary>
    internal static (double Low, double High) Range(Foreseen last)
    {
        var (low, high) = (double.MaxValue, double.MinValue);
        for (var i = 0; i < last.Count; i++)
        {
            low = Math.Min(low, Math.Min(last.Came[i], Math.Min(last.ByData[i], last.ByTyped[i])));
            high = Math.Max(high, Math.Max(last.Came[i], Math.Max(last.ByData[i], last.ByTyped[i])));
        }
        return (low - 0.1, high + 0.1);
    }

    /// <summary>Value between two points.</summary>
    internal static double At(Foreseen.Points points, double at)
    {
        var i = (int)Math.Min(at, Foreseen.Most - 2);
        return points[i] + (at - i) * (points[Math.Min(i + 1, Foreseen.Most - 1)] - points[i]);
    }

    private static PathText Curve(Foreseen last, Foreseen.Points points, double low, double high)
    {
        var path = new PathText();
        for (var i = 0; i < last.Count; i++)
        {
            var (x, y) = (Left + i * (Right - Left) / (last.Count - 1), Bottom - (points[i] - low) / (high - low) * (Bottom - Top));
            if (i == 0)
                path.Move(x, y);
            else
                path.Line(x, y);
        }
        return path;
    }
}
