// The key under a schematic: letters, lines and symbols that stand on it, cautions, where it was made from. Must never explain what is not on the drawing.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>Draws the key.</summary>
internal static class SchematicKey
{
    private const double Small = 9, RowHeight = 24, Least = 700;

    public static void Draw(Canvas canvas, SchematicParts parts, PaperFacts facts, double left, double top)
    {
        var right = Math.Max(canvas.Right, Least);
        canvas.Line(left, top, right, top, "stroke");
        var (x, y) = (left, top + 22);
        void Item(double width, Action<double, double> symbol, string words)
        {
            var all = width + TextWidth.Of(words, Small) + 20;
            if (x > left && x + all > right)
                (x, y) = (left, y + RowHeight);
            symbol(x, y);
            canvas.Text(x + width, y + 3.2, words, Small, className: "quiet");
            x += all;
        }
        foreach (var letters in LettersOf(parts))
            Item(26, (cx, cy) => Symbols.Circle(canvas, cx + Symbols.Radius, cy, letters), PointWords.Meaning(letters));
        Item(40, (cx, cy) => canvas.Line(cx, cy, cx + 34, cy, "pipe out"), "supply");
        Item(40, (cx, cy) => canvas.Line(cx, cy, cx + 34, cy, "pipe back"), "return");
        Item(40, (cx, cy) => canvas.Line(cx, cy, cx + 34, cy, "signal"), "signal; pipes that cross without a dot are not joined");
        Item(30, (cx, cy) => Symbols.Pump(canvas, cx + 11, cy), "pump");
        Item(22, (cx, cy) => Symbols.Valve(canvas, cx + 8, cy), "valve");
        if (parts.Loops.Any(loop => loop.IsMixed))
            Item(24, (cx, cy) => Symbols.MixingValve(canvas, cx + 8, cy - 2), "mixing valve");
        if (parts.Loops.Any(loop => loop.HasStandby))
            Item(20, (cx, cy) => Symbols.CheckValve(canvas, cx + 6, cy), "check valve");
        y += RowHeight;
        foreach (var caution in Cautions.Drawing)
            y = Wrapped(canvas, caution, left, y, right);
        canvas.Text(left, y, facts.Line, Small, className: "quiet");
    }

    private static double Wrapped(Canvas canvas, string words, double left, double y, double right)
    {
        var line = "";
        foreach (var word in words.Split(' '))
        {
            if (line.Length > 0 && TextWidth.Of($"{line} {word}", Small) > right - left)
            {
                canvas.Text(left, y, line, Small, className: "quiet");
                (line, y) = ("", y + 14);
            }
            line = line.Length == 0 ? word : $"{line} {word}";
        }
        canvas.Text(left, y, line, Small, className: "quiet");
        return y + 14;
    }

    private static IEnumerable<string> LettersOf(SchematicParts parts)
        => parts.Columns.SelectMany(column => column.Points.Concat(column.Emitters.SelectMany(onLoop => onLoop).SelectMany(emitter => emitter.Points)))
            .Concat(parts.Loops.SelectMany(loop => loop.Mixing.Concat(loop.Pump).Concat(loop.Sensors).Concat(loop.Return)))
            .Concat(parts.Sources.SelectMany(source => source.Points.Concat(source.Buffer ?? []).Concat(source.Tank ?? []))).Concat(parts.Others)
            .Select(point => point.Letters).Distinct().Order(StringComparer.Ordinal);
}
