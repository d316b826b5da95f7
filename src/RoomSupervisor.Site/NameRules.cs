// Names of rooms, loops, kinds, devices and channels: plain, unique where they share a space, never a reserved word.
namespace RoomSupervisor.Site;

internal static class NameRules
{
    private static readonly HashSet<string> Reserved = new(StringComparer.Ordinal)
    {
        "site", "source", "heat-source", "outdoor", "buffer", "hot-water", "drier", "ventilation", "energy",
    };

    /// <summary>What is wrong with a name, or null.</summary>
    public static string? Fault(string name)
    {
        if (name.Length is 0 or > 40 || !char.IsAsciiLetterLower(name[0]) || !name.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'))
            return "is no name: lower-case letters, digits and hyphens, a letter first, at most 40";
        return Reserved.Contains(name) ? "is a reserved word" : null;
    }
}
