// The piping and control schematic of a site as one SVG that stands alone, laid out by itself: sources at the left, a band for each loop, a column for each room. A house with many
// rooms goes on below. Must never leave out a wired point, nor draw what the site file does not know.
using System.Globalization;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>Draws schematics.</summary>
public static class Schematic
{
    /// <summary>Wider than this and a sheet of A4 makes letters too small to read, pixels (10 pixels are 2.2 mm on 277 mm).</summary>
    private const double WidestOnA4 = 1250;

    private const string Light = "--supply:#1f5fa8;--return:#5d6d7c;--signal:#5a6670;", Dark = "--supply:#7db6f2;--return:#9aa9b5;--signal:#a2adb4;";

    private const string Rules = """
        .pipe{fill:none;stroke-width:2}.out{stroke:var(--supply)}.back{stroke:var(--return);stroke-dasharray:9 4}
        .signal{fill:none;stroke:var(--signal);stroke-width:.9;stroke-dasharray:2.5 2.5}
        .symbol{fill:var(--paper);stroke:var(--ink);stroke-width:1.3;stroke-linejoin:round}.solid{fill:var(--ink);stroke:none}.stroke{fill:none;stroke:var(--ink);stroke-width:1.1}
        .instrument{fill:var(--paper);stroke:var(--ink);stroke-width:1}.dot{fill:var(--ink)}
        .room{stroke:var(--grid);stroke-width:1}.head{fill:none;stroke:var(--quiet);stroke-width:1}
        text.strong{font-weight:600}text.letters{font-weight:600}
        """;

    /// <summary>The drawing.</summary>
    /// <param name="files">The site as read.</param>
    /// <param name="facts">For its foot.</param>
    public static string Draw(SiteFiles files, PaperFacts facts)
    {
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(facts);
        return End(new SchematicSheet(SchematicParts.Of(files)).Draw(facts), files);
    }

    /// <summary>The drawing as a page, with the list of what stands on it.</summary>
    /// <param name="files">The site as read.</param>
    /// <param name="facts">For its foot.</param>
    public static Paper Page(SiteFiles files, PaperFacts facts)
    {
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(facts);
        var sheets = Sheets(files, facts);
        var points = files.Wiring.GroupBy(wire => wire.PointId).Select(wires => (IReadOnlyList<string>)
            [wires.Key, PointWords.Of(wires.Key).Letters, PointWords.Of(wires.Key).Words, wires.First().Device, string.Join(", ", wires.Select(wire => wire.Channel))]);
        return new Paper("piping and control schematic", files.House.Name, "",
        [
            .. sheets.Select((sheet, i) => new Section(sheets.Count == 1 ? "Schematic" : string.Create(CultureInfo.InvariantCulture, $"Schematic, sheet {i + 1} of {sheets.Count}"), [new Drawn(End(sheet, files))]) { OnPaperOnly = true, OnNewSheet = i > 0 }),
            new Section("Points on it", [new Table(["point", "letters", "what", "device", "channel"], [.. points])]) { OnNewSheet = true },
            new Section("Cautions", [new Bullets(Cautions.Drawing)]) { IsFramed = true },
        ])
        { Sheet = sheets.Max(sheet => sheet.Right) > WidestOnA4 ? "A3 landscape" : "A4 landscape" };
    }

    /// <summary>One sheet for each row of rooms: a whole house of a dozen rooms on one sheet of paper is too small to read.</summary>
    internal static IReadOnlyList<Canvas> Sheets(SiteFiles files, PaperFacts facts)
    {
        var parts = SchematicParts.Of(files);
        return [.. Enumerable.Range(0, new SchematicSheet(parts).Rows).Select(row => new SchematicSheet(parts).Draw(facts, row))];
    }

    /// <summary>A sheet as the text of a picture.</summary>
    internal static string End(Canvas sheet, SiteFiles files) => sheet.End($"{files.House.Name}: piping and control schematic", Light, Dark, Rules);
}

/// <summary>Where things stand across the sheet, pixels.</summary>
/// <param name="Back">The vertical return.</param>
/// <param name="Out">The vertical supply.</param>
/// <param name="Slots">Where mixing valve, pump and sensors of a loop begin.</param>
/// <param name="Pump">Where the pump's slot begins.</param>
/// <param name="Sensors">Where the sensors' slot begins.</param>
/// <param name="Columns">Where the rooms begin.</param>
internal sealed record Across(double Back, double Out, double Slots, double Pump, double Sensors, double Columns);

/// <summary>Lays the sheet out and draws it.</summary>
internal sealed class SchematicSheet(SchematicParts parts)
{
    /// <summary>Most columns side by side in the first row, beside the sources, and their greatest width together, pixels; rows below are as wide as the sheet.</summary>
    private const int MostColumns = 7;

    private const double WidestColumns = 1340, Edge = 24, TitleLetters = 17, HeadLetters = 12, Gap = 18;

    private readonly Canvas canvas = new();

    /// <summary>Rows of rooms under each other.</summary>
    public int Rows => Blocks(Plan().Columns + WidestColumns).Count;

