// The JSON schemas against the examples and against wrong files, judged by a validator that nobody of this project wrote
// (JsonSchema.Net). YAML becomes JSON by the core schema of YAML 1.2.
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site.Forms;
using YamlDotNet.RepresentationModel;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class SchemaTests
{
    private static readonly JsonSchema SiteSchema = Load("shared/schema/site.schema.json");
    private static readonly JsonSchema HouseholdSchema = Load("shared/schema/household.schema.json");

    private static JsonSchema Load(string path) => JsonSchema.FromText(GeneratedFiles.All(Drivers.All).Single(file => file.Path == path).Text);

    public static TheoryData<string> Examples() => [.. Directory.GetDirectories(Path.Combine(Repository.Root, "config")).Select(folder => Path.GetFileName(folder)!)];

    private static bool Fits(JsonSchema schema, string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        using var json = JsonDocument.Parse(Json(stream.Documents[0].RootNode)?.ToJsonString() ?? "null");
        return schema.Evaluate(json.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.Flag }).IsValid;
    }

    private static JsonNode? Json(YamlNode node) => node switch
    {
        YamlMappingNode map => new JsonObject(map.Children.Select(pair => KeyValuePair.Create(((YamlScalarNode)pair.Key).Value!, Json(pair.Value)))),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(Json)]),
        YamlScalarNode { Style: YamlDotNet.Core.ScalarStyle.Plain } plain => Plain(plain.Value!),
        YamlScalarNode quoted => JsonValue.Create(quoted.Value),
        _ => null,
    };

    /// <summary>YAML 1.2 core schema, section 10.3.2: null, booleans, numbers, else text.</summary>
    private static JsonValue? Plain(string text) => text switch
    {
        "" or "~" or "null" or "Null" or "NULL" => null,
        "true" or "True" or "TRUE" => JsonValue.Create(true),
        "false" or "False" or "FALSE" => JsonValue.Create(false),
        _ => double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? JsonValue.Create(number) : JsonValue.Create(text),
    };

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_fits_its_schema(string name)
    {
        Assert.True(Fits(SiteSchema, File.ReadAllText(Path.Combine(Repository.Root, "config", name, "site.yaml"))), name + "/site.yaml");
        Assert.True(Fits(HouseholdSchema, File.ReadAllText(Path.Combine(Repository.Root, "config", name, "household.yaml"))), name + "/household.yaml");
    }

    [Fact]
    public void The_commented_files_fit_too()
    {
        Assert.True(Fits(SiteSchema, GeneratedFiles.All(Drivers.All).Single(file => file.Path.EndsWith("site-commented.yaml", StringComparison.Ordinal)).Text));
        Assert.True(Fits(HouseholdSchema, GeneratedFiles.All(Drivers.All).Single(file => file.Path.EndsWith("household-commented.yaml", StringComparison.Ordinal)).Text));
    }

    [Theory]
    [InlineData("altitude: 12 m", "altitude: 12 kW")]                    // a wrong dimension
    [InlineData("altitude: 12 m", "altitud: 12 m")]                      // an unknown key
    [InlineData("  time_zone: America/New_York\n", "")]                  // a missing key
    [InlineData("  units: metric", "  units: imperial")]                 // a word that is none
    [InlineData("type: panel", "type: panel\n    start_speed: 20 %")]    // a key of another type
    [InlineData("type: fan-coil", "type: fan-cool")]
    [InlineData("floor_area: 24 m²", "floor_area: 24000")]               // a bare number out of its limits
    [InlineData("driver: modbus-tcp", "driver: modbus")]
    [InlineData("table: discrete-input, address: 0}", "table: discrete-input}")]
    [InlineData("serves: surfaces", "serves: floors")]
    [InlineData("coil.fan:", "coil.fun:")]
    [InlineData("    drip_tray_switch: true", "    drip_tray_switch: maybe")]
    public void A_wrong_site_does_not_fit(string old, string changed)
    {
        Assert.True(Fits(SiteSchema, SiteText));
        Assert.False(Fits(SiteSchema, With(SiteText, (old, changed))));
    }

    [Theory]
    [InlineData("cool_above: 24 °C", "cool_above: 75")]
    [InlineData("cool_above: 24 °C", "cool_above: 24 %")]
    [InlineData("cool_above: 24 °C", "cool_abov: 24 °C")]
    [InlineData("from: 20:30", "from: evening")]
    public void A_wrong_household_does_not_fit(string old, string changed)
    {
        Assert.True(Fits(HouseholdSchema, HouseholdText));
        Assert.False(Fits(HouseholdSchema, With(HouseholdText, (old, changed))));
    }

    /// <summary>What people type and the reader understands must not be marked in an editor.</summary>
    [Theory]
    [InlineData("24,5")]
    [InlineData("24.5 C")]
    [InlineData("75F")]
    [InlineData("75 °f")]
    [InlineData("24\u00A0ºC")]
    [InlineData("24 ℃")]
    [InlineData("24")]
    [InlineData("24.")]
    public void What_the_reader_understands_fits(string typed)
    {
        var text = With(HouseholdText, ("24 °C", typed));
        Assert.Empty(Read(SiteText, text).Problems);
        Assert.True(Fits(HouseholdSchema, text), typed);
    }

    [Theory]
    [InlineData("650 ft2")]
    [InlineData("650 sq ft")]
    [InlineData("24 M2")]
    public void Areas_in_every_spelling_fit(string typed)
    {
        var text = With(SiteText, ("floor_area: 24 m²", "floor_area: " + typed));
        Assert.Empty(Read(text, HouseholdText).Problems);
        Assert.True(Fits(SiteSchema, text), typed);
    }
}
