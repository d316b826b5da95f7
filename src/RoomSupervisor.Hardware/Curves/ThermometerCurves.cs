// The resistance thermometers a site file may name. It must never hold a curve without its source.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Curves;

/// <summary>Curves by name.</summary>
public static class ThermometerCurves
{
    internal const string Pt1000 = "pt1000", Ntc = "ntc";

    /// <summary>10 kΩ at 25 °C with the betas (25/85 °C) that such sensors are sold by: common practice, no published source.</summary>
    private static readonly (string Name, double Beta)[] Generic = [("ntc-10k-3435", 3435), ("ntc-10k-3950", 3950), ("ntc-10k-3977", 3977)];

    /// <summary>Every name; <c>ntc</c> needs numbers of its own.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. Generic.Select(one => one.Name), Ntc, Pt1000];

    /// <summary>The curve of a name that needs no numbers, or null.</summary>
    public static IResistanceCurve? Named(string name)
        => name == Pt1000 ? PlatinumThermometer.Pt1000 : Generic.FirstOrDefault(one => one.Name == name) is { Name: not null } generic ? Thermistor.OfBeta(10000, generic.Beta) : null;

    /// <summary>Reads three points of a table, such as "0 °C 32650, 25 °C 10000, 60 °C 2488" (Ω).</summary>
    /// <param name="text">As typed.</param>
    /// <param name="curve">The curve through them, or null.</param>
    /// <param name="problem">What is wrong and what to write; "" on success.</param>
    public static bool TryTable(string text, out IResistanceCurve? curve, out string problem)
    {
        curve = null;
        problem = $"table \"{text}\" is none: write three points far apart, each a temperature and Ω, such as 0 °C 32650, 25 °C 10000, 60 °C 2488";
        var parts = text.Split(',', StringSplitOptions.TrimEntries);
        var points = new (double TemperatureC, double Ohms)[3];
        if (parts.Length != points.Length)
            return false;
        for (var i = 0; i < points.Length; i++)
        {
            var cut = parts[i].LastIndexOf(' ');
            if (cut < 0 || !QuantityText.TryRead(parts[i][..cut], Quantity.Temperature, out points[i].TemperatureC, out _)
                || !QuantityText.TryRead(parts[i][cut..], Quantity.Number, out points[i].Ohms, out _) || !(points[i].Ohms > 0))
                return false;
        }
        Array.Sort(points);
        if (points[1].TemperatureC - points[0].TemperatureC < 5 || points[2].TemperatureC - points[1].TemperatureC < 5 || !(points[0].Ohms > points[1].Ohms && points[1].Ohms > points[2].Ohms))
            return false;
        try
        {
            curve = Thermistor.Through(points[0], points[1], points[2]);
        }
        catch (ArgumentException)
        {
            return false;
        }
        problem = "";
        return true;
    }
}