    /// <summary>Draws it.</summary>
    /// <param name="facts">For its foot.</param>
    /// <param name="only">The one row of rooms to draw; −1: all under each other.</param>
    public Canvas Draw(PaperFacts facts, int only = -1)
    {
        var across = Plan();
        var blocks = Blocks(across.Columns + WidestColumns);
        var top = Edge;
        for (var i = 0; i < blocks.Count; i++)
        {
            if (only >= 0 && i != only)
                continue;
            var isFirst = i == 0;
            var left = isFirst ? across.Columns : Edge + SchematicBand.FromAbove;
            var heads = Math.Max(Heads(blocks[i], left, top), isFirst ? Title(top) : 0);
            top = Bands(blocks, i, across, left, top + heads + Gap) + Gap;
        }
        SchematicKey.Draw(canvas, parts, facts, Edge, canvas.Bottom + Gap);
        return canvas;
    }

    private Across Plan()
    {
        var plant = parts.Sources.Select(source => SchematicPlant.WidthOf(source)).Max();
        var title = Math.Max(TextWidth.Of(parts.Site, TitleLetters, true), Symbols.WidthOf(parts.Others));
        var back = Edge + plant + Gap;
        var slots = back + 2 * Gap + 4;
        var pump = slots + (parts.Loops.Any(loop => loop.IsMixed) ? SchematicBand.MixingAt + Symbols.WidthOf(parts.Loops.SelectMany(loop => loop.Mixing)) + Gap : Gap);
        var sensors = pump + Math.Max(SchematicBand.PumpWidth, SchematicBand.RowsAt + Symbols.WidthOf(parts.Loops.SelectMany(loop => loop.Pump))) + 8;
        var columns = sensors + SchematicBand.RowsAt + Symbols.WidthOf(parts.Loops.SelectMany(loop => loop.Sensors.Concat(loop.Return))) + Gap;
        var titles = parts.Loops.Select(loop => slots + TextWidth.Of(loop.Title, HeadLetters, true)).Max();
        return new Across(back, back + Gap, slots, pump, sensors, new[] { columns, titles + Gap, Edge + title + Gap }.Max());
    }

    /// <summary>Columns in rows of what fits side by side.</summary>
    private List<List<DrawnColumn>> Blocks(double right)
    {
        List<List<DrawnColumn>> blocks = [[]];
        foreach (var column in parts.Columns)
        {
            var last = blocks[^1];
            var room = blocks.Count == 1 ? WidestColumns : right - Edge - SchematicBand.FromAbove;
            if ((last.Count == MostColumns && blocks.Count == 1) || (last.Count > 0 && last.Sum(WidthOf) + WidthOf(column) > room))
                blocks.Add([column]);
            else
                last.Add(column);
        }
        return blocks;
    }

    private static double WidthOf(DrawnColumn column) => new[]
    {
        TextWidth.Of(column.Title, HeadLetters, true) + 20, TextWidth.Of(column.Under, Symbols.Letters) + 20, Symbols.WidthOf(column.Points) + 20,
        column.Emitters.Select(onLoop => onLoop.Sum(SchematicBand.WidthOf)).DefaultIfEmpty(0).Max(),
    }.Max() + 10;

    private double Title(double top)
    {
        canvas.Text(Edge, top + 18, parts.Site, TitleLetters, className: "strong");
        canvas.Text(Edge, top + 36, "piping and control schematic", Symbols.Letters + 1, className: "quiet");
        Symbols.Instruments(canvas, Edge + Symbols.Radius, top + 60, parts.Others);
        return 60 + Symbols.Row * parts.Others.Count;
    }

    private double Heads(List<DrawnColumn> columns, double left, double top)
    {
        var height = columns.Max(column => 46 + Symbols.Row * column.Points.Count);
        foreach (var column in columns)
        {
            var width = WidthOf(column);
            canvas.Rectangle(left, top, width - 8, height, "head");
            canvas.Text(left + 8, top + 17, column.Title, HeadLetters, className: "strong");
            canvas.Text(left + 8, top + 31, column.Under, Symbols.Letters, className: "quiet");
            Symbols.Instruments(canvas, left + 8 + Symbols.Radius, top + 49, column.Points);
            left += width;
        }
        return height;
    }

    private double Bands(List<List<DrawnColumn>> blocks, int block, Across across, double left, double top)
    {
        var y = top;
        foreach (var (source, index) in parts.Sources.Select((source, index) => (source, index)))
        {
            var loops = parts.Loops.Where(loop => loop.Source == index && (block == 0 || blocks[block].Any(column => column.Emitters[loop.Index].Any()))).ToList();
            var begin = y;
            List<SchematicBand> bands = [];
            foreach (var loop in loops)
            {
                var columns = new List<(DrawnColumn Column, double Left)>();
                var x = left;
                foreach (var column in blocks[block])
                {
                    columns.Add((column, x));
                    x += WidthOf(column);
                }
                var goesOn = blocks.Skip(block + 1).Any(later => later.Any(column => column.Emitters[loop.Index].Any()));
                bands.Add(new SchematicBand(canvas, loop, across, columns, y) { IsFirst = block == 0, GoesOnTo = goesOn ? x : double.NaN });
                y = bands[^1].Bottom;
            }
            if (block == 0)
                y = Math.Max(y, SchematicPlant.Draw(canvas, source, across, Edge, begin, bands));
            bands.ForEach(band => band.Draw());
        }
        return y;
    }
}
