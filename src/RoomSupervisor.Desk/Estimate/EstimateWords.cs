// Sentences of an estimate in the reader's units: beside the figures all sentences of the program know, its watts, kelvin hours, flows and valve sizes.
// Must never touch what a person typed.
using System.Globalization;
using System.Text.RegularExpressions;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

internal static partial class EstimateWords
{
    /// <summary>kg in a pound, m in a foot; Pa/m in a foot of water a hundred feet; kv in a Cv (m³/h at 1 bar, US gallons a minute at 1 psi).</summary>
    public const double KgPerLb = 0.45359237, MPerFt = 0.3048, PaPerMPerFt100 = 2989.07 / 30.48, KvPerCv = 0.8650;

    /// <summary>The sentence in the reader's units.</summary>
    public static string In(string sentence, UnitSystem units)
    {
        if (units == UnitSystem.Metric)
            return sentence;
        var own = Watts().Replace(sentence, match =>
        {
            var last = Show(match.Groups["last"].Value, Quantity.Power, 1, units);
            return match.Groups["first"].Success ? $"{Show(match.Groups["first"].Value, Quantity.Power, 1, units).Split(' ')[0]} {match.Groups["between"].Value} {last}" : last;
        });
        own = Others().Replace(own, match => match.Groups["unit"].Value switch
        {
            "K·h" => $"{Show(match.Groups["number"].Value, Quantity.TemperatureDifference, 1, units)}·h",
            _ when match.Groups["kv"].Success => string.Create(CultureInfo.InvariantCulture, $"Cv {Number(match.Groups["number"].Value) / KvPerCv:0.00}"),
            _ => Show(match.Groups["number"].Value, Quantity.Flow, 1000.0 / 60, units),
        });
        return UnitWords.In(own, units);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string Show(string number, Quantity quantity, double factor, UnitSystem units) => Quantities.Show(Number(number) * factor, quantity, units);

    [GeneratedRegex(@"(?<![\w.,-])(?:(?<first>\d+(?:\.\d+)?) (?<between>of) )?(?<last>\d+(?:\.\d+)?) W(?![\w/·²])")]
    private static partial Regex Watts();

    [GeneratedRegex(@"(?<kv>kv )?(?<![\w.,-])(?<number>\d+(?:\.\d+)?) (?<unit>K·h|m³/h)(?![\w/²])")]
    private static partial Regex Others();
}
