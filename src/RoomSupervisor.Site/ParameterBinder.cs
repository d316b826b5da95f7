// Binds the keys of a group to declared parameters: unknown, missing and empty keys, wrong units and values out of range are told,
// each with what is allowed and what was probably meant. The only way from a file into a setting.
using RoomSupervisor.Site.Forms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class ParameterBinder(Problems problems)
{
    private readonly List<(string Path, Parameter Parameter, double Number, string? Text, bool IsDefault, bool IsHousehold)> bound = [];

    /// <summary>Units of what is allowed, in messages: the site's, once they are read.</summary>
    public UnitSystem Units
    {
        get => problems.Units;
        set => problems.Units = value;
    }

    /// <summary>True while the household's file is read.</summary>
    public bool IsHousehold { get; set; }

    /// <summary>Binds every entry that a parameter declares; entries named in <paramref name="groups"/> are the caller's.</summary>
    /// <returns>False when something in this group was wrong.</returns>
    public bool Bind<T>(MapNode map, string path, T owner, IReadOnlyList<Parameter<T>> parameters, params string[] groups)
    {
        var before = problems.Errors;
        var written = new HashSet<string>(StringComparer.Ordinal);
        foreach (var entry in map.Entries)
        {
            var parameter = parameters.FirstOrDefault(candidate => candidate.Key == entry.Key);
            if (parameter is not null)
            {
                written.Add(entry.Key);
                BindOne(entry, Join(path, entry.Key), owner, parameter);
            }
            else if (!groups.Contains(entry.Key))
            {
                Unknown(entry, path, [.. parameters.Select(candidate => candidate.Key), .. groups]);
            }
        }
        foreach (var parameter in parameters.Where(parameter => !written.Contains(parameter.Key)))
            Default(map, path, owner, parameter);
        // What the tree reader has already refused leaves its setting unset: the group cannot be used.
        return problems.Errors == before && !map.Damaged && !map.Entries.Any(entry => entry.Value is BrokenNode);
    }

    /// <summary>Like <see cref="Bind"/>, but what nobody wrote keeps the value that the owner already has.</summary>
    public bool BindOver<T>(MapNode map, string path, T owner, IReadOnlyList<Parameter<T>> parameters)
    {
        var before = problems.Errors;
        foreach (var parameter in parameters)
        {
            if (map.Find(parameter.Key) is { } entry)
                BindOne(entry, Join(path, entry.Key), owner, parameter);
            else if (parameter.GetNumber is { } get)
                bound.Add((Join(path, parameter.Key), parameter, get(owner), null, true, IsHousehold));
        }
        return problems.Errors == before && !map.Entries.Any(entry => entry.Value is BrokenNode);
    }

    /// <summary>Takes the defaults of a group that nobody wrote.</summary>
    public void Defaults<T>(string path, T owner, IReadOnlyList<Parameter<T>> parameters)
    {
        foreach (var parameter in parameters.Where(parameter => !parameter.Required))
            Default(new MapNode(default, []), path, owner, parameter);
    }

    /// <summary>Tells a key that nobody knows.</summary>
    public void Unknown(Entry entry, string path, IReadOnlyList<string> known)
    {
        var full = Join(path, entry.Key);
        if (problems.IsFull)
            problems.Error(entry.KeyMark, full, "", "unknown key");
        else if (RetiredKeys.Find(full) is { } retired)
            problems.Error(entry.KeyMark, full, "", retired.Message, "", retired.Instead);
        else if (LaterWords.Knows(entry.Key))
            problems.Error(entry.KeyMark, full, "", LaterWords.Message, string.Join(", ", known), "remove the line");
        else
            problems.Error(entry.KeyMark, full, "", "unknown key", string.Join(", ", known), Nearest.Hint(entry.Key, known));
    }

    /// <summary>Reads one value as a parameter allows it. False with a problem noted.</summary>
    public bool TryNumber(ScalarNode node, string path, Parameter parameter, out double value)
    {
        if (!QuantityText.TryRead(node.Text, parameter.Quantity, Units, out value, out var why))
        {
            problems.Error(node.Mark, path, node.Text, why, Allowed(parameter), Reading.OfWrongUnit(node.Text, parameter, Units));
            return false;
        }
        if (parameter.WantsUnit && value != 0 && Reading.IsBare(node.Text, out _))
        {
            var number = node.Text.Trim();
            problems.Error(node.Mark, path, node.Text, "has no unit", Allowed(parameter), $"write {number} h, {number} min or {number} s");
            return false;
        }
        // A limit typed in another unit (64.4 °F is 18 °C) may miss it by the last bit.
        var slack = 1e-9 * Math.Max(1, Math.Abs(value));
        if (value < parameter.Lowest && value >= parameter.Lowest - slack)
            value = parameter.Lowest;
        if (value > parameter.Highest && value <= parameter.Highest + slack)
            value = parameter.Highest;
        if (value >= parameter.Lowest && value <= parameter.Highest && (!parameter.Whole || value == Math.Floor(value)))
            return true;
        problems.Error(node.Mark, path, node.Text, parameter.Whole && value != Math.Floor(value) ? "is no whole number" : "is out of range", Allowed(parameter), Reading.OfBareNumber(node.Text, parameter, Units));
        return false;
    }

    /// <summary>All values as they hold, in base units until somebody shows them.</summary>
    public IReadOnlyList<EffectiveValue> Effective(UnitSystem units) =>
    [
        .. bound.Select(value => new EffectiveValue(
            value.Path, value.Text is { Length: 0 } ? "none" : value.Text ?? (double.IsNaN(value.Number) ? "none" : Quantities.ShowExactly(value.Number, value.Parameter.Quantity, units)), value.IsDefault)
        {
            IsWithinLimits = double.IsNaN(value.Number) || (value.Number >= value.Parameter.Lowest && value.Number <= value.Parameter.Highest),
            NeedsRestart = value.Parameter.NeedsRestart,
            IsHousehold = value.IsHousehold,
        }),
    ];

    /// <summary>What a parameter allows, in words.</summary>
    public string Allowed(Parameter parameter)
    {
        if (parameter.Choices.Count > 0)
            return string.Join(", ", parameter.Choices);
        if (parameter.Quantity is Quantity.Text)
            return "a text";
        if (parameter.Quantity is Quantity.Switch)
            return "true or false";
        var lowest = Quantities.ShowExactly(parameter.Lowest, parameter.Quantity, Units);
        return double.IsFinite(parameter.Lowest) && double.IsFinite(parameter.Highest)
            ? $"{lowest} to {Quantities.ShowExactly(parameter.Highest, parameter.Quantity, Units)}"
            : QuantityText.Words(parameter.Quantity);
    }

    public static string Join(string path, string key) => path.Length == 0 ? key : $"{path}.{key}";

    private void BindOne<T>(Entry entry, string path, T owner, Parameter<T> parameter)
    {
        if (entry.Value is BrokenNode)
            return;
        if (entry.Value is not ScalarNode scalar)
        {
            problems.Error(entry.Value.Mark, path, "", "a group or a list stands where one value is wanted", Allowed(parameter), "");
            return;
        }
        if (scalar.IsEmpty)
            problems.Error(entry.KeyMark, path, "", "has no value", Allowed(parameter), $"write {entry.Key}: value, or remove the line");
        else if (scalar.SeveralLines)
            problems.Error(scalar.Mark, path, "", "runs over several lines", Allowed(parameter), "a colon is missing in the line below, or its indentation is wrong");
        else if (parameter.SetText is not null)
            BindText(scalar, path, owner, parameter);
        else if (TryNumber(scalar, path, parameter, out var value))
            Set(path, owner, parameter, value, isDefault: false);
    }

    private void BindText<T>(ScalarNode scalar, string path, T owner, Parameter<T> parameter)
    {
        var later = parameter.Choices.Count > 0 && LaterWords.Knows(scalar.Text);
        if (parameter.Choices.Count > 0 && !parameter.Choices.Contains(scalar.Text))
        {
            problems.Error(
                scalar.Mark, path, scalar.Text, later ? LaterWords.Message : "is none of the words that may stand here", Allowed(parameter), Nearest.Hint(scalar.Text, parameter.Choices));
            return;
        }
        if (scalar.Text.Length > 200 || scalar.Text.Any(char.IsControl))
        {
            problems.Error(scalar.Mark, path, "", "is too long or holds control characters", "at most 200 plain characters", "");
            return;
        }
        parameter.SetText!(owner, scalar.Text);
        bound.Add((path, parameter, double.NaN, scalar.Text, false, IsHousehold));
    }

    private void Default<T>(MapNode map, string path, T owner, Parameter<T> parameter)
    {
        if (parameter.Required)
        {
            if (map.Damaged)
                return;
            problems.Error(map.Mark, Join(path, parameter.Key), "", $"is missing: {problems.Words(parameter.Help)}", Allowed(parameter), $"add {parameter.Key}: value");
            return;
        }
        if (parameter.SetText is not null && parameter.DefaultText is not null)
        {
            parameter.SetText(owner, parameter.DefaultText);
            bound.Add((Join(path, parameter.Key), parameter, double.NaN, parameter.DefaultText, true, IsHousehold));
        }
        else if (parameter.SetNumber is not null)
        {
            if (!double.IsNaN(parameter.Default))
                parameter.SetNumber(owner, parameter.Default);
            bound.Add((Join(path, parameter.Key), parameter, parameter.GetNumber?.Invoke(owner) ?? parameter.Default, null, true, IsHousehold));
        }
    }

    private void Set<T>(string path, T owner, Parameter<T> parameter, double value, bool isDefault)
    {
        parameter.SetNumber!(owner, value);
        bound.Add((path, parameter, value, null, isDefault, IsHousehold));
    }
}
