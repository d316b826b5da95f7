// Quantities and units: one table of factors for everything a person types or reads. The base unit of each quantity is what
// the program computes in. Never guesses: a unit of another quantity is refused with what was probably meant.
using System.Globalization;

namespace RoomSupervisor.Terms;

/// <summary>What a number means. The base unit is in <see cref="Quantities.BaseUnit"/>.</summary>
public enum Quantity : byte
{
    Number, Temperature, TemperatureDifference, TemperatureRate, Percent, PercentRate, Voltage, Length, Area, Duration, Flow,
    Power, AreaPower, AreaTransfer, Volume, AreaVolume, HeatCapacity, HeatTransfer, Level, LevelRate, TimeOfDay, Pressure, Switch, Text, Date, DateTime,
}

/// <summary>How values are shown to people; files and arithmetic stay in base units.</summary>
public enum UnitSystem : byte
{
    Metric, Us,
}

/// <summary>A unit a person may write: value in base unit = (written + <paramref name="Shift"/>) × <paramref name="Factor"/>.</summary>
public sealed record Unit(Quantity Quantity, double Factor, double Shift, params string[] Spellings);

/// <summary>The table of units, and showing values. Reading what people type is in <see cref="QuantityText"/>.</summary>
public static class Quantities
{
    /// <summary>Every unit understood; the first of a quantity is its base unit. Exact factors by definition (international inch, pound, BTU(IT), US gallon).</summary>
    public static IReadOnlyList<Unit> Units { get; } =
    [
        new(Quantity.Temperature, 1, 0, "°C", "C"),
        new(Quantity.Temperature, 5.0 / 9.0, -32, "°F", "F"),
        new(Quantity.TemperatureDifference, 1, 0, "K", "°C", "C"),
        new(Quantity.TemperatureDifference, 5.0 / 9.0, 0, "°F", "F"),
        new(Quantity.TemperatureRate, 1, 0, "K/min", "°C/min", "C/min"),
        new(Quantity.TemperatureRate, 60, 0, "K/s"),
        new(Quantity.TemperatureRate, 5.0 / 9.0, 0, "°F/min", "F/min"),
        new(Quantity.Percent, 1, 0, "%", "percent"),
        new(Quantity.PercentRate, 1, 0, "%/min"),
        new(Quantity.Voltage, 1, 0, "V"),
        new(Quantity.Voltage, 0.001, 0, "mV"),
        new(Quantity.Length, 1, 0, "m"),
        new(Quantity.Length, 0.001, 0, "mm"),
        new(Quantity.Length, 0.01, 0, "cm"),
        new(Quantity.Length, 0.3048, 0, "ft", "feet"),
        new(Quantity.Length, 0.0254, 0, "in", "inch", "inches"),
        new(Quantity.Area, 1, 0, "m²", "m2", "sqm", "m^2"),
        new(Quantity.Area, 0.3048 * 0.3048, 0, "ft²", "ft2", "sq ft", "sqft", "ft^2"),
        new(Quantity.Duration, 1, 0, "s", "sec", "seconds", "second"),
        new(Quantity.Duration, 0.001, 0, "ms"),
        new(Quantity.Duration, 60, 0, "min", "minutes", "minute"),
        new(Quantity.Duration, 3600, 0, "h", "hours", "hour", "hr"),
        new(Quantity.Duration, 86400, 0, "d", "days", "day"),
        new(Quantity.Flow, 1, 0, "l/min"),
        new(Quantity.Flow, 1000.0 / 60.0, 0, "m³/h", "m3/h"),
        new(Quantity.Flow, 60, 0, "l/s"),
        new(Quantity.Flow, 3.785411784, 0, "gpm", "gal/min"),
        new(Quantity.Power, 1, 0, "W"),
        new(Quantity.Power, 1000, 0, "kW"),
        new(Quantity.Power, 1055.05585262 / 3.6, 0, "kBtu/h", "kBtu/hr"),
        new(Quantity.Power, 1055.05585262 / 3600, 0, "Btu/h", "Btu/hr"),
        new(Quantity.AreaPower, 1, 0, "W/m²", "W/m2"),
        new(Quantity.AreaPower, 1055.05585262 / 3600 / (0.3048 * 0.3048), 0, "Btu/h/ft²", "Btu/h/ft2"),
        new(Quantity.AreaTransfer, 1, 0, "W/m²/K", "W/m2/K", "W/m²K", "W/m2K"),
        new(Quantity.AreaTransfer, 1055.05585262 / 3600 / (0.3048 * 0.3048) * 1.8, 0, "Btu/h/ft²/°F", "Btu/h/ft2/F"),
        new(Quantity.Volume, 1, 0, "l", "litres", "liters"),
        new(Quantity.Volume, 1000, 0, "m³", "m3"),
        new(Quantity.Volume, 3.785411784, 0, "gal", "gallons"),
        new(Quantity.AreaVolume, 1, 0, "l/m²", "l/m2"),
        new(Quantity.AreaVolume, 3.785411784 / (0.3048 * 0.3048), 0, "gal/ft²", "gal/ft2"),
        new(Quantity.HeatCapacity, 1, 0, "kJ/K"),
        new(Quantity.HeatCapacity, 1.05505585262 * 1.8, 0, "Btu/°F", "Btu/F"),
        new(Quantity.HeatTransfer, 1, 0, "W/K"),
        new(Quantity.HeatTransfer, 1055.05585262 / 3600 * 1.8, 0, "Btu/h/°F", "Btu/h/F"),
        new(Quantity.Level, 1, 0, "dB", "dB(A)", "dBA"),
        new(Quantity.LevelRate, 1, 0, "dB/min"),
        new(Quantity.Pressure, 1, 0, "kPa"),
        new(Quantity.Pressure, 100, 0, "bar"),
        new(Quantity.Pressure, 6.894757293168, 0, "psi"),
    ];

