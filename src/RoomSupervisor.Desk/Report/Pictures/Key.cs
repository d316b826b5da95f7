// The key above a picture: a piece of each line and its name, wrapped to the sheet. Must never stand on top of the drawing.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>One entry of a key.</summary>
/// <param name="ClassName">Class of the line or area.</param>
/// <param name="Words">What it is.</param>
/// <param name="IsArea">An area rather than a line.</param>
/// <param name="Pattern">Pattern of an area, or empty.</param>
internal readonly record struct KeyEntry(string ClassName, string Words, bool IsArea = false, string Pattern = "");

/// <summary>Draws keys.</summary>
internal static class Key
{
    private const double Sample = 26;

    /// <summary>Height a key takes on a sheet.</summary>
    internal static double Height(IReadOnlyList<KeyEntry> entries, Sheet sheet) => (Places(entries, sheet).Max(place => place.Row) + 1) * Row(sheet);

    /// <summary>Draws it.</summary>
    internal static void Draw(SvgWriter svg, IReadOnlyList<KeyEntry> entries, Sheet sheet, double top)
    {
        foreach (var (entry, x, row) in Places(entries, sheet))
        {
            var middle = top + (row + 0.5) * Row(sheet);
            if (entry.IsArea)
                svg.Rectangle(new Frame(x, middle - 5.5, Sample, 11), entry.ClassName, entry.Pattern);
            else
                svg.Line(x, middle, x + Sample, middle, entry.ClassName);
            svg.Text(x + Sample + 5, middle + sheet.Letters * 0.35, entry.Words, sheet.Letters - 1);
        }
    }

    private static double Row(Sheet sheet) => sheet.Letters + 6;

    private static List<(KeyEntry Entry, double X, int Row)> Places(IReadOnlyList<KeyEntry> entries, Sheet sheet)
    {
        var places = new List<(KeyEntry Entry, double X, int Row)>();
        double x = 2;
        var row = 0;
        foreach (var entry in entries)
        {
            var width = Sample + 5 + TextWidth.Of(entry.Words, sheet.Letters - 1);
            if (x > 2 && x + width > sheet.Width)
                (x, row) = (2, row + 1);
            places.Add((entry, x, row));
            x += width + 14;
        }
        return places;
    }
}
