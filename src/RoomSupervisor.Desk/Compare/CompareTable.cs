// A comparison as columns of plain words and figures, for the terminal, the page and the JSON. Must never order by merit: a, b, c, d, e.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Desk.Report;

namespace RoomSupervisor.Desk.Compare;

/// <summary>One thing that is compared.</summary>
/// <param name="Group">Comfort, noise, dryness or energy.</param>
/// <param name="Name">Name in the JSON.</param>
/// <param name="Head">Short words.</param>
/// <param name="Unit">Base unit.</param>
/// <param name="Of">Its value.</param>
/// <param name="Decimals">Shown.</param>
internal sealed record ComparedColumn(string Group, string Name, string Head, string Unit, Func<ComparedMeasures, double> Of, int Decimals);

/// <summary>Writes comparisons.</summary>
internal static class CompareTable
{
    /// <summary>Less is better in every one of them.</summary>
    public static IReadOnlyList<ComparedColumn> Columns { get; } =
    [
        new("comfort", "discomfort_kh", "outside the band", "K·h", one => one.OutsideKh, 1),
        new("comfort", "too_cold_kh", "cooled too far", "K·h", one => one.TooColdKh, 1),
        new("comfort", "pull_down_minutes", "back after a door", "min", one => one.RecoveryMin, 0),
        new("noise", "loudest_dba", "loudest room", "dB(A)", one => one.LoudestDba, 1),
        new("noise", "audible_changes_per_hour", "heard changes", "1/h", one => one.HeardAnHour, 1),
        new("dryness", "condensing_minutes", "wet surfaces", "min", one => one.WetMin, 0),
        new("dryness", "condensed_grams_per_m2", "film", "g/m²", one => one.FilmGPerM2, 1),
        new("dryness", "mean_humidity_percent", "mean humidity", "%", one => one.HumidityPercent, 1),
        new("energy", "electric_kwh", "electricity", "kWh", one => one.ElectricKwh, 1),
        new("energy", "source_starts", "source starts", "", one => one.SourceStarts, 0),
    ];

    /// <summary>What others have measured, so that nobody claims more from two days of a simulated house (published studies of coordinated emitters and of predictive control, from memory).</summary>
    public const string Ceiling = "For scale: published studies gained 2 to 11 % of energy by coordinating emitters and 13 to 16 % by predictive control against good rules; a larger difference here tells of the rival, the days and its comfort, not of what this control saves.";

    /// <summary>A value as it is read; a recovery that was not reached took longer than it was watched.</summary>
    public static string Text(Compared row, ComparedColumn column, ReportUnits units)
    {
        var value = units.Measure(row.Mean(column.Of), column.Unit).Value;
        var longer = column.Name == "pull_down_minutes" && row.Runs.Any(run => !run.Measures.IsRecovered) ? ">" : "";
        return double.IsFinite(value) ? longer + value.ToString("F" + column.Decimals, CultureInfo.InvariantCulture) : "–";
    }

    /// <summary>For the terminal: a line a measure, a column a control.</summary>
    public static void Write(TextWriter to, Comparison comparison)
    {
        var house = comparison.Plan.Files.House;
        var units = new ReportUnits(house.Units == Terms.UnitSystem.Us);
        to.WriteLine($"{house.Name}, {comparison.Plan.ScenarioName}, seeds {string.Join(", ", comparison.All[0].Runs.Select(run => run.Seed))}; means. The same weather, caps, quiet hours, water limits and supply reset for all; trade-offs, no winner.");
        to.WriteLine($"rooms compared: {string.Join(", ", comparison.Rooms.Select(i => house.Rooms[i].Id))}; energy is the house's");
        foreach (var row in comparison.All)
            to.WriteLine($"  ({row.Contender.Letter}) {row.Contender.Title}: {Words(row.Contender, units)}");
        to.WriteLine(new string(' ', 36) + string.Concat(comparison.All.Select(row => $"({row.Contender.Letter})".PadLeft(9))));
        foreach (var column in Columns)
            to.WriteLine($"{column.Group,-9}{column.Head,-18}{units.Measure(0, column.Unit).Unit,-9}" + string.Concat(comparison.All.Select(row => Text(row, column, units).PadLeft(9))));
        to.WriteLine(Ceiling);
    }

    /// <summary>What a control does, in the site's units.</summary>
    public static string Words(Contender contender, ReportUnits units) => units.Words(contender.Words);

    /// <summary>Means and every run.</summary>
    public static void WriteJson(Stream stream, Comparison comparison)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteString("site", comparison.Plan.Files.House.Name);
        json.WriteString("scenario", comparison.Plan.ScenarioName);
        json.WriteStartObject("controls");
        foreach (var row in comparison.All)
        {
            json.WriteStartObject(row.Contender.Letter.ToString());
            json.WriteString("title", row.Contender.Title);
            Values(json, row.Mean);
            json.WriteStartArray("runs");
            foreach (var run in row.Runs)
            {
                json.WriteStartObject();
                json.WriteNumber("seed", run.Seed);
                Values(json, of => of(run.Measures));
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Values(Utf8JsonWriter json, Func<Func<ComparedMeasures, double>, double> value)
    {
        foreach (var column in Columns)
        {
            var one = value(column.Of);
            if (double.IsFinite(one))
                json.WriteNumber(column.Name, Math.Round(one, 4));
            else
                json.WriteNull(column.Name);
        }
    }
}
