// Words of the format that this version does not act on yet. They are refused with that reason: a line that is read and ignored
// would make people believe in something that does not happen.
namespace RoomSupervisor.Site;

internal static class LaterWords
{
    /// <summary>The program's version, as in its project file; a test compares.</summary>
    public const string Version = "0.2.0";

    /// <summary>What to tell about such a word.</summary>
    public const string Message = $"this version ({Version}) does not do that yet";

    private static readonly HashSet<string> Words = new(StringComparer.Ordinal)
    {
        // Owners, kinds and parts.
        "drier", "ventilation", "energy", "screed", "covering",
    };

    /// <summary>True for a word that a later version will know.</summary>
    public static bool Knows(string word) => Words.Contains(word);
}
