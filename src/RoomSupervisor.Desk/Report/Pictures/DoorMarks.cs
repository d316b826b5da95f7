// Openings in a room's day: a hatched strip and, above the plot, when. Must never let two marks stand on each other: the second is left out, its strip stays.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws openings.</summary>
internal sealed class DoorMarks(RunWindow window, TimeAxis time)
{
    /// <summary>Hatched strips; the shortest opening is still seen.</summary>
    internal void Areas(SvgWriter svg, RoomRecord room, Frame plot)
    {
        foreach (var (first, end) in Openings(room))
        {
            var left = time.Across.At(first);
            svg.Rectangle(new Frame(left, plot.Top, Math.Max(time.Across.At(end) - left, 1.5), plot.Height), "open", Patterns.Open);
        }
    }

    /// <summary>Times of openings above the plot.</summary>
    internal void Words(SvgWriter svg, RoomRecord room, Frame plot)
    {
        var letters = time.Sheet.Letters - 1;
        var freeFrom = plot.Left + 4;
        foreach (var (first, end) in Openings(room))
        {
            var text = $"open {window.Clock(time.Stretch.First + first)}–{window.Clock(time.Stretch.First + end)}";
            var width = 13 + TextWidth.Of(text, letters);
            var (from, to) = (time.Across.At(first), time.Across.At(end));
            var left = Math.Clamp((from + to - width) / 2, plot.Left + 4, Math.Max(plot.Right - width, plot.Left + 4));
            if (left < freeFrom)
                continue;
            Leaf(svg, left, plot.Top - 4);
            svg.Text(left + 13, plot.Top - 5, text, letters, Anchor.Start, "door");
            freeFrom = left + width + 8;
        }
    }

    /// <summary>A door as on a plan: its leaf and the quarter circle it swings.</summary>
    private static void Leaf(SvgWriter svg, double x, double bottom)
        => svg.Path($"M{XmlText.Number(x)} {XmlText.Number(bottom)}v-10a10 10 0 0 1 10 10z", "leaf");

    private IEnumerable<(int First, int End)> Openings(RoomRecord room)
    {
        for (var i = 0; i < time.Stretch.Count; i++)
        {
            if (!room.Open[time.Stretch.First + i])
                continue;
            var first = i;
            while (i < time.Stretch.Count && room.Open[time.Stretch.First + i])
                i++;
            yield return (first, i);
        }
    }
}