    /// <summary>The base unit's spelling; empty for numbers, switches and text.</summary>
    public static string BaseUnit(Quantity quantity) => quantity switch
    {
        Quantity.Number or Quantity.Switch or Quantity.Text => "",
        Quantity.TimeOfDay => "hh:mm",
        Quantity.Date => "yyyy-mm-dd",
        Quantity.DateTime => "yyyy-mm-dd hh:mm",
        _ => UnitsOf(quantity).First().Spellings[0],
    };

    /// <summary>The units of one quantity, base unit first.</summary>
    public static IEnumerable<Unit> UnitsOf(Quantity quantity) => ByQuantity[(int)quantity];

    // By quantity, each in the order of the table: every value of a site file is looked up here.
    private static readonly Unit[][] ByQuantity = [.. Enum.GetValues<Quantity>().Select(quantity => Units.Where(unit => unit.Quantity == quantity).ToArray())];

    /// <summary>Quantities that have units, in the order of the table.</summary>
    public static IReadOnlyList<Quantity> WithUnits { get; } = [.. Units.Select(unit => unit.Quantity).Distinct()];

    /// <summary>
    /// The unit of a quantity that a spelling means, or null. Capitals do not matter, except that they never turn mega into milli: MV is not mV.
    /// </summary>
    public static Unit? Find(string spelling, Quantity quantity)
    {
        var isMega = spelling.Length == 2 && spelling[0] == 'M' && spelling[1] is 'V' or 'm' or 's' or 'W';
        var comparison = isMega ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase;
        foreach (var unit in ByQuantity[(int)quantity])
        {
            foreach (var known in unit.Spellings)
            {
                if (known.Equals(spelling, comparison))
                    return unit;
            }
        }
        return null;
    }

    /// <summary>The unit in which a reader of that system sees a quantity; empty for numbers, switches and text.</summary>
    public static string ShownUnit(Quantity quantity, UnitSystem units) => quantity switch
    {
        Quantity.Number or Quantity.Switch or Quantity.Text or Quantity.TimeOfDay or Quantity.Date or Quantity.DateTime => BaseUnit(quantity),
        Quantity.Duration => "s, min or h",
        _ => Shown(quantity, units).Spelling,
    };

    /// <summary>Like <see cref="Show"/> with up to three decimals: for limits and settings, which must not be rounded to another value.</summary>
    public static string ShowExactly(double value, Quantity quantity, UnitSystem units)
    {
        if (double.IsNaN(value) || quantity is Quantity.TimeOfDay or Quantity.Switch or Quantity.Number or Quantity.Text or Quantity.Date or Quantity.DateTime)
            return Show(value, quantity, units);
        return quantity == Quantity.Duration ? ShowWholeDuration(value) : ShowUnit(value, quantity, units, 3);
    }

