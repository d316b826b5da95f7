// The JSON Schema of one value of each quantity: a bare number, or a text of a number and a unit in any spelling people use. Regular
// expressions that every dialect understands.
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

internal static class SchemaTypes
{
    private const string Space = "[ \\t\\u00A0\\u2009\\u202F]*";

    private const string Number = "[-+\\u2212\\u2013]?([0-9]+[.,]?[0-9]*|[.,][0-9]+)";

    /// <summary>Name of its definition.</summary>
    public static string NameOf(Quantity quantity)
    {
        var name = new StringBuilder();
        foreach (var c in quantity.ToString())
            name.Append(char.IsUpper(c) && name.Length > 0 ? "-" : "").Append(char.ToLowerInvariant(c));
        return name.ToString();
    }

    public static JsonObject Of(Quantity quantity) => quantity switch
    {
        Quantity.Text => new JsonObject { ["type"] = Types("string", "number", "boolean") },
        Quantity.Switch => new JsonObject { ["anyOf"] = new JsonArray(new JsonObject { ["type"] = "boolean" }, Pattern("^([tT][rR][uU][eE]|[yY][eE][sS]|[oO][nN]|[fF][aA][lL][sS][eE]|[nN][oO]|[oO][fF][fF])$")) },
        Quantity.TimeOfDay => Pattern("^[0-9]{1,2}:[0-9]{2}$"),
        Quantity.Date => Pattern("^[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}([ T]+[0-9]{1,2}:[0-9]{2})?$"),
        Quantity.DateTime => Pattern("^[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}[ T]+[0-9]{1,2}:[0-9]{2}$"),
        _ => new JsonObject { ["anyOf"] = new JsonArray(new JsonObject { ["type"] = "number" }, Pattern($"^{Space}{Number}{Space}{Units(quantity)}{Space}$")) },
    };

    /// <summary>One word or a list of words.</summary>
    public static JsonObject Words() => new()
    {
        ["anyOf"] = new JsonArray(Of(Quantity.Text), new JsonObject { ["type"] = "array", ["minItems"] = 1, ["items"] = Of(Quantity.Text) }),
    };

    private static JsonArray Types(params string[] names) => new([.. names.Select(name => (JsonNode)name)]);

    private static JsonObject Pattern(string pattern) => new() { ["type"] = "string", ["pattern"] = pattern };

    private static string Units(Quantity quantity)
    {
        var spellings = Quantities.UnitsOf(quantity).SelectMany(unit => unit.Spellings).Select(Spelling).ToList();
        if (spellings.Contains("[°º˚] ?[cC]"))
            spellings.AddRange(["℃", "℉"]);
        return spellings.Count == 0 ? "" : $"({string.Join('|', spellings)})?";
    }

    private static string Spelling(string unit)
    {
        var pattern = new StringBuilder();
        foreach (var c in unit)
        {
            pattern.Append(c switch
            {
                '°' => "[°º˚] ?",
                '(' or ')' or '^' => "\\" + c,
                _ when char.IsAsciiLetter(c) => string.Create(CultureInfo.InvariantCulture, $"[{char.ToLowerInvariant(c)}{char.ToUpperInvariant(c)}]"),
                _ => c.ToString(),
            });
        }
        return pattern.ToString();
    }
}
