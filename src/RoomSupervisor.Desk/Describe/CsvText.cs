// Cells of comma-separated values (RFC 4180) as they may be opened in a spreadsheet. Must never let a text of a site file become a formula there.
namespace RoomSupervisor.Desk.Describe;

/// <summary>Writing cells.</summary>
internal static class CsvText
{
    /// <summary>Characters with which spreadsheets begin a formula or a command, the full-width ones included (injection by CSV, as the web security literature lists it; from memory).</summary>
    private const string Begins = "=+-@\t\r\n＝＋－＠|%";

    /// <summary>One row.</summary>
    public static void Row(TextWriter to, IEnumerable<string> cells) => to.Write(string.Join(',', cells.Select(Cell)) + "\r\n");

    /// <summary>A cell: quoted where it must be, with an apostrophe before what a spreadsheet would reckon with.</summary>
    public static string Cell(string text)
    {
        var head = text.TrimStart(' ');
        var safe = head.Length > 0 && Begins.Contains(head[0], StringComparison.Ordinal) && !IsNumber(head) ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\r\n;") >= 0 || safe.StartsWith(' ') || safe.EndsWith(' ') ? $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : safe;
    }

    private static bool IsNumber(string text) => double.TryParse(text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out _);
}
