// How wide a text will be, so that words are only put where they fit. Must never be too small: nobody knows the reader's font.
namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Width of text in a sans-serif font, on the wide side.</summary>
internal static class TextWidth
{
    /// <summary>
    /// Width of a text, pixels, from shares of the letter height per class of letter (project choice: as wide as DejaVu Sans, one of the widest;
    /// a browser measured 820 texts of a report in Liberation Sans at 0.90 of this or less).
    /// </summary>
    internal static double Of(string text, double letters, bool isBold = false)
    {
        double sum = 0;
        foreach (var letter in text)
            sum += letter switch
            {
                'i' or 'j' or 'l' or 'I' or '.' or ',' or ':' or ';' or '\'' or '|' or '!' => 0.32,
                ' ' or 'f' or 't' or 'r' or '(' or ')' or '-' or '/' => 0.40,
                '<' or '>' or '=' or '+' or '&' or '×' => 0.84,
                'm' or 'w' or 'M' or 'W' or '%' or '—' or '@' => 0.96,
                >= '0' and <= '9' => 0.62,
                >= 'A' and <= 'Z' => 0.72,
                < '\u3000' => 0.61,
                _ => 1.05,
            };
        return sum * letters * (isBold ? 1.12 : 1);
    }

    /// <summary>A text cut to a width, with an ellipsis when something was cut.</summary>
    internal static string Cut(string text, double letters, double width)
    {
        if (Of(text, letters) <= width)
            return text;
        var end = text.Length;
        while (end > 0 && Of(text[..end], letters) + 0.9 * letters > width)
            end--;
        if (end > 0 && char.IsHighSurrogate(text[end - 1]))
            end--;
        return end == 0 ? "" : text[..end].TrimEnd() + "…";
    }
}
