// Broken copies of the examples, one change each (broken-examples.txt): the change must be told, as an error or a warning, on its line, with few others
// beside it. With the slips of the other tests here these are more than two hundred broken files.
using System.Globalization;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.Parts.Tests.Site;

public class BrokenExampleTests
{
    private const string NotYet = "does not act on it yet";

    /// <summary>A name that was refused is missed where it is named: that many follow at most.</summary>
    private const int MostFollowers = 7;

    public sealed record Case(string Example, string File, string Old, string New, bool IsError, string ToldIn, int Offset, int Problems, string Says)
    {
        public override string ToString() => $"{Example}/{File}: {Old} → {New}";
    }

    private static readonly string Config = Path.GetFullPath(Path.Combine(SiteTexts.Folder, ".."));

    private static readonly List<Case> All = Read();

    public static TheoryData<int> Numbers => [.. Enumerable.Range(0, All.Count)];

    [Theory]
    [MemberData(nameof(Numbers))]
    public void A_broken_example_is_told_on_its_line(int number)
    {
        var one = All[number];
        var (text, line) = Changed(one, Text(one.Example, one.File));
        var isSite = one.File == SiteReader.SiteFile;
        var moment = new DateTime(2026, 11, 25, 12, 0, 0, DateTimeKind.Utc);   // dates of the examples lie behind it
        var result = SiteReader.Read(
            isSite ? text : Text(one.Example, SiteReader.SiteFile), isSite ? Text(one.Example, SiteReader.HouseholdFile) : text, Drivers.All, moment);
        var told = result.Problems.Where(problem => !problem.Message.Contains(NotYet, StringComparison.Ordinal)).ToList();
        var wanted = one.ToldIn == one.File ? line + one.Offset : one.Offset;
        Assert.True(
            told.Exists(problem => problem.Mark.Line == wanted && problem.Mark.File == one.ToldIn && (problem.Severity == Severity.Error) == one.IsError
                && problem.Message.Contains(one.Says, StringComparison.Ordinal)),
            $"{one}\nwanted on {one.ToldIn}:{wanted}: {one.Says}\ntold:\n{string.Join("\n", told)}");
        Assert.Equal(one.IsError, result.Files is null);
        Assert.True(told.Count <= one.Problems && one.Problems <= MostFollowers, string.Join("\n", told));
    }

    [Fact]
    public void There_are_enough_of_them_and_no_two_alike()
    {
        Assert.Equal(All.Count, All.Select(one => (one.Example, one.File, one.Old, one.New)).Distinct().Count());
        Assert.True(All.Count >= 140, $"{All.Count} cases");
    }

    /// <summary>Seeded mutations of every example, both files: never an exception, always refused with a line of a file or every value within its limits.</summary>
    [Fact]
    public void Mutations_of_every_example_are_refused_with_a_line_or_every_value_is_within_its_limits()
    {
        var count = int.Parse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_EXAMPLE_MUTATIONS") ?? "600", CultureInfo.InvariantCulture);
        var random = new Random(20261126);
        string[] examples = ["ferry-house", "one-room", "coil-only", "floor-only", "two-pipe"];
        var lines = examples.SelectMany(example => Text(example, SiteReader.SiteFile).Split('\n').Concat(Text(example, SiteReader.HouseholdFile).Split('\n'))).ToArray();
        var (accepted, refused) = (0, 0);
        for (var i = 0; i < count; i++)
        {
            var example = examples[random.Next(examples.Length)];
            string[] texts = [Text(example, SiteReader.SiteFile), Text(example, SiteReader.HouseholdFile)];
            var file = random.Next(2);
            for (var edits = random.Next(1, 4); edits > 0; edits--)
                texts[file] = Mutated(texts[file], lines, random);
            var result = SiteTexts.Read(texts[0], texts[1]);
            if (result.Files is null)
            {
                refused++;
                Assert.All(result.Problems, problem => Assert.InRange(problem.Mark.Line, 1, texts.Max(text => text.Split('\n').Length) + 1));
                Assert.Contains(result.Problems, problem => problem.Severity == Severity.Error);
                continue;
            }
            accepted++;
            Assert.All(result.Files.Effective, value => Assert.True(value.IsWithinLimits, $"{value.Path} = {value.Shown}"));
        }
        Assert.InRange(accepted, count / 20, count);
        Assert.InRange(refused, count / 20, count);
    }

    private static string Mutated(string text, string[] lines, Random random)
    {
        const string Characters = ":{}[]&*!|>%@`'\"#-?,.0123456789 \n\tabz°²";
        var at = random.Next(text.Length);
        var rows = text.Split('\n').ToList();
        var row = random.Next(rows.Count);
        switch (random.Next(7))
        {
            case 0:
                return text[..at] + Characters[random.Next(Characters.Length)] + text[(at + 1)..];
            case 1:
                return text.Remove(at, Math.Min(random.Next(1, 8), text.Length - at));
            case 2:
                rows.RemoveAt(row);
                break;
            case 3:
                rows.Insert(row, lines[random.Next(lines.Length)]);
                break;
            case 4:
                rows[row] = "  " + rows[row];
                break;
            case 5:
                rows[row] = System.Text.RegularExpressions.Regex.Replace(rows[row], "[0-9]+", _ => random.Next(4) switch { 0 => "0", 1 => "-5", 2 => "99999999999", _ => random.Next(200).ToString(CultureInfo.InvariantCulture) });
                break;
            default:
                (rows[row], rows[^1]) = (rows[^1], rows[row]);
                break;
        }
        return string.Join('\n', rows);
    }

    private static string Text(string example, string file) => File.ReadAllText(Path.Combine(Config, example, file));

    private static (string Text, int Line) Changed(Case one, string text)
    {
        var at = text.IndexOf(one.Old, StringComparison.Ordinal);
        Assert.True(at >= 0, $"{one}: the example does not hold that text any more");
        return (text[..at] + one.New + text[(at + one.Old.Length)..], text[..at].Count(c => c == '\n') + 1);
    }

    private static List<Case> Read()
    {
        var path = Path.Combine(Config, "..", "tests", "RoomSupervisor.Parts.Tests", "Site", "broken-examples.txt");
        var lines = File.ReadAllLines(path).Where(line => line.Length > 0 && line[0] != '#').ToArray();
        var cases = new List<Case>();
        for (var i = 0; i + 3 < lines.Length; i += 4)
        {
            var place = lines[i].Split('/');
            var told = lines[i + 3].Split(' ', 5);
            cases.Add(new Case(
                place[0], place[1], Plain(lines[i + 1][2..]), Plain(lines[i + 2][2..]), told[0] == "e", told[1],
                int.Parse(told[2], CultureInfo.InvariantCulture), int.Parse(told[3], CultureInfo.InvariantCulture), told[4]));
        }
        return cases;
    }

    private static string Plain(string text) => text.Replace("\\n", "\n", StringComparison.Ordinal);
}
