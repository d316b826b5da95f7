// What the two files may say, as one tree: groups, their keys, named groups, and what hangs on a word. Pure data, put together from the
// lists of parameters where they are declared; it never states a key of its own.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>One settable key.</summary>
/// <param name="Parameter">Its declaration.</param>
public sealed record FormKey(Parameter Parameter)
{
    /// <summary>True when a list of words may stand there too.</summary>
    public bool TakesList { get; init; }

    /// <summary>True for a key that takes the place of the usual one where the actuator is of another kind.</summary>
    public bool IsInstead { get; init; }

    /// <summary>True when it must be written here.</summary>
    public bool Required { get; init; } = Parameter.Required;
}

/// <summary>How a group's key is spelled.</summary>
public enum FormNaming : byte
{
    /// <summary>As it stands.</summary>
    Fixed,

    /// <summary>A name people choose; the key is a placeholder such as <c>&lt;room&gt;</c>.</summary>
    Named,

    /// <summary>Its first word, or that word with a hyphen and a name: <c>coil</c>, <c>coil-north</c>, <c>coil-north.fan</c>.</summary>
    Suffixed,
}

/// <summary>A group inside another.</summary>
/// <param name="Key">Its key, or a placeholder.</param>
/// <param name="Group">What it holds.</param>
public sealed record FormPart(string Key, FormGroup Group)
{
    public FormNaming Naming { get; init; }

    /// <summary>The name it has in examples, for placeholders.</summary>
    public string Example { get; init; } = "";

    public bool Required { get; init; }

    /// <summary>True when an example shows it although nobody must write it.</summary>
    public bool InExamples { get; init; }

    /// <summary>The key as it stands in an example.</summary>
    public string Shown => Example.Length > 0 ? Example : Key;

    /// <summary>Regular expression of the keys it may have, without anchors.</summary>
    public string Pattern => Naming switch
    {
        FormNaming.Named => Name,
        FormNaming.Suffixed => Suffixed(),
        _ => Escape(Key),
    };

    private const string Name = "[a-z][a-z0-9-]{0,39}";

    private string Suffixed()
    {
        var dot = Key.IndexOf('.', StringComparison.Ordinal);
        var word = dot < 0 ? Key : Key[..dot];
        return $"{word}(-[a-z0-9-]+)?{Escape(Key[word.Length..])}";
    }

    /// <summary>Only what every dialect of regular expressions knows as a special character.</summary>
    private static string Escape(string text)
    {
        var escaped = new StringBuilder(text.Length);
        foreach (var c in text)
            (c == '.' ? escaped.Append('\\') : escaped).Append(c);
        return escaped.ToString();
    }
}

/// <summary>A word that decides what else a group may say.</summary>
/// <param name="Word">The key that holds the word.</param>
/// <param name="Alternatives">What each word brings.</param>
public sealed record FormChoice(FormKey Word, IReadOnlyList<FormAlternative> Alternatives);

/// <summary>What one word brings.</summary>
/// <param name="Word">The word.</param>
/// <param name="Group">Keys and groups it brings, besides those of the group itself.</param>
public sealed record FormAlternative(string Word, FormGroup Group)
{
    /// <summary>The name of such a group in examples.</summary>
    public string Example { get; init; } = "my-" + Word;
}

/// <summary>A group of keys.</summary>
/// <param name="Help">What it is for, one line.</param>
public sealed record FormGroup(string Help)
{
    public IReadOnlyList<FormKey> Keys { get; init; } = [];

    public IReadOnlyList<FormPart> Parts { get; init; } = [];

    public FormChoice? Choice { get; init; }

    /// <summary>The point this group wires, or null.</summary>
    public string Point { get; init; } = "";

    /// <summary>The group as it is with one word: keys and parts of both.</summary>
    public FormGroup With(FormAlternative alternative) => this with
    {
        Keys = [Choice!.Word, .. Keys, .. alternative.Group.Keys],
        Parts = [.. Parts, .. alternative.Group.Parts],
        Choice = null,
        Help = alternative.Group.Help.Length > 0 ? alternative.Group.Help : Help,
    };
}
