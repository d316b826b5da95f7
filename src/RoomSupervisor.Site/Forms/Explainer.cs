// explain: finds keys by full path, by their last words or by a group, and tells what is known of them. Pure text.
using System.Text;
using System.Text.RegularExpressions;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>Finds and explains keys.</summary>
/// <param name="drivers">Drivers the program has.</param>
/// <param name="units">Units of the reader.</param>
/// <param name="effective">Values that hold at a site; empty: none is looked at.</param>
public sealed class Explainer(IReadOnlyList<DriverDeclaration> drivers, UnitSystem units, IReadOnlyList<EffectiveValue> effective)
{
    private readonly IReadOnlyList<FormPlace> places =
        [.. FormWalk.Places(SiteReader.SiteFile, SiteForm.Of(drivers)), .. FormWalk.Places(SiteReader.HouseholdFile, HouseholdForm.Form)];

    private IEnumerable<FormLeaf> Leaves => places.SelectMany(place => place.Group.Keys.Select(key => new FormLeaf(place, key)));

    // Made at the first question and kept: the runtime's own memory of patterns holds fifteen, a site has some hundreds of keys.
    private (FormLeaf Leaf, Regex Pattern)[] Patterns => patterns ??= [.. Leaves.Select(leaf => (leaf, new Regex(leaf.Pattern, RegexOptions.CultureInvariant)))];

    private (FormLeaf Leaf, Regex Pattern)[]? patterns;

    /// <summary>What is known of a key, or what was probably meant.</summary>
    /// <param name="asked">Full path with names or placeholders, the last part of one, or a group.</param>
    /// <param name="text">Lines for people.</param>
    /// <returns>False when there is no such key.</returns>
    public bool TryExplain(string asked, out string text)
    {
        var builder = new StringBuilder();
        var found = Find(asked);
        foreach (var leaf in found)
            Tell(builder, leaf, asked);
        if (found.Count == 0)
            Groups(builder, asked);
        if (builder.Length == 0 && RetiredKeys.All.FirstOrDefault(key => key.Path == asked || key.Path.EndsWith("." + asked, StringComparison.Ordinal) || RetiredKeys.Fits(key.Path, asked)) is { } retired)
            builder.Append($"{retired.Path} {retired.Message}: {retired.Instead}\n");
        var isKnown = builder.Length > 0;
        text = isKnown ? builder.ToString() : $"there is no key \"{asked}\"{Hint(asked)}\n";
        return isKnown;
    }

    /// <summary>Keys of a full path; else all whose path ends so.</summary>
    public IReadOnlyList<FormLeaf> Find(string asked)
    {
        var exact = Patterns.Where(one => one.Leaf.Path == asked || one.Pattern.IsMatch(asked)).Select(one => one.Leaf).ToList();
        return exact.Count > 0 ? exact : [.. Leaves.Where(leaf => leaf.Path.EndsWith("." + asked, StringComparison.Ordinal) && leaf.Place.Group.Point.Length == 0)
            .Concat(Leaves.Where(leaf => leaf.Place.Group.Point.Length > 0 && leaf.Path.EndsWith("." + asked, StringComparison.Ordinal)).DistinctBy(leaf => (leaf.Key.Parameter.Help, leaf.Key.Parameter.Quantity)))];
    }

    private void Groups(StringBuilder text, string asked)
    {
        foreach (var place in places.Where(place => place.Path.Length > 0 && (place.Path == asked || Regex.IsMatch(asked, $"^{place.Pattern}$", RegexOptions.CultureInvariant))))
        {
            text.Append($"{place.Path}{When(place)} in {place.File}: {place.Group.Help}\n");
            foreach (var key in place.Group.Keys)
                text.Append($"  {key.Parameter.Key,-24} {FormWords.Help(key.Parameter, units)}\n");
            foreach (var part in place.Group.Parts)
                text.Append($"  {part.Key + ":",-24} {part.Group.Help}\n");
            text.Append('\n');
        }
    }

    private void Tell(StringBuilder text, FormLeaf leaf, string asked)
    {
        var parameter = leaf.Key.Parameter;
        text.Append($"{leaf.Path}{When(leaf.Place)}\n  {FormWords.Help(parameter, units)}\n");
        if (parameter.More.Length > 0)
            text.Append($"  {FormWords.More(parameter, units)}\n");
        Fact(text, "unit", FormWords.Unit(parameter, units));
        Fact(text, "default", FormWords.Default(parameter, units));
        Fact(text, parameter.Choices.Count > 0 ? "one of" : "limits", FormWords.Limits(parameter, units));
        Fact(text, "step", FormWords.Step(parameter, units));
        Fact(text, "changed by", FormWords.Who(parameter));
        Fact(text, "restart", parameter.NeedsRestart ? "a change waits for a restart" : "not needed");
        Values(text, leaf, asked);
        text.Append($"  in {leaf.Place.File}:\n");
        Example(text, leaf);
        text.Append('\n');
    }

    private static void Fact(StringBuilder text, string name, string fact)
    {
        if (fact != FormWords.None)
            text.Append($"  {name,-11}{fact}\n");
    }

    /// <summary>What holds: of the path that was asked, else of all that fit.</summary>
    private void Values(StringBuilder text, FormLeaf leaf, string asked)
    {
        var fitting = effective.Where(value => Regex.IsMatch(value.Path, leaf.Pattern, RegexOptions.CultureInvariant)).ToList();
        var one = fitting.Where(value => value.Path == asked).ToList();
        foreach (var value in one.Count > 0 ? one : fitting)
            text.Append($"  in force   {value.Path}: {value.Shown}{(value.IsDefault ? " (default)" : "")}\n");
    }

    private void Example(StringBuilder text, FormLeaf leaf)
    {
        var level = 0;
        foreach (var step in leaf.Place.Way)
        {
            text.Append(' ', 4 + 2 * level).Append(step.Shown).Append(":\n");
            level++;
            if (step.WordKey.Length > 0 && step.WordKey != leaf.Key.Parameter.Key)
                text.Append(' ', 4 + 2 * level).Append($"{step.WordKey}: {step.Word}\n");
        }
        var isWord = leaf.Place.Way.Count > 0 && leaf.Place.Way[^1].WordKey == leaf.Key.Parameter.Key;
        text.Append(' ', 4 + 2 * level).Append($"{leaf.Key.Parameter.Key}: {(isWord ? leaf.Place.Way[^1].Word : FormWords.Example(leaf.Key.Parameter, units))}\n");
    }

    private static string When(FormPlace place) => place.When.Length > 0 ? $" (with {place.When})" : "";

    private string Hint(string asked)
    {
        var last = asked[(asked.LastIndexOf('.') + 1)..];
        var paths = Leaves.Select(leaf => leaf.Path).Distinct(StringComparer.Ordinal).ToList();
        var keys = Leaves.Select(leaf => leaf.Key.Parameter.Key).Distinct(StringComparer.Ordinal).ToList();
        var near = Nearest.To(last, keys);
        if (near is null)
            return Nearest.To(asked, paths) is { } path ? $"; did you mean {path}?" : "; room-supervisor explain rooms, kinds, loops, source, devices or sequence lists what there is";
        var where = paths.Where(path => path.EndsWith("." + near, StringComparison.Ordinal)).Take(4).ToList();
        return $"; did you mean {near}? It stands in {string.Join(", ", where)}";
    }
}
