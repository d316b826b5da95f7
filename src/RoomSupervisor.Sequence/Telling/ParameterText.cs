// Words that name a number by its key show the number's default in brackets, so that no text can differ from the declaration. Never called in a step.
using System.Text.RegularExpressions;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>Numbers of the sequence in texts.</summary>
internal static partial class ParameterText
{
    /// <summary>Puts the default of the named parameter of <c>sequence:</c> in brackets wherever {key} stands.</summary>
    /// <exception cref="KeyNotFoundException">There is no such parameter.</exception>
    public static string Fill(string words) => Key().Replace(words, match => $"[{Default(match.Groups[1].Value)}]");

    private static string Default(string key)
        => SequenceSettings.Parameters.FirstOrDefault(parameter => parameter.Key == key) is { } found
            ? Quantities.ShowExactly(found.Default, found.Quantity, UnitSystem.Metric)
            : throw new KeyNotFoundException($"there is no parameter sequence.{key}");

    [GeneratedRegex(@"\{([a-z_]+)\}")]
    private static partial Regex Key();
}
