// Text and numbers as they may stand in HTML and SVG. Must never let a name of a room become mark-up, nor a number follow the machine's country.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Escaping and numbers for mark-up.</summary>
internal static class XmlText
{
    /// <summary>Text with &amp;, &lt;, &gt; and both quotation marks escaped; characters XML 1.0 (section 2.2) does not allow become U+FFFD.</summary>
    internal static string Escape(string text)
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
