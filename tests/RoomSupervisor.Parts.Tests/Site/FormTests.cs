// The composed form against the strict reader (both must know the same keys), the committed files against what is generated, explain,
// and retired keys.
using System.Text.RegularExpressions;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Site.Forms;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public partial class FormTests
{
    private static string Text(string name) => GeneratedFiles.All(Drivers.All).Single(file => file.Path.EndsWith(name, StringComparison.Ordinal)).Text;

    private static IEnumerable<FormLeaf> Leaves => FormWalk.Leaves("site.yaml", SiteForm.Of(Drivers.All)).Concat(FormWalk.Leaves("household.yaml", HouseholdForm.Form));

    private static string Explain(string asked, UnitSystem units = UnitSystem.Metric)
    {
        new Explainer(Drivers.All, units, []).TryExplain(asked, out var text);
        return text;
    }

    [Fact]
    public void What_is_committed_is_what_the_declarations_say()
    {
        foreach (var file in GeneratedFiles.All(Drivers.All))
        {
            var path = Path.Combine(Repository.Root, file.Path);
            Assert.True(File.Exists(path) && File.ReadAllText(path) == file.Text, $"{file.Path} is not what the declarations say: run tools/generate");
        }
    }

    [Fact]
    public void The_commented_files_are_a_site_without_mistakes()
        => Assert.DoesNotContain(Read(Text("site-commented.yaml"), Text("household-commented.yaml")).Problems, problem => problem.Severity == Severity.Error);

    /// <summary>Every key that is off, switched on: the reader knows them all.</summary>
    [Fact]
    public void No_key_of_the_commented_files_is_unknown_to_the_reader()
    {
        var problems = Read(Awake(Text("site-commented.yaml")), Awake(Text("household-commented.yaml"))).Problems;
        Assert.DoesNotContain(problems, problem => problem.Message is "unknown key" || problem.Message.Contains("may stand here", StringComparison.Ordinal) || problem.Message.Contains("is missing", StringComparison.Ordinal));
        Assert.DoesNotContain(problems, problem => problem.Message.Contains("is out of range", StringComparison.Ordinal) || problem.Message.Contains("is not a", StringComparison.Ordinal));
    }

    /// <summary>A key that nobody knows, put into every group: what the reader then allows is what the form lists there.</summary>
    [Fact]
    public void Form_and_reader_know_the_same_keys_in_every_group()
    {
        var asked = 0;
        foreach (var (name, form) in new[] { ("site-commented.yaml", SiteForm.Of(Drivers.All)), ("household-commented.yaml", HouseholdForm.Form) })
        {
            var lines = Awake(Text(name)).Split('\n');
            foreach (var place in FormWalk.Places(name, form).Where(place => place.Group.Keys.Count > 0 && place.Group.Point.Length == 0))
            {
                var at = Line(lines, place);
                var indent = new string(' ', 2 * place.Way.Count);
                var changed = string.Join('\n', [.. lines[..(at + 1)], indent + "zzzz: 1", .. lines[(at + 1)..]]);
                var result = name[0] == 's' ? Read(changed, Awake(Text("household-commented.yaml"))) : Read(Awake(Text("site-commented.yaml")), changed);
                var told = result.Problems.First(problem => problem.KeyPath.EndsWith("zzzz", StringComparison.Ordinal));
                var known = place.Group.Keys.Select(key => key.Parameter.Key).Concat(place.Group.Parts.Select(part => part.Key)).Where(key => key != place.Group.Keys[0].Parameter.Key || place.When.Length == 0);
                var allowed = told.Allowed.Split(", ").Where(key => place.When.Length == 0 || key != place.Group.Keys[0].Parameter.Key);
                Assert.Equal(known.Order(StringComparer.Ordinal), allowed.Distinct().Order(StringComparer.Ordinal));
                asked++;
            }
        }
        Assert.InRange(asked, 25, 60);
    }

    private static int Line(string[] lines, FormPlace place)
    {
        var at = -1;
        for (var level = 0; level < place.Way.Count; level++)
            at = Array.FindIndex(lines, at + 1, line => line == new string(' ', 2 * level) + place.Way[level].Shown + ":");
        Assert.True(at >= 0, place.Path);
        return at;
    }

    [GeneratedRegex("(?m)^( *)#(?! )")]
    private static partial Regex Asleep();

    private static string Awake(string text) => Asleep().Replace(text, "$1");

    [Fact]
    public void A_key_without_a_default_has_an_example_that_is_allowed()
    {
        foreach (var leaf in Leaves.Where(leaf => leaf.Key.Parameter.Choices.Count == 0))
        {
            var parameter = leaf.Key.Parameter;
            Assert.True(parameter.Example.Length > 0 || !double.IsNaN(parameter.Default) || !string.IsNullOrEmpty(parameter.DefaultText), $"{leaf.Path}: neither default nor example");
            foreach (var units in new[] { UnitSystem.Metric, UnitSystem.Us }.Where(_ => parameter.Quantity != Quantity.Text))
            {
                Assert.True(QuantityText.TryRead(FormWords.Example(parameter, units), parameter.Quantity, out var value, out var why), $"{leaf.Path}: {why}");
                Assert.True(parameter.Quantity == Quantity.Switch || (value >= parameter.Lowest - 0.01 && value <= parameter.Highest + 0.01), $"{leaf.Path}: {value}");
            }
        }
    }

    /// <summary>No sentence speaks metric to a reader of °F and feet.</summary>
    [Fact]
    public void Help_is_in_the_reader_s_units()
    {
        foreach (var parameter in Leaves.Select(leaf => leaf.Key.Parameter).Where(parameter => parameter.Quantity != Quantity.Text))
        {
            var all = string.Join(' ', FormWords.Help(parameter, UnitSystem.Us), FormWords.More(parameter, UnitSystem.Us), FormWords.Limits(parameter, UnitSystem.Us), FormWords.Step(parameter, UnitSystem.Us), FormWords.Default(parameter, UnitSystem.Us));
            Assert.DoesNotMatch(@"\d ?(°C|K|m²|kW|W|l|l/min|kJ/K|kPa|m)\b", all);
        }
    }

    [Fact]
    public void The_unit_of_a_sentence_is_never_guessed()
    {
        // 20.5 °C = 68.9 °F and 1 K = 1.8 °F by definition (NIST SP 811, appendix B): a difference is never shifted by 32.
        Assert.Equal("without it 68.9 °F, or 1.8 °F under", UnitWords.In("without it 20.5 °C, or 1 K under", UnitSystem.Us));
        Assert.Equal("91.4 °F instead of 84.2 °F; 9 to 27 °F; 108 ft²", UnitWords.In("33 °C instead of 29 °C; 5 to 15 K; 10 m²", UnitSystem.Us));
        Assert.Equal("10 min, 5 % and 24 mV", UnitWords.In("10 min, 5 % and 24 mV", UnitSystem.Us));
        Assert.Equal("33 °C", UnitWords.In("33 °C", UnitSystem.Metric));
    }

    [Theory]
    [InlineData("rooms.<room>.fan_at_most", "0 % to 100 %")]
    [InlineData("rooms.weaving-room.fan_at_most", "0 % to 100 %")]
    [InlineData("rooms.hall.coil-north.draught_fan_at_most", "found at checkout")]
    [InlineData("rooms.hall.points.coil-north.fan.channel", "an output may name several")]
    [InlineData("kinds.thin.response", "(with type: slab)")]
    [InlineData("quiet.from", "quiet hours begin")]
    [InlineData("time_zone", "a change waits for a restart")]
    [InlineData("devices.io-1.registers.fan.scale", "driver: modbus-tcp")]
    [InlineData("surface_time", "write response")]
    [InlineData("fan_at_mst", "did you mean fan_at_most?")]
    [InlineData("loops", "<loop>:")]
    [InlineData("qqqqqqqqqq", "there is no key")]
    public void Explain_finds(string asked, string says) => Assert.Contains(says, Explain(asked), StringComparison.Ordinal);

    [Fact]
    public void Explain_shows_every_key_in_the_reader_s_units_with_an_example()
    {
        var text = Explain("rooms.<room>.cool_above", UnitSystem.Us);
        Assert.Contains("64.4 °F to 89.6 °F", text, StringComparison.Ordinal);
        Assert.Contains("    rooms:\n      living-room:\n        cool_above: 75.2 °F\n", text, StringComparison.Ordinal);
        Assert.Contains("step       0.9 °F", Explain("rated_room", UnitSystem.Us), StringComparison.Ordinal);
        var explainer = new Explainer(Drivers.All, UnitSystem.Metric, []);
        foreach (var leaf in Leaves)
        {
            Assert.True(explainer.TryExplain(leaf.Path, out var told), leaf.Path);
            Assert.Contains($"{leaf.Key.Parameter.Key}: ", told, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_retired_key_is_answered_with_what_to_write_instead()
    {
        var problem = Assert.Single(ReadSite(("loops:\n", "sequence:\n  surface_time: 10 min\nloops:\n")).Problems);
        Assert.Equal("sequence.surface_time", problem.KeyPath);
        Assert.Contains("is no longer a key since version", problem.Message, StringComparison.Ordinal);
        Assert.Contains("write response in the panel's or slab's kind", problem.WhatToDo, StringComparison.Ordinal);
        foreach (var key in RetiredKeys.All)
            Assert.DoesNotContain(Leaves, leaf => leaf.Path == key.Path);
    }
}
