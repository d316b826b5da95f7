// Values as the owner reads them, by the unit table of Terms. Must never change what is computed with: only what is shown.
using System.Buffers;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report;

/// <summary>Units of a report.</summary>
internal sealed class ReportUnits(bool us)
{
    /// <summary>Grains a pound: the pound is 7000 grains by definition, so 1 g/kg is exactly 7 gr/lb.</summary>
    private const double GrainsPerPoundOfOneGramPerKilogram = 7;

    /// <summary>1 kBtu is 1,055.05585262 kJ (international table), a pound 0.45359237 kg by definition.</summary>
    private const double KilobtuPerKwh = 3600 / 1055.05585262, KilogramsPerPound = 0.45359237;

    /// <summary>Unit of heat and fuel in tables of measures: kWh or kBtu. Electricity is kWh everywhere.</summary>
    internal const string Heat = "kWh heat";

    private static readonly SearchValues<char> WordEnds = SearchValues.Create(" ,.;:)");

    private readonly UnitSystem _system = us ? UnitSystem.Us : UnitSystem.Metric;
    private readonly Unit _temperature = Unit(us ? "°F" : "°C", Quantity.Temperature);
    private readonly Unit _difference = Unit(us ? "°F" : "K", Quantity.TemperatureDifference);

    /// <summary>"°C" or "°F".</summary>
    internal string TemperatureUnit => _temperature.Spellings[0];

    /// <summary>"g/kg" or "gr/lb".</summary>
    internal string RatioUnit => us ? "gr/lb" : "g/kg";

    /// <summary>Step of temperature ticks, shown unit.</summary>
    internal double TemperatureStep => us ? 5 : 2;

    /// <summary>°C to what is shown.</summary>
    internal double Temperature(double celsius) => celsius / _temperature.Factor - _temperature.Shift;

    /// <summary>K to what is shown.</summary>
    internal double Difference(double kelvin) => kelvin / _difference.Factor;

    /// <summary>g/kg to what is shown.</summary>
    internal double Ratio(double gramsPerKilogram) => us ? gramsPerKilogram * GrainsPerPoundOfOneGramPerKilogram : gramsPerKilogram;

    /// <summary>"24.5 °C".</summary>
    internal string TemperatureText(double celsius) => Quantities.Show(celsius, Quantity.Temperature, _system);

    /// <summary>"1.8 K".</summary>
    internal string DifferenceText(double kelvin) => Quantities.Show(kelvin, Quantity.TemperatureDifference, _system);

    /// <summary>A value of a measure in its shown unit; units the table does not know stay as they are.</summary>
    internal (double Value, string Unit) Measure(double value, string unit) => unit switch
    {
        "°C" => (Temperature(value), TemperatureUnit),
        "K" => (Difference(value), _difference.Spellings[0]),
        "K·h" => (Difference(value), _difference.Spellings[0] + "·h"),
        Heat => us ? (value * KilobtuPerKwh, "kBtu") : (value, "kWh"),
        "kg" when us => (value / KilogramsPerPound, "lb"),
        _ => (value, unit),
    };

    /// <summary>A value of a measure with its unit, as people of this site read it; "–" where there is none.</summary>
    internal string MeasureText(double value, string unit, int decimals)
    {
        var (shown, named) = Measure(value, unit);
        return double.IsFinite(shown) ? Plain(shown, decimals) + (named.Length > 0 ? " " + named : "") : "–";
    }

    /// <summary>A sentence of the program with its metric figures in the reader's units.</summary>
    internal string Words(string sentence) => Kept(UnitWords.In(sentence, _system));

    /// <summary>Three figures that matter, at most two decimals.</summary>
    internal static string Figure(double value) => double.IsFinite(value) ? Plain(value, Math.Abs(value) >= 100 ? 0 : Math.Abs(value) >= 10 ? 1 : 2) : "–";

    /// <summary>A number with a true minus sign.</summary>
    internal static string Plain(double value, int decimals = 1) => XmlText.Number(value, decimals).Replace('-', '−');

    /// <summary>A sentence whose figures stay with their units at the end of a line: no-break spaces between.</summary>
    internal static string Kept(string sentence)
    {
        var kept = sentence.ToCharArray();
        for (var i = 1; i + 1 < kept.Length; i++)
        {
            if (kept[i] != ' ' || !char.IsAsciiDigit(kept[i - 1]))
                continue;
            var end = sentence.AsSpan(i + 1).IndexOfAny(WordEnds);
            var word = sentence.AsSpan(i + 1, end < 0 ? sentence.Length - i - 1 : end);
            if (word is "K" or "°C" or "°F" or "%" or "kWh" or "kBtu" or "kg" or "lb" or "min" or "h" or "m" or "dB" or "dB(A" or "minutes" or "l/min" or "W/m²" or "m²" or "ft²" or "ft" or "W" or "kW" or "l" or "Pa" or "kPa" or "V" or "s")
                kept[i] = '\u00A0';
        }
        return new string(kept);
    }

    private static Unit Unit(string spelling, Quantity quantity) => Quantities.Find(spelling, quantity)!;
}
