// Reads a site for a verb, as StartTable says: strictly for check and lockstep, with last good for run. Starts nothing and writes nothing.
using System.Text;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Start;

/// <summary>What a start has to go on with.</summary>
/// <param name="Files">The site, or null: it ends.</param>
/// <param name="Problems">What is wrong with the files as found.</param>
/// <param name="SiteRow">Row of the table for site.yaml.</param>
/// <param name="HouseholdRow">Row of the table for household.yaml; null when it did not come to that.</param>
public sealed record StartResult(SiteFiles? Files, IReadOnlyList<Problem> Problems, StartRow SiteRow, StartRow? HouseholdRow)
{
    /// <summary>Bytes of the site.yaml that runs.</summary>
    public byte[] Site { get; init; } = [];

    /// <summary>Bytes of site.yaml as found; null: none.</summary>
    public byte[]? FoundSite { get; init; }

    /// <summary>Bytes of household.yaml as found; null: none.</summary>
    public byte[]? FoundHousehold { get; init; }

    /// <summary>The household's settings that held before; null: none known.</summary>
    public HouseholdInForce? Before { get; init; }

    /// <summary>What became of household.yaml, for <c>run</c>.</summary>
    public HouseholdOutcome? Household { get; init; }
}

/// <summary>Reading a site at start.</summary>
public static class SiteStart
{
    /// <summary>Reads a site's two files for a verb.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="verb">For which verb.</param>
    /// <param name="drivers">Drivers the program has.</param>
    /// <param name="time">Clock, for telling dates that are past.</param>
    /// <param name="state">Where last good is kept; only <c>run</c> looks there.</param>
    public static StartResult Read(string directory, StartVerb verb, IReadOnlyList<DriverDeclaration> drivers, TimeProvider time, StateFolder? state = null)
    {
        var utc = time.GetUtcNow().UtcDateTime;
        return verb == StartVerb.Run ? ForRun(directory, drivers, utc, state ?? StateFolder.Of(directory)) : Strictly(directory, verb, drivers, utc);
    }

    private static StartResult Strictly(string directory, StartVerb verb, IReadOnlyList<DriverDeclaration> drivers, DateTime utc)
    {
        var result = SiteReader.Read(directory, drivers, utc);
        bool Wrong(bool inHousehold) => result.Problems.Any(problem => problem.Severity == Severity.Error && problem.Mark.File == SiteReader.HouseholdFile == inHousehold);
        var siteState = !File.Exists(Path.Combine(directory, SiteReader.SiteFile)) ? SiteState.Missing : Wrong(inHousehold: false) ? SiteState.Broken : SiteState.Fine;
        var siteRow = StartTable.Of(siteState, false, verb);
        if (siteRow.Use == StartUse.Nothing)
            return new StartResult(null, result.Problems, siteRow, null);
        // However it is broken, these verbs do the same.
        var found = Wrong(inHousehold: true) ? HouseholdState.BrokenGroup : File.Exists(Path.Combine(directory, SiteReader.HouseholdFile)) ? HouseholdState.Fine : HouseholdState.Missing;
        return new StartResult(result.Files, result.Problems, siteRow, StartTable.Of(found, false, verb));
    }

    private static StartResult ForRun(string directory, IReadOnlyList<DriverDeclaration> drivers, DateTime utc, StateFolder state)
    {
        var found = SafeFile.Read(Path.Combine(directory, SiteReader.SiteFile), out var why);
        var read = found is null ? null : SiteReader.Accept(found, null, null, drivers, utc);
        var siteState = found is null && why.Length == 0 ? SiteState.Missing : read?.Files is null ? SiteState.Broken : SiteState.Fine;
        // A last good file that this program does not take any more is none.
        var lastGood = siteState == SiteState.Fine ? null : state.LoadSite();
        if (lastGood is not null && SiteReader.Accept(lastGood, null, null, drivers, utc).Files is null)
            lastGood = null;
        var siteRow = StartTable.Of(siteState, lastGood is not null, StartVerb.Run);
        if (siteRow.Use == StartUse.Nothing)
            return new StartResult(null, SiteReader.Read(directory, drivers, utc).Problems, siteRow, null) { FoundSite = found };
        var site = siteRow.Use == StartUse.File ? found! : lastGood!;
        var result = Household(directory, site, drivers, utc, state) with { SiteRow = siteRow, FoundSite = found };
        return siteRow.Use == StartUse.File ? result : result with { Problems = [.. OfSite(read?.Problems, why), .. result.Problems] };
    }

    private static StartResult Household(string directory, byte[] site, IReadOnlyList<DriverDeclaration> drivers, DateTime utc, StateFolder state)
    {
        var before = state.LoadHousehold() is { } lastGood && SiteReader.Accept(site, lastGood, null, drivers, utc).Files is { } files ? HouseholdInForce.Of(files.House) : null;
        var household = SafeFile.Read(Path.Combine(directory, SiteReader.HouseholdFile), out var why);
        var result = SiteReader.Accept(site, household, before, drivers, utc);
        var found = why.Length > 0 ? HouseholdState.NoStructure : result.Household!.State;
        var row = StartTable.Of(found, before is not null, StartVerb.Run);
        IReadOnlyList<Problem> problems = why.Length == 0 ? result.Problems
            : [.. result.Problems.Where(problem => problem.Mark.File != SiteReader.HouseholdFile), new Problem(Severity.Error, new Mark(SiteReader.HouseholdFile, 1, 1), "", "", why, "", "look at its owner and permissions")];
        return new StartResult(result.Files, problems, StartTable.SiteRows[0], row)
        {
            Site = site,
            FoundHousehold = household,
            Before = before,
            Household = result.Household! with { State = found },
        };
    }

    private static IEnumerable<Problem> OfSite(IReadOnlyList<Problem>? problems, string why)
        => problems?.Where(problem => problem.Mark.File != SiteReader.HouseholdFile)
            ?? [new Problem(Severity.Error, new Mark(SiteReader.SiteFile, 1, 1), "", "", why.Length > 0 ? why : "there is no such file", "", "the last good one runs")];

    /// <summary>The household's settings that hold as a file's bytes.</summary>
    public static byte[] BytesOf(HouseholdInForce household) => Encoding.UTF8.GetBytes(HouseholdWriter.Write(household));
}
