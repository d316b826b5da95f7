// Reads what people type: "24 °C", "24,5", "75F", "60 %", "22:30". Refuses what could mean two things and says what was
// probably meant. Never returns a number it is not sure of.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Terms;

/// <summary>Reading quantities from text.</summary>
public static class QuantityText
{
    /// <summary>
    /// Reads a value in the base unit of <paramref name="quantity"/>. A bare number is taken in the base unit.
    /// </summary>
    /// <param name="text">As typed; no-break spaces, decimal commas and any degree sign are understood.</param>
    /// <param name="quantity">What is expected.</param>
    /// <param name="value">The value in base unit, NaN on failure.</param>
    /// <param name="problem">What is wrong and what to write, empty on success.</param>
    public static bool TryRead(string text, Quantity quantity, out double value, out string problem) => TryRead(text, quantity, UnitSystem.Metric, out value, out problem);

    /// <summary>The same, with advice in the units of the reader.</summary>
    public static bool TryRead(string text, Quantity quantity, UnitSystem units, out double value, out string problem)
    {
        value = double.NaN;
        var clean = Clean(text);
        if (clean.Length == 0)
            return Refuse("is empty", quantity, units, out problem);
        if (quantity == Quantity.TimeOfDay)
            return TryReadTimeOfDay(clean, out value, out problem);
        if (quantity is Quantity.Date or Quantity.DateTime)
            return DateText.TryRead(clean, quantity, out value, out problem);
        if (quantity == Quantity.Switch)
            return TryReadSwitch(clean, out value, out problem);
        var split = NumberLength(clean);
        if (split == 0)
            return Refuse("is not a number", quantity, units, out problem);
        if (!TryReadNumber(clean[..split], out var number, out problem))
            return false;
        return TryApplyUnit(number, clean[split..].Trim(), quantity, units, out value, out problem);
    }

    private static bool TryApplyUnit(double number, string spelling, Quantity quantity, UnitSystem units, out double value, out string problem)
    {
        value = double.NaN;
        problem = "";
        if (spelling.Length == 0)
        {
            value = number;
            return true;
        }
        if (quantity == Quantity.Number)
            return Refuse($"has a unit ({spelling}) where a plain number is wanted", quantity, units, out problem);
        if (Quantities.Find(spelling, quantity) is { } unit)
        {
            value = (number + unit.Shift) * unit.Factor;
            return true;
        }
        var other = Quantities.WithUnits.Select(known => Quantities.Find(spelling, known)).FirstOrDefault(known => known is not null);
        return other is null
            ? Refuse($"has an unknown unit \"{spelling}\"", quantity, units, out problem)
            : Refuse($"is in {spelling}, a unit of {Words(other.Quantity)}; {Words(quantity)} is wanted", quantity, units, out problem);
    }

    /// <summary>
    /// The number at the head of a text and what stands behind it, whatever its unit: for telling what was probably meant. False when there is none.
    /// </summary>
    public static bool TrySplit(string text, out double number, out string unit)
    {
        number = double.NaN;
        unit = "";
        var clean = Clean(text);
        var split = clean.Length == 0 ? 0 : NumberLength(clean);
        if (split == 0 || !TryReadNumber(clean[..split], out number, out _))
            return false;
        unit = clean[split..].Trim();
        return true;
    }

    private static bool TryReadNumber(string digits, out double number, out string problem)
    {
        number = double.NaN;
        problem = "";
        if (digits.Contains(',', StringComparison.Ordinal) && digits.Contains('.', StringComparison.Ordinal))
            return Refuse("has both a comma and a point", "write one decimal sign and no thousands sign", out problem);
        var comma = digits.IndexOf(',', StringComparison.Ordinal);
        if (comma >= 0 && digits.Length - comma == 4 && digits[..comma].TrimStart('-', '+') is not "0")
            return Refuse("could be a thousands comma or a decimal comma", $"write {digits.Replace(",", "", StringComparison.Ordinal)} or {digits.Replace(',', '.')}", out problem);
        var plain = digits.Replace(',', '.');
        var magnitude = plain.TrimStart('-', '+');
        if (magnitude.Length > 1 && magnitude[0] == '0' && magnitude[1] != '.')
            return Refuse("starts with a zero", $"write {WithoutZeros(magnitude)}", out problem);
        if (double.TryParse(plain, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number) && double.IsFinite(number))
            return true;
        number = double.NaN;
        return Refuse("is not a number", "write it like 24.5", out problem);
    }

    private static string WithoutZeros(string magnitude)
    {
        var rest = magnitude.TrimStart('0');
        return rest.Length == 0 || rest[0] == '.' ? "0" + rest : rest;
    }

