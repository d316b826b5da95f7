// JSON Schema (2020-12) of the two files, so that editors complete and mark. Lenient where the strict reader knows better: what passes
// here may still be refused there, but nothing that the reader accepts fails here.
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Globalization;
using System.Text.Json.Nodes;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>Writes schemas.</summary>
public sealed class SchemaWriter
{
    private readonly SortedDictionary<string, JsonObject> definitions = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> points = new(StringComparer.Ordinal);

    private SchemaWriter()
    {
    }

    /// <summary>The schema of a file as text.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="form">The file's form.</param>
    public static string Write(string title, FormGroup form)
    {
        var writer = new SchemaWriter();
        var whole = writer.Group(form);
        var root = new JsonObject { ["$schema"] = "https://json-schema.org/draft/2020-12/schema", ["title"] = title, ["$comment"] = "Written by tools/generate; do not edit." };
        foreach (var (key, value) in whole.ToList())
        {
            whole.Remove(key);
            root[key] = value;
        }
        var named = new JsonObject();
        foreach (var (key, value) in writer.definitions)
            named[key] = value;
        root["$defs"] = named;
        return Text(root) + "\n";
    }

    private JsonObject Group(FormGroup group)
    {
        var schema = new JsonObject { ["type"] = "object", ["description"] = group.Help };
        if (group.Choice is { } choice)
        {
            schema["properties"] = new JsonObject { [choice.Word.Parameter.Key] = Key(choice.Word) };
            schema["required"] = new JsonArray((JsonNode)choice.Word.Parameter.Key);
            schema["allOf"] = new JsonArray([.. choice.Alternatives.Select(alternative => (JsonNode)Case(group, choice, alternative))]);
            return schema;
        }
        Members(group, schema);
        schema["additionalProperties"] = false;
        return schema;
    }

    private JsonObject Case(FormGroup group, FormChoice choice, FormAlternative alternative)
    {
        var key = choice.Word.Parameter.Key;
        return new JsonObject
        {
            ["if"] = new JsonObject { ["properties"] = new JsonObject { [key] = new JsonObject { ["const"] = alternative.Word } }, ["required"] = new JsonArray((JsonNode)key) },
            ["then"] = Group(group.With(alternative)),
        };
    }

    private void Members(FormGroup group, JsonObject schema)
    {
        var properties = new JsonObject();
        var patterns = new JsonObject();
        foreach (var key in group.Keys)
            properties[key.Parameter.Key] = Key(key);
        foreach (var part in group.Parts)
        {
            var inner = part.Group.Point.Length > 0 ? PointReference(part.Group) : Group(part.Group);
            if (part.Naming == FormNaming.Fixed)
                properties[part.Key] = inner;
            else
                patterns[$"^{part.Pattern}$"] = inner;
        }
        if (properties.Count > 0)
            schema["properties"] = properties;
        if (patterns.Count > 0)
            schema["patternProperties"] = patterns;
        string[] required = [.. group.Keys.Where(key => key.Required).Select(key => key.Parameter.Key), .. group.Parts.Where(part => part.Required && part.Naming == FormNaming.Fixed).Select(part => part.Key)];
        if (required.Length > 0)
            schema["required"] = new JsonArray([.. required.Select(key => (JsonNode)key)]);
        if (group.Parts.Any(part => part.Required && part.Naming == FormNaming.Named))
            schema["minProperties"] = 1;
    }

    /// <summary>Points that take the same keys share a definition.</summary>
    private JsonObject PointReference(FormGroup group)
    {
        var schema = Group(group);
        var text = Text(schema);
        if (!points.TryGetValue(text, out var name))
        {
            name = $"point-{points.Count + 1}";
            points[text] = name;
            definitions[name] = schema;
        }
        return new JsonObject { ["$ref"] = $"#/$defs/{name}" };
    }

    private JsonObject Key(FormKey key)
    {
        var parameter = key.Parameter;
        var schema = new JsonObject { ["description"] = Description(parameter) };
        if (parameter.Choices.Count > 0)
            schema["enum"] = new JsonArray([.. parameter.Choices.SelectMany(Written)]);
        else
            schema["$ref"] = Reference(key.TakesList ? "words" : SchemaTypes.NameOf(parameter.Quantity), key.TakesList ? SchemaTypes.Words : () => SchemaTypes.Of(parameter.Quantity));
        if (parameter.Quantity is not (Quantity.Text or Quantity.Switch or Quantity.TimeOfDay or Quantity.Date or Quantity.DateTime))
            Limits(parameter, schema);
        if (Standard(parameter) is { } standard)
            schema["default"] = standard;
        return schema;
    }

    private string Reference(string name, Func<JsonObject> make)
    {
        if (!definitions.ContainsKey(name))
            definitions[name] = make();
        return $"#/$defs/{name}";
    }

    /// <summary>Limits count for bare numbers, which are in the base unit.</summary>
    private static void Limits(Parameter parameter, JsonObject schema)
    {
        if (double.IsFinite(parameter.Lowest))
            schema["minimum"] = parameter.Lowest;
        if (double.IsFinite(parameter.Highest))
            schema["maximum"] = parameter.WantsUnit ? Math.Max(0, parameter.Lowest) : parameter.Highest;
        if (parameter.Whole)
            schema["multipleOf"] = 1;
    }

    private static JsonNode? Standard(Parameter parameter) => parameter.Quantity switch
    {
        _ when parameter.Required => null,
        Quantity.Text => string.IsNullOrEmpty(parameter.DefaultText) ? null : (JsonNode)parameter.DefaultText,
        _ when double.IsNaN(parameter.Default) => null,
        Quantity.Switch => parameter.Default > 0.5,
        Quantity.Number => parameter.Default,
        _ => Quantities.ShowExactly(parameter.Default, parameter.Quantity, UnitSystem.Metric),
    };

    private static string Description(Parameter parameter)
    {
        var limits = parameter.Choices.Count > 0 ? FormWords.None : FormWords.Limits(parameter, UnitSystem.Metric);
        return parameter.Help.TrimEnd('.') + (limits == FormWords.None ? "" : $" ({limits})") + (parameter.More.Length > 0 ? $". {parameter.More}" : "");
    }

    private static string Text(JsonNode node)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, IndentSize = 1, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
            node.WriteTo(json);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>A word that is a number may stand without quotes.</summary>
    private static IEnumerable<JsonNode> Written(string word)
    {
        yield return word;
        if (int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            yield return number;
    }
}
