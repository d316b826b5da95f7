// A commented skeleton of a group or a whole file: what must be written stands there with something sensible, everything else is
// commented out with its default. "#key" is a key (take the sign away), "# text" is a remark.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>Writes skeletons.</summary>
/// <param name="units">Units of remarks and values.</param>
public sealed class SkeletonWriter(UnitSystem units)
{
    private const int Width = 132;

    private readonly StringBuilder text = new();

    /// <summary>A whole file.</summary>
    public static string File(FormGroup form, UnitSystem units, params string[] head)
    {
        var writer = new SkeletonWriter(units);
        foreach (var line in head)
            writer.text.Append("# ").Append(line).Append('\n');
        foreach (var part in form.Parts)
        {
            writer.text.Append('\n');
            writer.Part(part, 0, asleep: !part.Required && part != form.Parts[0]);
        }
        return writer.text.ToString();
    }

    /// <summary>One group with its key.</summary>
    /// <param name="part">The group.</param>
    /// <param name="units">Units of remarks and values.</param>
    /// <param name="level">How far in it stands.</param>
    public static string Of(FormPart part, UnitSystem units, int level = 0)
    {
        var writer = new SkeletonWriter(units);
        writer.Part(part, level, asleep: false);
        return writer.text.ToString();
    }

    /// <param name="part">The group.</param>
    /// <param name="level">How far in.</param>
    /// <param name="asleep">True when a group around it is commented out.</param>
    private void Part(FormPart part, int level, bool asleep)
    {
        if (part.Group.Choice is { } choice && part.Naming == FormNaming.Named)
        {
            foreach (var alternative in choice.Alternatives)
                Group(part.Group.With(alternative), alternative.Example, level, asleep, alternative.Word);
            return;
        }
        Group(part.Group, part.Shown, level, asleep, "");
    }

    private void Group(FormGroup group, string key, int level, bool asleep, string word)
    {
        Remark(level, group.Help);
        Line(level, asleep, $"{key}:");
        // A group with nothing in it is no group: where nothing must be written, what has a default stands there.
        var nothing = !group.Keys.Any(key => key.Required) && !group.Parts.Any(part => part.Required || part.Naming == FormNaming.Named);
        foreach (var inner in group.Keys)
            Key(inner, level + 1, asleep || !(inner.Required || (nothing && HasDefault(inner.Parameter))), word);
        foreach (var part in group.Parts)
        {
            if (part.Group.Point.Length > 0)
                Point(part, level + 1);
            else
                Part(part, level + 1, asleep || !(part.Required || part.InExamples || part.Naming == FormNaming.Named));
        }
    }

    private void Key(FormKey key, int level, bool asleep, string word)
    {
        var parameter = key.Parameter;
        var limits = FormWords.Limits(parameter, units);
        var facts = string.Join("; ", new[]
        {
            limits == FormWords.None ? "" : limits, parameter.Required ? "" : "default " + FormWords.Default(parameter, units),
            parameter.NeedsRestart ? "needs a restart" : "", parameter.Audience == Audience.Service ? "service" : "",
        }.Where(fact => fact.Length > 0));
        Remark(level, FormWords.Help(parameter, units) + (facts.Length > 0 ? $" ({facts})" : ""));
        if (parameter.More.Length > 0)
            Remark(level, FormWords.More(parameter, units));
        var isWord = word.Length > 0 && parameter.Choices.Contains(word) && key.Required;
        Line(level, asleep, $"{parameter.Key}: {(isWord ? word : FormWords.Example(parameter, units))}");
    }

    /// <summary>A point on one line with all keys it may have, commented out: which points there are is the house's matter.</summary>
    private void Point(FormPart part, int level)
    {
        var keys = part.Group.Keys.Where(key => !key.IsInstead).Select(key => $"{key.Parameter.Key}: {FormWords.Example(key.Parameter, units)}");
        Line(level, true, $"{part.Key}: {{{string.Join(", ", keys)}}}   # {part.Group.Help}");
    }

    private static bool HasDefault(Parameter parameter) => !double.IsNaN(parameter.Default) || !string.IsNullOrEmpty(parameter.DefaultText);

    private void Line(int level, bool asleep, string line) => text.Append(' ', 2 * level).Append(asleep ? "#" : "").Append(line).Append('\n');

    private void Remark(int level, string remark)
    {
        var line = new StringBuilder();
        foreach (var word in remark.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > Width - 2 * level)
                Flush();
            line.Append(line.Length > 0 ? " " : "").Append(word);
        }
        Flush();

        void Flush()
        {
            text.Append(' ', 2 * level).Append("# ").Append(line).Append('\n');
            line.Clear();
        }
    }
}
