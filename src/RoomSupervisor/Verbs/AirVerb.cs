// air: the state of moist air from temperature and humidity, in both unit systems. A calculator: reads no site, starts nothing.
using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class AirVerb
{
    public static Command Create()
    {
        var temperature = new Argument<string>("TEMPERATURE") { Description = "dry bulb: 26, 26C, 79F" };
        var humidity = new Argument<string>("HUMIDITY") { Description = "relative humidity over water: 60% (100 to 103% counts as 100%)" };
        var altitude = new Option<string>("--altitude") { Description = "altitude for air pressure: 500m, 1640ft", DefaultValueFactory = _ => "0 m", HelpName = "ALTITUDE" };
        var json = new Option<bool>("--json") { Description = "one JSON object in SI units" };
        var command = new Command("air", "Dew point, humidity ratio, wet bulb, enthalpy and specific volume of moist air, in both unit systems. "
            + "Examples: air 26 60%   air 79F 60% --altitude 500m   air -5 80% --json. A dew point is what cold pipes and surfaces must stay above.") { temperature, humidity, altitude, json };
        command.SetAction(parsed =>
        {
            var sound = TryRead("temperature", Restore(parsed.GetValue(temperature)!), Quantity.Temperature, out var dryBulb)
                & TryRead("humidity", Restore(parsed.GetValue(humidity)!), Quantity.Percent, out var relative)
                & TryRead("altitude", Restore(parsed.GetValue(altitude)!), Quantity.Length, out var metres);
            return sound ? Show(dryBulb, relative, metres, parsed.GetValue(json)) : 2;
        });
        return command;
    }

    /// <summary>"-5" is a temperature, not an option: marks it so that the command line parser lets it through.</summary>
    public static string[] ProtectNegatives(string[] args)
        => args.Length > 0 && args[0] == "air" ? [.. args.Select(arg => arg.Length > 1 && arg[0] == '-' && (char.IsAsciiDigit(arg[1]) || arg[1] == '.') ? "minus " + arg[1..] : arg)] : args;

    private static string Restore(string text) => text.StartsWith("minus ", StringComparison.Ordinal) ? "-" + text[6..] : text;

    private static bool TryRead(string what, string text, Quantity quantity, out double value)
    {
        if (QuantityText.TryRead(text, quantity, out value, out var problem))
            return true;
        Console.Error.WriteLine($"air: {what} \"{text}\" {problem}");
        return false;
    }

    private static int Show(double dryBulb, double relative, double metres, bool json)
    {
        if (!MoistAir.TryPressureAtAltitude(metres, out var pressure, out var why) || !AirState.TryFromRelativeHumidity(dryBulb, relative, pressure, out var air, out why))
        {
            Console.Error.WriteLine(Words(why));
            return 2;
        }
        if (json)
            Json(air);
        else
            Table(air, relative);
        return 0;
    }

    /// <summary>What was impossible, with its range in both unit systems where they differ.</summary>
    private static string Words(in Impossible why)
    {
        var (name, quantity) = why.Parameter switch
        {
            "dryBulbC" => ("temperature", Quantity.Temperature),
            "relativeHumidityPercent" => ("relative humidity", Quantity.Percent),
            "altitudeM" => ("altitude", Quantity.Length),
            _ => (why.Parameter, Quantity.Number),
        };
        var metric = Range(why, quantity, UnitSystem.Metric);
        var us = Range(why, quantity, UnitSystem.Us);
        return $"air: {name} {Quantities.ShowExactly(why.Value, quantity, UnitSystem.Metric)} is not possible here: {metric}{(us == metric ? "" : $" ({us})")}";
    }

    private static string Range(in Impossible why, Quantity quantity, UnitSystem units)
    {
        // Dry air has no dew point: the lower end of humidity is just above nothing.
        var from = quantity == Quantity.Percent && why.Lowest < 0.001 ? "more than 0 %" : "from " + Quantities.ShowExactly(why.Lowest, quantity, units);
        return $"{from} to {Quantities.ShowExactly(why.Highest, quantity, units)}";
    }

    private static void Json(in AirState air)
    {
        using var stream = new MemoryStream();
        using (var writer = new Utf8JsonWriter(stream))
        {
            writer.WriteStartObject();
            writer.WriteNumber("dry_bulb_c", air.DryBulbC);
            writer.WriteNumber("relative_humidity_percent", air.RelativeHumidityPercent);
            writer.WriteNumber("dew_point_c", air.DewPointC);
            writer.WriteNumber("wet_bulb_c", air.WetBulbC);
            writer.WriteNumber("humidity_ratio_kg_per_kg", air.HumidityRatio);
            writer.WriteNumber("enthalpy_kj_per_kg", air.EnthalpyKJPerKg);
            writer.WriteNumber("specific_volume_m3_per_kg", air.SpecificVolumeM3PerKg);
            writer.WriteNumber("pressure_pa", air.PressurePa);
            writer.WriteEndObject();
        }
        Console.Out.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }

    private static void Table(in AirState air, double relative)
    {
        // Exact factors: 1 BTU(IT) a pound = 2.326 kJ/kg, 1 ft³/lb = 0.0624279606 m³/kg, 1 pound = 7,000 grains. The US enthalpy scale starts at 0 °F: 0.240 · 32 = 7.68 Btu/lb at 0 °C.
        Row("dry bulb", air.DryBulbC, "0.00", "°C", air.DryBulbC * 1.8 + 32, "0.00", "°F");
        Row("relative humidity", air.RelativeHumidityPercent, "0.0", "%", air.RelativeHumidityPercent, "0.0", "%");
        Row("dew point", air.DewPointC, "0.00", "°C", air.DewPointC * 1.8 + 32, "0.00", "°F");
        Row("wet bulb", air.WetBulbC, "0.00", "°C", air.WetBulbC * 1.8 + 32, "0.00", "°F");
        Row("humidity ratio", air.HumidityRatio * 1000, "0.000", "g/kg", air.HumidityRatio * 7000, "0.0", "gr/lb");
        Row("enthalpy", air.EnthalpyKJPerKg, "0.00", "kJ/kg", air.EnthalpyKJPerKg / 2.326 + 7.68, "0.00", "Btu/lb");
        Row("specific volume", air.SpecificVolumeM3PerKg, "0.0000", "m³/kg", air.SpecificVolumeM3PerKg / 0.0624279606, "0.000", "ft³/lb");
        Row("pressure", air.PressurePa / 1000, "0.000", "kPa", air.PressurePa / 3386.389, "0.000", "inHg");
        Console.Out.WriteLine("per kg or lb of dry air; humidity over water; US enthalpy counted from 0 °F");
        if (relative <= 1)
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"note: {relative} % is what was written; if a share of 1 was meant, write {relative * 100:0.##}%"));
        if (MoistAir.IsOverSaturatedReading(relative))
            Console.Out.WriteLine("note: a humidity of 100 to 103 % is a sensor's error at saturation and counts as 100 %");
    }

    private static void Row(string name, double metric, string metricFormat, string metricUnit, double us, string usFormat, string usUnit)
        => Console.Out.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{name,-18}{metric.ToString(metricFormat, CultureInfo.InvariantCulture),10} {metricUnit,-7}{us.ToString(usFormat, CultureInfo.InvariantCulture),10} {usUnit}"));
}
