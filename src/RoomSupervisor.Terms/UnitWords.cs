// Figures inside declared sentences ("without it 20.5 °C, or 1 K less") for readers of another unit system. Sentences are written in
// metric units; this never touches what a person typed, only texts of the program.
using System.Globalization;
using System.Text.RegularExpressions;

namespace RoomSupervisor.Terms;

/// <summary>Sentences of the program in the reader's units.</summary>
public static partial class UnitWords
{
    /// <summary>The sentence with every metric figure of it in the reader's units. A figure is a number, one space and a unit; "5 to 15 K" are two. Allocates.</summary>
    public static string In(string sentence, UnitSystem units)
        => units == UnitSystem.Metric ? sentence : Figure().Replace(sentence, match => Figures(match, units));

    private static string Figures(Match match, UnitSystem units)
    {
        var quantity = QuantityOf(match.Groups["unit"].Value);
        var factor = Quantities.Find(match.Groups["unit"].Value, quantity)!.Factor;
        var last = Show(match.Groups["last"].Value);
        if (!match.Groups["first"].Success)
            return last;
        var first = Show(match.Groups["first"].Value);
        return $"{first[..first.LastIndexOf(' ')]} {match.Groups["between"].Value} {last}";

        string Show(string number) => Quantities.Show(double.Parse(number, CultureInfo.InvariantCulture) * factor, quantity, units);
    }

    private static Quantity QuantityOf(string unit) => unit switch
    {
        "°C" => Quantity.Temperature,
        "K/min" => Quantity.TemperatureRate,
        "K" => Quantity.TemperatureDifference,
        "kJ/K" => Quantity.HeatCapacity,
        "W/K" => Quantity.HeatTransfer,
        "W/m²" => Quantity.AreaPower,
        "l/m²" => Quantity.AreaVolume,
        "l/min" => Quantity.Flow,
        "m²" => Quantity.Area,
        "kW" => Quantity.Power,
        "kPa" => Quantity.Pressure,
        "mm" or "m" => Quantity.Length,
        _ => Quantity.Volume,
    };

    [GeneratedRegex(@"(?<![\w.,-])(?:(?<first>-?\d+(?:\.\d+)?) (?<between>to|and|or) )?(?<last>-?\d+(?:\.\d+)?) (?<unit>°C|K/min|K|kJ/K|W/K|W/m²|l/m²|l/min|kW|kPa|mm|m²|m|l)(?![\w/²])")]
    private static partial Regex Figure();
}
