// Reads pictures back as a person with a ruler would: lines, labels and boxes. Must never ask the code that drew them where things are.
using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

internal static partial class Drawn
{
    internal static double Number(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    internal static string Class(XElement element) => element.Attribute("class")?.Value ?? "";

    internal static IEnumerable<XElement> Of(XElement picture, string name, string className) => picture.Descendants().Where(element => element.Name.LocalName == name && Class(element) == className);

    /// <summary>Pieces of a path: absolute points. Knows M, l and h, which is all that lines of data use.</summary>
    internal static List<List<(double X, double Y)>> Pieces(string data)
    {
        var pieces = new List<List<(double X, double Y)>>();
        double x = 0, y = 0;
        foreach (Match part in Part().Matches(data))
        {
            var numbers = Figure().Matches(part.Groups[2].Value).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture)).ToArray();
            if (part.Groups[1].Value == "M")
                pieces.Add([(x, y) = (numbers[0], numbers[1])]);
            else if (part.Groups[1].Value == "l")
                for (var n = 0; n < numbers.Length; n += 2)
                    pieces[^1].Add((x, y) = (x + numbers[n], y + numbers[n + 1]));
        }
        return pieces;
    }

    /// <summary>A straight line through marks of an axis: value to pixel, by the two outermost.</summary>
    internal static Func<double, double> Axis(IEnumerable<(double Value, double Pixel)> marks)
    {
        var sorted = marks.Distinct().OrderBy(mark => mark.Value).ToArray();
        var (low, high) = (sorted[0], sorted[^1]);
        return value => low.Pixel + (value - low.Value) / (high.Value - low.Value) * (high.Pixel - low.Pixel);
    }

    /// <summary>Labels of an axis that are plain numbers, with the grid line they stand beside.</summary>
    internal static IEnumerable<(double Value, double Pixel)> Marks(XElement picture, bool isUpright)
    {
        foreach (var line in picture.Descendants().Where(element => element.Name.LocalName == "line" && element.Attribute("data-v") is not null && Class(element) is "grid" or "limit"))
        {
            var isLying = Number(line, "y1") == Number(line, "y2");
            if (isLying != isUpright)
                continue;
            var value = Number(line, "data-v");
            var pixel = isLying ? Number(line, "y1") : Number(line, "x1");
            var label = value.ToString("0.#", CultureInfo.InvariantCulture).Replace('-', '−');
            Assert.Contains(picture.Descendants().Where(element => element.Name.LocalName == "text" && element.Value == label),
                text => isLying ? Math.Abs(Number(text, "y") - Number(text, "font-size") * 0.35 - pixel) < 1.5 : Math.Abs(Number(text, "x") - pixel) < 0.2);
            yield return (value, pixel);
        }
    }

    /// <summary>
    /// Box of a text: 0.6 of the letter height a letter, 0.66 when bold (project choice). A browser measured 820 texts of a report: in Liberation Sans at most 0.95 of
    /// this, in DejaVu Sans, one of the widest, at most 1.06 (of the shortest); with either no two texts of any picture overlapped.
    /// </summary>
    internal static (double Left, double Top, double Right, double Bottom) Box(XElement text)
    {
        var letters = Number(text, "font-size");
        var width = text.Value.Length * letters * (Class(text).Contains("strong", StringComparison.Ordinal) || Class(text) == "day" ? 0.66 : 0.6);
        var left = Number(text, "x") - (text.Attribute("text-anchor")?.Value switch { "end" => width, "middle" => width / 2, _ => 0 });
        return (left, Number(text, "y") - letters * 0.75, left + width, Number(text, "y") + letters * 0.2);
    }

    [GeneratedRegex("([A-Za-z])([^A-Za-z]*)")]
    private static partial Regex Part();

    [GeneratedRegex(@"-?(?:\d+\.?\d*|\.\d+)")]
    private static partial Regex Figure();
}
