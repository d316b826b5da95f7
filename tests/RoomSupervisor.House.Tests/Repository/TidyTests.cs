// The written style, checked: forbidden calls, a purpose at the head of every file, bounded sizes, nothing that belongs to one machine.
using System.Text.RegularExpressions;

namespace RoomSupervisor.House.Tests.Repository;

public partial class TidyTests
{
    [Fact]
    public void Every_source_file_says_first_what_it_is_for()
    {
        var without = Root.Sources(".cs")
            .Where(file => Path.GetFileName(file) is not ("Usings.cs" or "GlobalUsings.cs"))
            .Where(file => !File.ReadLines(file).First().StartsWith("// ", StringComparison.Ordinal));
        Assert.Empty(without.Select(Short));
    }

    /// <summary>Runtime owns the clocks; a real socket and a real wire bus need real time for their deadlines, and say so in one file each.</summary>
    [Fact]
    public void Clocks_sleep_and_chance_are_read_in_Runtime_only() =>
        Assert.Empty(Find(["src"], ClockOrChance(), file => !file.Contains("RoomSupervisor.Runtime", StringComparison.Ordinal) && Path.GetFileName(file) is not ("SocketChannel.cs" or "LinuxI2cBus.cs" or "SerialChannel.cs" or "LinuxOneWireFiles.cs")));

    [Fact]
    public void Physics_and_Sequence_use_no_function_that_differs_between_processors() =>
        Assert.Empty(Find(["src/RoomSupervisor.Physics", "src/RoomSupervisor.Sequence"], DiffersByProcessor(), _ => true));

    /// <summary>A thread that lives as long as the run and waits for short times must sleep at once: what the library's event does by default (it spins before it sleeps) took half of the idle processor time.</summary>
    [Fact]
    public void What_waits_for_years_does_not_spin() =>
        Assert.Empty(Find(["src"], Spins(), _ => true));

    [Theory]
    [InlineData("    private readonly ManualResetEventSlim stop = new();", true)]
    [InlineData("    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);", false)]
    public void The_spin_rule_can_fail(string line, bool expected) => Assert.Equal(expected, Spins().IsMatch(line));

    [Fact]
    public void Nothing_is_left_to_do_and_no_test_is_switched_off() =>
        Assert.Empty(Find(["src", "tests", "tools"], LeftToDo(), file => !file.EndsWith("TidyTests.cs", StringComparison.Ordinal)));

    [Fact]
    public void Nothing_committed_belongs_to_one_machine() =>
        Assert.Empty(Find(["src", "tests", "tools", "config", "shared"], OneMachine(), file => !file.EndsWith("TidyTests.cs", StringComparison.Ordinal)));

    [Fact]
    public void Source_files_stay_short_enough_to_read()
    {
        var tooLong = Root.Sources(".cs")
            .Where(file => file.Contains($"{Path.DirectorySeparatorChar}src{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Select(file => (file, lines: File.ReadLines(file).Count()))
            .Where(found => found.lines > (Declares(found.file) ? 400 : 330))
            .Select(found => $"{Short(found.file)}: {found.lines} lines");
        Assert.Empty(tooLong);
    }

    [Theory]
    [InlineData("var now = DateTime.UtcNow;")]
    [InlineData("Thread.Sleep(10);")]
    [InlineData("new Random(3)")]
    public void The_clock_rule_can_fail(string line) => Assert.Matches(ClockOrChance(), line);

    private static bool Declares(string file) => Path.GetFileName(file) is "SequenceSettings.cs";

    private static IEnumerable<string> Find(string[] folders, Regex forbidden, Func<string, bool> counts)
    {
        foreach (var file in folders.SelectMany(folder => Directory.EnumerateFiles(Root.At(folder.Split('/')), "*", SearchOption.AllDirectories)))
        {
            var parts = file.Split(Path.DirectorySeparatorChar);
            if (parts.Any(part => part is "bin" or "obj" or "node_modules") || !counts(file) || !IsText(file))
                continue;
            var number = 0;
            foreach (var line in File.ReadLines(file))
            {
                number++;
                if (forbidden.IsMatch(line))
                    yield return $"{Short(file)}:{number}: {line.Trim()}";
            }
        }
    }

    private static bool IsText(string file) => Path.GetExtension(file) is ".cs" or ".csproj" or ".md" or ".yaml" or ".py" or ".js" or ".sh" or "" or ".props" or ".json";

    private static string Short(string file) => Path.GetRelativePath(Root.Path, file);

    [GeneratedRegex(@"readonly ManualResetEventSlim \w+ = new\((?!.*spinCount: 0)")]
    private static partial Regex Spins();

    [GeneratedRegex(@"\bDateTime(Offset)?\.(Utc)?Now\b|\bThread\.Sleep\b|\bnew Random\(|\bRandom\.Shared\b|\bStopwatch\b|\bEnvironment\.TickCount")]
    private static partial Regex ClockOrChance();

    [GeneratedRegex(@"Math\.Cbrt")]
    private static partial Regex DiffersByProcessor();

    [GeneratedRegex(@"\b(TODO|FIXME|HACK)\b|NotImplementedException|\[(Fact|Theory)\(Skip")]
    private static partial Regex LeftToDo();

    [GeneratedRegex(@"/wor[k]/|/tmp/[a-z]+/|/home/[a-z]|/root/")]
    private static partial Regex OneMachine();
}
