// Small helpers for answers: numbers that may not exist, values as people read them. Keys are ours and stay; new ones may be added.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Members of answers.</summary>
public static class ControlJson
{
    /// <summary>A number; null where there is none.</summary>
    public static void Number(this Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }

    /// <summary>A list of texts.</summary>
    public static void Texts(this Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    /// <summary>A point's value: true or false for a switch, else a number; null where there is none.</summary>
    public static void Value(this Utf8JsonWriter json, string name, double value, Quantity quantity)
    {
        if (quantity == Quantity.Switch && double.IsFinite(value))
            json.WriteBoolean(name, value > 0.5);
        else
            json.Number(name, value);
    }

    /// <summary>As people read it: a switch is on or off.</summary>
    public static string Shown(double value, Quantity quantity, UnitSystem units)
        => quantity == Quantity.Switch && double.IsFinite(value) ? value > 0.5 ? "on" : "off" : Quantities.Show(value, quantity, units);

    /// <summary>A cause without its numbers.</summary>
    public static string Words(Cause cause)
    {
        var text = CauseWords.Of(cause).Text;
        return text.Contains('{', StringComparison.Ordinal) ? CauseWords.Name(cause) : text;
    }

    /// <summary>Names of faults as in lockstep files.</summary>
    public static string Name(Fault fault) => CauseWords.Name(Names.CauseOf(fault));

    /// <summary>The site's clock in a while, for telling an end.</summary>
    public static string LocalIn(RunClock clock, TimeZoneInfo zone, double seconds)
        => TimeZoneInfo.ConvertTimeFromUtc(clock.Utc.AddSeconds(seconds), zone).ToString("HH:mm:ss", CultureInfo.InvariantCulture);
}
