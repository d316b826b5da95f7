// Text and numbers as they may stand in HTML and SVG. Must never let a name of a room become mark-up, nor a number follow the machine's country.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Escaping and numbers for mark-up.</summary>
internal static class XmlText
{
    /// <summary>Text with &amp;, &lt;, &gt; and both quotation marks escaped; characters XML 1.0 (section 2.2) does not allow become U+FFFD.</summary>
    internal static string Escape(string text) => Safe(text, breaksIds: false);

    /// <summary>An id, a path or a key, escaped: it may be broken behind the dots, underscores and strokes in it and nowhere else. Words and figures stay whole.</summary>
    internal static string Id(string text) => Safe(text, breaksIds: true);

    private static string Safe(string text, bool breaksIds)
    {
        var safe = new StringBuilder(text.Length + 8);
        for (var i = 0; i < text.Length; i++)
        {
            if (char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                safe.Append(text[i]).Append(text[++i]);
                continue;
            }
            safe.Append(One(text[i]));
            if (breaksIds && (text[i] is '.' or '_' or '/') && i > 0 && i + 1 < text.Length && char.IsAsciiLetterOrDigit(text[i - 1]) && char.IsAsciiLetter(text[i + 1]))
                safe.Append("<wbr/>");
        }
        return safe.ToString();
    }

    /// <summary>A number with at most that many decimals, none that say nothing. NaN and infinities are refused: they have no place in a drawing.</summary>
    internal static string Number(double value, int decimals = 1)
    {
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, "A drawing has no place for it.");
        var rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString(decimals == 0 ? "0" : "0." + new string('#', decimals), CultureInfo.InvariantCulture);
    }

    private static string One(char letter) => letter switch
    {
        '&' => "&amp;",
        '<' => "&lt;",
        '>' => "&gt;",
        '"' => "&quot;",
        '\'' => "&#39;",
        '\t' or '\n' or '\r' => " ",
        < ' ' or '\uFFFE' or '\uFFFF' or (>= '\uD800' and <= '\uDFFF') => "\uFFFD",
        _ => letter.ToString(),
    };
}
