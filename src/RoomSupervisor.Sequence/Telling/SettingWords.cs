// Words that name numbers of the sequence by their keys, with the numbers that hold at one site, in the units of its readers. So no text about a site can
// differ from what its controller does. Never called in a step.
using System.Text.RegularExpressions;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>Numbers of a site's sequence in texts.</summary>
public static partial class SettingWords
{
    /// <summary>Puts the value of the named parameter of <c>sequence:</c> wherever {key} stands, and shows other figures of the words in the reader's units.</summary>
    /// <param name="words">A sentence in metric units.</param>
    /// <param name="settings">The site's numbers.</param>
    /// <param name="units">Units of the reader.</param>
    /// <exception cref="KeyNotFoundException">There is no such parameter.</exception>
    public static string Fill(string words, SequenceSettings settings, UnitSystem units)
        => Key().Replace(UnitWords.In(words, units), match => Show(Find(match.Groups[1].Value), settings, units));

    /// <summary>Keys that a sentence names.</summary>
    public static IEnumerable<string> KeysOf(string words) => Key().Matches(words).Select(match => match.Groups[1].Value);

    /// <summary>One number as it holds.</summary>
    public static string Show(Parameter<SequenceSettings> parameter, SequenceSettings settings, UnitSystem units)
        => Quantities.ShowExactly(parameter.GetNumber!(settings), parameter.Quantity, units);

    private static Parameter<SequenceSettings> Find(string key)
        => SequenceSettings.Parameters.FirstOrDefault(parameter => parameter.Key == key) ?? throw new KeyNotFoundException($"there is no parameter sequence.{key}");

    [GeneratedRegex(@"\{([a-z_]+)\}")]
    private static partial Regex Key();
}
