// Puts words where no other words stand. Must never let two texts overlap: a text without a free place is left out (a mark keeps its leader).
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Places labels.</summary>
internal static class Placing
{
    /// <summary>Rectangle a text takes.</summary>
    internal static Frame Box(double x, double y, string text, double letters, Anchor anchor, bool isBold = false)
    {
        var width = TextWidth.Of(text, letters, isBold);
        var left = anchor switch { Anchor.Start => x, Anchor.End => x - width, _ => x - width / 2 };
        return new Frame(left, y - letters * 0.85, width, letters * 1.1);
    }

    /// <summary>Writes a text at the first of some places that is free and inside; false when none is.</summary>
    internal static bool Put(SvgWriter svg, string text, double letters, string className, List<Frame> taken, Frame inside, params ReadOnlySpan<(double X, double Y, Anchor Anchor)> places)
    {
        foreach (var (x, y, anchor) in places)
        {
            var box = Box(x, y, text, letters, anchor, className.Contains("strong", StringComparison.Ordinal));
            if (box.Left < inside.Left - 0.5 || box.Right > inside.Right + 0.5 || box.Top < inside.Top - 0.5 || box.Bottom > inside.Bottom + 0.5 || taken.Exists(box.Hits))
                continue;
            svg.Text(x, y, text, letters, anchor, className);
            taken.Add(box);
            return true;
        }
        return false;
    }

    /// <summary>Writes a text beside a mark, farther and farther out, with a leader.</summary>
    internal static void Around(SvgWriter svg, double x, double y, string text, double letters, string className, List<Frame> taken, Frame inside)
    {
        for (double far = 18; far < 100; far += 6)
            for (var turn = 0; turn < 16; turn++)
            {
                var angle = (turn * 3 % 16 - 4) * Math.PI / 8;
                double cx = x + far * Math.Cos(angle), cy = y + far * Math.Sin(angle);
                if (!Put(svg, text, letters, className, taken, inside, (cx, cy + letters * 0.35, Anchor.Middle)))
                    continue;
                svg.Line(x + 4 * Math.Cos(angle), y + 4 * Math.Sin(angle), x + (far - 6) * Math.Cos(angle), y + (far - 6) * Math.Sin(angle), "leader");
                return;
            }
    }

    /// <summary>Spreads wanted heights so that neighbours are at least a distance apart, as little as possible, inside limits.</summary>
    internal static double[] Spread(double[] wanted, double apart, double lowest, double highest)
    {
        var order = Enumerable.Range(0, wanted.Length).OrderBy(n => wanted[n]).ToArray();
        var placed = new double[wanted.Length];
        var last = lowest - apart;
        foreach (var n in order)
            last = placed[n] = Math.Max(wanted[n], last + apart);
        var next = highest + apart;
        foreach (var n in order.Reverse())
            next = placed[n] = Math.Min(placed[n], next - apart);
        return placed;
    }
}
