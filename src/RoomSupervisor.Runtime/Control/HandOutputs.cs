// Which outputs somebody may set by hand at all, and values as he types them. It must never allow what the sequence would ignore: then nobody would know why
// nothing happens.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Setting outputs by hand.</summary>
public static class HandOutputs
{
    /// <summary>Why nobody sets this output by hand, or null when he may.</summary>
    public static string? WhyNever(House house, int output)
    {
        if (output == house.Points.Health)
            return "it says whether the controller is well; nobody else can";
        foreach (var source in house.Sources)
        {
            if (output == source.CallCooling || output == source.ChangeOver)
                return "the season of the water decides on it, with rests and water brought to neutral before; by hand it would send warm water into cooling";
            if (output == source.SetPoint)
                return "it follows the loop that asks most; change what the loop asks for";
        }
        return null;
    }

    /// <summary>A value as typed: with the point's unit or without, on and off, open and shut.</summary>
    public static bool TryRead(string text, Point point, UnitSystem units, out double value, out string why)
    {
        why = "";
        var word = text.Trim().ToUpperInvariant();
        value = word switch
        {
            "OPEN" or "1" when point.IsSwitch => 1,
            "SHUT" or "CLOSED" or "0" when point.IsSwitch => 0,
            "SHUT" or "CLOSED" or "OFF" when point.Quantity == Quantity.Percent => 0,
            "OPEN" or "FULL" when point.Quantity == Quantity.Percent => 100,
            _ => double.NaN,
        };
        return double.IsFinite(value) || QuantityText.TryRead(text, point.Quantity, units, out value, out why);
    }

    /// <summary>A time as typed: "5m" and "5 min" are minutes.</summary>
    public static bool TryReadTime(string text, out double seconds, out string why)
    {
        var plain = text.Trim();
        if (plain.Length > 1 && plain[^1] is 'm' or 'M' && (char.IsAsciiDigit(plain[^2]) || plain[^2] == ' '))
            plain = plain[..^1] + " min";
        return QuantityText.TryRead(plain, Quantity.Duration, out seconds, out why);
    }
}
