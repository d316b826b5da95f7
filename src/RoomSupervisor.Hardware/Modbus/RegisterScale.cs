// What one step of a register means: "1 mV", "0.1 °C", "0.1 %", "1". Reads it from the site file and converts both ways.
// It must never guess a unit.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>A straight line from a raw register to a quantity in its base unit: value = raw × <paramref name="Factor"/> + <paramref name="Offset"/>.</summary>
/// <param name="Quantity">What the register holds; <see cref="Quantity.Number"/> for a scale without a unit.</param>
/// <param name="Factor">Base units a step, above 0.</param>
/// <param name="Offset">Base units at raw 0: zero, but for °F and where the site file says otherwise.</param>
public readonly record struct RegisterScale(Quantity Quantity, double Factor, double Offset)
{
    private const double Smallest = 1e-6, Largest = 1e6;

    /// <summary>A plain number, one to one.</summary>
    public static RegisterScale One { get; } = new(Quantity.Number, 1, 0);

    /// <summary>The value in base unit.</summary>
    public double ToValue(double raw) => raw * Factor + Offset;

    /// <summary>The nearest raw value within bounds. <paramref name="value"/> must be a number.</summary>
    public double ToRaw(double value, double lowest, double highest)
        => Math.Clamp(Math.Round((value - Offset) / Factor, MidpointRounding.AwayFromZero), lowest, highest);

    /// <summary>Moves the scale so that raw 0 means a value in its unit, such as -40 °C. False when the text is no such value.</summary>
    public bool TryOffset(string text, out RegisterScale moved)
    {
        moved = this;
        if (!QuantityText.TryRead(text, Quantity, out var atZero, out _) || !double.IsFinite(atZero))
            return false;
        moved = this with { Offset = atZero };
        return true;
    }

    /// <summary>
    /// Reads a scale. A temperature scale multiplies the written unit: 0.1 °F means raw × 0.1 °F, then to °C. A difference is written in K.
    /// </summary>
    /// <param name="text">Number above 0 and unit, as typed.</param>
    /// <param name="scale">The scale, <see cref="One"/> on failure.</param>
    /// <param name="problem">What is wrong and what to write; empty on success.</param>
    public static bool TryRead(string text, out RegisterScale scale, out string problem)
    {
        scale = One;
        var split = NumberLength(text);
        if (!QuantityText.TryRead(text[..split], Quantity.Number, out var step, out _) || !(step >= Smallest && step <= Largest))
        {
            problem = $"\"{text}\" is no scale: write what one step means, like \"0.1 °C\", \"1 mV\", \"0.1 %\" or \"1\"";
            return false;
        }
        var unit = text[split..].Trim(' ', '\u00A0', '\u202F', '\u2009');
        if (unit.Length > 0)
            return TryUnit(text, step, unit, out scale, out problem);
        scale = new RegisterScale(Quantity.Number, step, 0);
        problem = "";
        return true;
    }

    private static bool TryUnit(string text, double step, string unit, out RegisterScale scale, out string problem)
    {
        foreach (var quantity in Quantities.WithUnits)
        {
            // Two readings give the unit's line without knowing its spelling: what 0 and 1 of it are in the base unit.
            if (!QuantityText.TryRead("0 " + unit, quantity, out var zero, out _) || !QuantityText.TryRead("1 " + unit, quantity, out var one, out _))
                continue;
            scale = new RegisterScale(quantity, step * (one - zero), zero);
            problem = "";
            return true;
        }
        scale = One;
        problem = $"\"{text}\" has an unknown unit \"{unit}\": write what one step means, like \"0.1 °C\", \"1 mV\" or \"0.1 %\"";
        return false;
    }

    private static int NumberLength(string text)
    {
        var length = 0;
        while (length < text.Length && (char.IsAsciiDigit(text[length]) || ".,+-\u2212\u2013 \u00A0\u202F\u2009".Contains(text[length], StringComparison.Ordinal)))
            length++;
        return length;
    }
}
