// shared/reference/parameters.md: every key with unit, default, limits, step, who may change it, restart and help, a table a group.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>Writes the reference of parameters.</summary>
public static class ReferenceWriter
{
    private const UnitSystem Metric = UnitSystem.Metric;

    /// <summary>The whole document, in metric units.</summary>
    public static string Write(IReadOnlyList<DriverDeclaration> drivers)
    {
        var text = new StringBuilder("""
            # Every key of site.yaml and household.yaml

            Written by `tools/generate` from the declarations in the source; do not edit by hand. `room-supervisor explain KEY` shows one key, in the units of a
            site. A bare number is in the unit of the table. `<room>`, `<kind>` and the like stand for names you choose: lower-case letters, digits, hyphens.
            In a room `coil`, `ceiling`, `floor` and `wall` may carry a name: `coil-north`; then its points are `coil-north.fan` and so on. Further air sensors are `air-desk.temperature` and `air-desk.humidity`.
            Who: the household may change its own keys at any time; installer and service keys are in the installer's file (service: only with the sequence at hand).


            """.ReplaceLineEndings("\n"));
        File(text, SiteReader.SiteFile, SiteForm.Of(drivers));
        File(text, SiteReader.HouseholdFile, HouseholdForm.Form);
        text.Append("## Retired keys\n\n| key | since | write instead |\n|---|---|---|\n");
        foreach (var key in RetiredKeys.All)
            text.Append($"| `{key.Path}` | {key.Since} | {key.Instead} |\n");
        return text.ToString();
    }

    private static void File(StringBuilder text, string file, FormGroup form)
    {
        text.Append($"## {file}\n\n");
        var points = new Dictionary<string, Parameter>(StringComparer.Ordinal);
        foreach (var place in FormWalk.Places(file, form))
        {
            if (place.Group.Parts.Any(part => part.Group.Point.Length > 0))
                Points(text, place);
            foreach (var key in place.Group.Point.Length > 0 ? place.Group.Keys : [])
                points.TryAdd($"{key.Parameter.Key}|{Cells(key.Parameter)}", key.Parameter);
            if (place.Group.Keys.Count > 0 && place.Group.Point.Length == 0)
                Table(text, $"`{place.Path}`{(place.When.Length > 0 ? $" with `{place.When}`" : "")}", place.Group.Help, place.Group.Keys.Select(key => key.Parameter));
        }
        if (points.Count > 0)
            Table(text, "Keys of a point", "which of them a point takes stands in the tables of points; opens and shuts belong to three-point actuators, step_1 and on to stepped fans", points.Values);
    }

    private static void Table(StringBuilder text, string title, string help, IEnumerable<Parameter> parameters)
    {
        var all = parameters.ToList();
        text.Append($"### {title}\n\n{Capital(help)}.\n\n| key | unit | default | limits | step | who | restart | what it is |\n|---|---|---|---|---|---|---|---|\n");
        foreach (var parameter in all)
            text.Append($"| `{parameter.Key}` | {Cells(parameter)} |\n");
        text.Append('\n');
    }

    private static string Cells(Parameter parameter) => string.Join(" | ",
        FormWords.Unit(parameter, Metric), FormWords.Default(parameter, Metric), FormWords.Limits(parameter, Metric), FormWords.Step(parameter, Metric),
        FormWords.Who(parameter), parameter.NeedsRestart ? "yes" : "no", Cell(parameter.Help + (parameter.More.Length > 0 ? ". " + parameter.More : "")));

    private static void Points(StringBuilder text, FormPlace place)
    {
        text.Append($"### `{place.Path}`{(place.When.Length > 0 ? $" with `{place.When}`" : "")}\n\n{Capital(place.Group.Help)}.\n\n| point | what | keys |\n|---|---|---|\n");
        foreach (var part in place.Group.Parts)
            text.Append($"| `{part.Key}` | {part.Group.Help} | {string.Join(", ", part.Group.Keys.Select(key => key.Parameter.Key))} |\n");
        text.Append('\n');
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..].TrimEnd('.');

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal).Replace("\n", " ", StringComparison.Ordinal);
}
