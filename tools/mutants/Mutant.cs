// One mutant: a rule of the sequence and the sed expression that takes it out; and a list of them with the tests that must notice each. Reads the lists; never judges.
namespace RoomSupervisor.Mutants;

/// <param name="Name">Number of the rule and what becomes of it; unique within its list.</param>
/// <param name="File">Path under src/RoomSupervisor.Sequence.</param>
/// <param name="Expression">Commands of sed, "s/…/…/" separated by "; "; each must change exactly one line.</param>
/// <param name="List">The list it stands in.</param>
internal sealed record Mutant(string Name, string File, string Expression, MutantList List);

/// <param name="Name">Name of the file without its ending.</param>
/// <param name="Tests">Parts of full test names, as ".Sequence."; a test that holds one of them must notice.</param>
/// <param name="Variables">Environment of these tests, as "ROOM_SUPERVISOR_INVARIANTS=400".</param>
internal sealed record MutantList(string Name, string[] Tests, string[] Variables)
{
    private const string Head = "tests:";

    public bool Wants(string test) => Tests.Any(part => test.Contains(part, StringComparison.Ordinal));

    /// <summary>All mutants of all lists (*.txt) of a folder, in the order of names and lines.</summary>
    /// <exception cref="InvalidDataException">A list without its first line, a line that is no mutant, a name twice.</exception>
    public static List<Mutant> ReadAll(string folder) => [.. Directory.GetFiles(folder, "*.txt").Order(StringComparer.Ordinal).SelectMany(Read)];

    private static List<Mutant> Read(string path)
    {
        var lines = File.ReadAllLines(path);
        if (lines.Length == 0 || !lines[0].StartsWith(Head, StringComparison.Ordinal))
            throw new InvalidDataException($"{path}: the first line says which tests must notice, as \"{Head} .Sequence. .Closed.\"");
        var words = lines[0][Head.Length..].Split(' ', StringSplitOptions.RemoveEmptyEntries).ToLookup(word => word.Contains('='));
        var list = new MutantList(Path.GetFileNameWithoutExtension(path), [.. words[false]], [.. words[true]]);
        var mutants = lines.Skip(1).Where(line => line.Length > 0 && line[0] != '#').Select(line => Parse(path, line, list)).ToList();
        if (mutants.GroupBy(mutant => mutant.Name).FirstOrDefault(same => same.Count() > 1) is { } twice)
            throw new InvalidDataException($"{path}: \"{twice.Key}\" stands there twice");
        return mutants;
    }

    private static Mutant Parse(string path, string line, MutantList list)
        => line.Split('|', 3) is [var name, var file, var expression]
            ? new Mutant(name, file, expression, list)
            : throw new InvalidDataException($"{path}: \"{line}\" is not name|file|sed expression");
}