    /// <summary>A value in base unit as a person of that unit system reads it: "24.5 °C", "35 %", "22:30". NaN is "–". Allocates.</summary>
    public static string Show(double value, Quantity quantity, UnitSystem units)
    {
        if (double.IsNaN(value))
            return "–";
        return quantity switch
        {
            Quantity.TimeOfDay => TimeSpan.FromMinutes(value).ToString(@"hh\:mm", CultureInfo.InvariantCulture),
            Quantity.Date or Quantity.DateTime => DateText.Show(value, quantity),
            Quantity.Duration => ShowDuration(value, 1),
            Quantity.Switch => value > 0.5 ? "yes" : "no",
            Quantity.Number or Quantity.Text => Digits(value, 3),
            _ => ShowUnit(value, quantity, units, 0),
        };
    }

    private static string ShowUnit(double value, Quantity quantity, UnitSystem units, int atLeast)
    {
        var (spelling, decimals) = Shown(quantity, units);
        var unit = Units.First(candidate => candidate.Quantity == quantity && candidate.Spellings[0] == spelling);
        var shown = value / unit.Factor - unit.Shift;
        var digits = atLeast > 0 && Math.Abs(shown) < 0.1 ? 5 : Math.Max(decimals, atLeast);   // small figures must not be rounded to another value
        return $"{Digits(shown, digits)} {spelling}";
    }

    private static (string Spelling, int Decimals) Shown(Quantity quantity, UnitSystem units) => (quantity, units) switch
    {
        (Quantity.Temperature, UnitSystem.Us) => ("°F", 1),
        (Quantity.TemperatureDifference, UnitSystem.Us) => ("°F", 1),
        (Quantity.TemperatureRate, UnitSystem.Us) => ("°F/min", 1),
        (Quantity.Length, UnitSystem.Us) => ("ft", 1),
        (Quantity.Area, UnitSystem.Us) => ("ft²", 0),
        (Quantity.Flow, UnitSystem.Us) => ("gpm", 2),
        (Quantity.Power, UnitSystem.Us) => ("kBtu/h", 2),
        (Quantity.AreaPower, UnitSystem.Us) => ("Btu/h/ft²", 1),
        (Quantity.AreaTransfer, UnitSystem.Us) => ("Btu/h/ft²/°F", 2),
        (Quantity.Volume, UnitSystem.Us) => ("gal", 1),
        (Quantity.AreaVolume, UnitSystem.Us) => ("gal/ft²", 3),
        (Quantity.HeatCapacity, UnitSystem.Us) => ("Btu/°F", 0),
        (Quantity.HeatTransfer, UnitSystem.Us) => ("Btu/h/°F", 1),
        (Quantity.Pressure, UnitSystem.Us) => ("psi", 1),
        (Quantity.Percent or Quantity.Level or Quantity.Power, _) => (BaseUnit(quantity), 0),
        _ => (BaseUnit(quantity), 1),
    };

    /// <summary>In the largest unit that loses nothing: 700 s, not 11.667 min.</summary>
    private static string ShowWholeDuration(double seconds)
    {
        var shown = Math.Abs(seconds) < 120 ? 1 : Math.Abs(seconds) < 7200 ? 60 : 3600;
        while (shown > 1 && Math.Round(seconds / shown, 2) * shown != seconds)
            shown /= 60;
        return $"{Digits(seconds / shown, 3)} {shown switch { 1 => "s", 60 => "min", _ => "h" }}";
    }

    private static string ShowDuration(double seconds, int decimals) => Math.Abs(seconds) switch
    {
        < 120 => $"{Digits(seconds, decimals)} s",
        < 7200 => $"{Digits(seconds / 60, decimals)} min",
        _ => $"{Digits(seconds / 3600, decimals)} h",
    };

    /// <summary>At most that many decimals, none that say nothing: 24 and 24.5. Never "-0".</summary>
    private static string Digits(double value, int decimals)
    {
        var rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString(decimals == 0 ? "0" : "0." + new string('#', decimals), CultureInfo.InvariantCulture);
    }
}