    private static bool TryReadTimeOfDay(string clean, out double minutes, out string problem)
    {
        minutes = double.NaN;
        problem = "";
        var parts = clean.Split(':');
        if (parts.Length == 2 && parts[0].Length is 1 or 2 && parts[1].Length == 2
            && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var hour) && hour <= 23
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var minute) && minute <= 59)
        {
            minutes = hour * 60 + minute;
            return true;
        }
        return Refuse("is not a time of day", ClockAdvice(clean), out problem);
    }

    /// <summary>What was probably meant by 8:30 pm, 20.30, 20h30 or 24:00.</summary>
    private static string ClockAdvice(string clean)
    {
        var word = clean.ToUpperInvariant();
        var shift = word.EndsWith("PM", StringComparison.Ordinal) ? 12 : 0;
        var halves = word.EndsWith("AM", StringComparison.Ordinal) || shift > 0;
        var parts = (halves ? word[..^2] : word).Trim().Split(':', '.', 'H');
        if (parts.Length is 1 or 2 && (parts.Length == 2 || halves) && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var hour)
            && int.TryParse(parts.Length == 2 ? parts[1] : "00", NumberStyles.None, CultureInfo.InvariantCulture, out var minute) && minute <= 59 && hour <= (halves ? 12 : 24))
            return $"write {((halves ? hour % 12 + shift : hour) % 24).ToString("00", CultureInfo.InvariantCulture)}:{minute.ToString("00", CultureInfo.InvariantCulture)}";
        return "write it like 22:30 (24-hour clock, 00:00 to 23:59)";
    }

    private static bool TryReadSwitch(string clean, out double value, out string problem)
    {
        problem = "";
        value = clean.ToUpperInvariant() switch
        {
            "TRUE" or "YES" or "ON" => 1,
            "FALSE" or "NO" or "OFF" => 0,
            _ => double.NaN,
        };
        return !double.IsNaN(value) || Refuse("is neither yes nor no", "write true or false", out problem);
    }

    private static bool Refuse(string what, Quantity quantity, UnitSystem units, out string problem)
        => Refuse(what, quantity == Quantity.Number ? "write a plain number" : $"write it like \"{Example(quantity, units)}\"", out problem);

    private static bool Refuse(string what, string advice, out string problem)
    {
        problem = $"{what}: {advice}";
        return false;
    }

    private static string Clean(string text)
    {
        var builder = new StringBuilder(text.Length);
        foreach (var c in text.Replace("\u2103", "°C", StringComparison.Ordinal).Replace("\u2109", "°F", StringComparison.Ordinal))
        {
            builder.Append(c switch
            {
                '\u00A0' or '\u202F' or '\u2009' or '\t' => ' ',
                '\u00BA' or '\u02DA' => '°',
                '\u2212' or '\u2013' => '-',
                _ => c,
            });
        }
        return builder.ToString().Trim().Replace("° ", "°", StringComparison.Ordinal);
    }

    private static int NumberLength(string clean)
    {
        var length = clean[0] is '-' or '+' ? 1 : 0;
        while (length < clean.Length && (char.IsAsciiDigit(clean[length]) || clean[length] is '.' or ','))
            length++;
        return length > 0 && clean.AsSpan(0, length).ContainsAnyInRange('0', '9') ? length : 0;
    }

    /// <summary>The quantity in words, for messages.</summary>
    public static string Words(Quantity quantity) => quantity switch
    {
        Quantity.TemperatureDifference => "a temperature difference",
        Quantity.TemperatureRate => "a temperature change per minute",
        Quantity.Percent => "a percentage",
        Quantity.PercentRate => "a percentage per minute",
        Quantity.AreaPower => "power per area",
        Quantity.AreaVolume => "a volume per area",
        Quantity.AreaTransfer => "power per area and kelvin",
        Quantity.HeatCapacity => "a heat capacity",
        Quantity.HeatTransfer => "a heat transfer",
        Quantity.Level => "a sound level",
        Quantity.LevelRate => "a sound level per minute",
        Quantity.TimeOfDay => "a time of day",
        Quantity.Date => "a date",
        Quantity.DateTime => "a date with a time of day",
        Quantity.Switch => "yes or no",
        Quantity.Area => "an area",
        _ => "a " + quantity.ToString().ToLowerInvariant(),
    };

    /// <summary>What a reader of that unit system would write.</summary>
    public static string Example(Quantity quantity, UnitSystem units) => (quantity, units) switch
    {
        (Quantity.Temperature, UnitSystem.Us) => "75 °F",
        (Quantity.TemperatureDifference, UnitSystem.Us) => "3 °F",
        (Quantity.Area, UnitSystem.Us) => "650 ft²",
        (Quantity.Temperature, _) => "24 °C",
        (Quantity.TemperatureDifference, _) => "1.5 K",
        (Quantity.Percent, _) => "35 %",
        (Quantity.Duration, _) => "90 s",
        (Quantity.Area, _) => "62 m²",
        (Quantity.Date, _) => "2027-02-06",
        (Quantity.DateTime, _) => "2027-02-06 18:00",
        (Quantity.TimeOfDay, _) => "22:30",
        (Quantity.Switch, _) => "true",
        _ => $"2 {Quantities.ShownUnit(quantity, units)}".TrimEnd(),
    };
}
