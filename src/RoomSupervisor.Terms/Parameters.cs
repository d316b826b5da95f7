// Parameters: every number a person may set is declared once, beside the code that uses it, with all a reader, a document
// or a screen needs to know of it. Never read a setting that has no declaration.
namespace RoomSupervisor.Terms;

/// <summary>Who may change a parameter.</summary>
public enum Audience : byte
{
    Household, Installer, Service,
}

/// <summary>Declaration of one settable key.</summary>
public abstract class Parameter
{
    /// <summary>Last part of its key path, snake_case, e.g. <c>fan_at_most</c>.</summary>
    public required string Key { get; init; }

    public required Quantity Quantity { get; init; }

    /// <summary>In the base unit; NaN means "none unless written". For texts see <see cref="DefaultText"/>.</summary>
    public double Default { get; init; } = double.NaN;

    public string? DefaultText { get; init; }

    /// <summary>Lowest allowed value in the base unit.</summary>
    public double Lowest { get; init; } = double.NegativeInfinity;

    /// <summary>Highest allowed value in the base unit.</summary>
    public double Highest { get; init; } = double.PositiveInfinity;

    /// <summary>True when only whole numbers make sense (an address, a room's number).</summary>
    public bool Whole { get; init; }

    /// <summary>Allowed words for a text that is a choice; empty for free text.</summary>
    public IReadOnlyList<string> Choices { get; init; } = [];

    /// <summary>True when the key must be written.</summary>
    public bool Required { get; init; }

    /// <summary>One line.</summary>
    public required string Help { get; init; }

    /// <summary>What one line cannot say: consequences, how to find the value, its source. Plain sentences; may be empty.</summary>
    public string More { get; init; } = "";

    /// <summary>Smallest change that makes a difference, base unit: for screens and for rounding what is proposed; NaN: none.</summary>
    public double Step { get; init; } = double.NaN;

    /// <summary>Something sensible to write, as typed, where there is no default: for skeletons and examples. Empty: the default serves.</summary>
    public string Example { get; init; } = "";

    public Audience Audience { get; init; } = Audience.Installer;

    /// <summary>True where a number without a unit is refused: how long a household means by "2" nobody knows. A bare 0 is 0.</summary>
    public bool WantsUnit => Quantity == Quantity.Duration && Audience == Audience.Household;

    /// <summary>True when a change takes effect only after a restart.</summary>
    public bool NeedsRestart { get; init; }
}

/// <summary>A parameter that knows where its value is kept.</summary>
/// <typeparam name="TOwner">Settings class that holds the value.</typeparam>
public sealed class Parameter<TOwner> : Parameter
{
    /// <summary>Stores a number in base unit (switch: 1 or 0).</summary>
    public Action<TOwner, double>? SetNumber { get; init; }

    /// <summary>Stores a text.</summary>
    public Action<TOwner, string>? SetText { get; init; }

    /// <summary>Reads the number back, for showing effective values.</summary>
    public Func<TOwner, double>? GetNumber { get; init; }

    /// <summary>Reads the text back.</summary>
    public Func<TOwner, string>? GetText { get; init; }
}

/// <summary>Short ways to declare parameters.</summary>
public static class Declare
{
    /// <summary>A number; a default of NaN means "none unless written".</summary>
    public static Parameter<T> Number<T>(
        string key, Quantity quantity, double standard, double lowest, double highest, string help, Func<T, double> get, Action<T, double> set,
        string more = "", bool required = false, bool restart = false, Audience audience = Audience.Installer, bool whole = false, double step = double.NaN,
        string example = "")
        => new()
        {
            Key = key,
            Quantity = quantity,
            Default = standard,
            Lowest = lowest,
            Highest = highest,
            Help = help,
            More = more,
            Required = required,
            NeedsRestart = restart,
            Audience = audience,
            Whole = whole,
            Step = step,
            Example = example,
            GetNumber = get,
            SetNumber = set,
        };

    /// <summary>Yes or no.</summary>
    public static Parameter<T> Switch<T>(
        string key, bool standard, string help, Func<T, bool> get, Action<T, bool> set, string more = "", bool restart = false, Audience audience = Audience.Installer)
        => new()
        {
            Key = key,
            Quantity = Quantity.Switch,
            Default = standard ? 1 : 0,
            Help = help,
            More = more,
            NeedsRestart = restart,
            Audience = audience,
            GetNumber = owner => get(owner) ? 1 : 0,
            SetNumber = (owner, value) => set(owner, value > 0.5),
        };

    /// <summary>One word of a few; without a default it must be written.</summary>
    public static Parameter<T> Choice<T>(
        string key, string? standard, IReadOnlyList<string> choices, string help, Func<T, string> get, Action<T, string> set, string more = "", bool restart = false)
        => new()
        {
            Key = key,
            Quantity = Quantity.Text,
            DefaultText = standard,
            Choices = choices,
            Required = standard is null,
            Help = help,
            More = more,
            NeedsRestart = restart,
            GetText = get,
            SetText = set,
        };

    /// <summary>The name of something else in the file. Optional ones have an empty default.</summary>
    public static Parameter<T> Name<T>(string key, string help, Func<T, string> get, Action<T, string> set, bool required = true, string more = "", string example = "")
        => new()
        {
            Key = key,
            Quantity = Quantity.Text,
            DefaultText = required ? null : "",
            Required = required,
            Help = help,
            More = more,
            NeedsRestart = true,
            Example = example,
            GetText = get,
            SetText = set,
        };
}
