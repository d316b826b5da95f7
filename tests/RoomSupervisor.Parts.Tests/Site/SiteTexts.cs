// The example site as texts, and small changes to it: what the reader's tests share.
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Site;

internal static class SiteTexts
{
    public static string Folder { get; } = Path.Combine(Repository.Root, "config", "one-room");

    public static string SiteText { get; } = File.ReadAllText(Path.Combine(Folder, "site.yaml"));

    public static string HouseholdText { get; } = File.ReadAllText(Path.Combine(Folder, "household.yaml"));

    /// <summary>The example with some texts replaced; each must be there.</summary>
    public static string With(string text, params (string Old, string New)[] changes)
    {
        foreach (var (old, changed) in changes)
        {
            Assert.Contains(old, text, StringComparison.Ordinal);
            text = text.Replace(old, changed, StringComparison.Ordinal);
        }
        return text;
    }

    public static SiteResult Read(string site, string? household) => SiteReader.Read(site, household, Drivers.All);

    public static SiteResult ReadSite(params (string Old, string New)[] changes) => Read(With(SiteText, changes), HouseholdText);

    public static SiteResult ReadHousehold(params (string Old, string New)[] changes) => Read(SiteText, With(HouseholdText, changes));

    /// <summary>Line of a text in a file, 1-based.</summary>
    public static int LineOf(string text, string part) => text[..text.IndexOf(part, StringComparison.Ordinal)].Count(c => c == '\n') + 1;

    public static void Told(SiteResult result, int line, params string[] says)
        => Assert.True(
            result.Problems.Any(problem => problem.Mark.Line == line && says.All(part => problem.ToString().Contains(part, StringComparison.Ordinal))),
            $"wanted {string.Join(" … ", says)} on line {line}, told:\n{string.Join("\n", result.Problems)}");

    public static IEnumerable<Problem> Errors(SiteResult result) => result.Problems.Where(problem => problem.Severity == Severity.Error);
}
