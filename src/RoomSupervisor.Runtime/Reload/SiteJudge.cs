// Judges the two files as they are found while a site runs: what is taken over, what stays, what waits for a restart. Holds what is
// accepted; owns no thread, writes no file, and never touches the house that is being scanned: it makes another one.
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>A line for the log.</summary>
public readonly record struct JudgeLine(EventDefinition Event, string Text);

/// <summary>What came of a look at the files.</summary>
/// <param name="House">The house to swap in; null: nothing changes.</param>
/// <param name="Lines">What to tell in the log.</param>
public sealed record Judgement(House? House, IReadOnlyList<JudgeLine> Lines)
{
    /// <summary>household.answer.txt, without its first line; null: household.yaml did not change.</summary>
    public string? Answer { get; init; }

    /// <summary>What changed for the household, for the history.</summary>
    public IReadOnlyList<Change> Changes { get; init; } = [];

    /// <summary>True when household.yaml is to be kept as a version: it changed what holds.</summary>
    public bool IsVersion { get; init; }
}

/// <summary>The judge of one running site. One thread only.</summary>
public sealed class SiteJudge
{
    private readonly IReadOnlyList<DriverDeclaration> drivers;
    private SiteFiles running;
    private byte[]? lastSite;
    private byte[]? lastHousehold;

    /// <param name="start">What the run started with.</param>
    /// <param name="drivers">Drivers the program has.</param>
    public SiteJudge(StartResult start, IReadOnlyList<DriverDeclaration> drivers)
    {
        this.drivers = drivers;
        House = start.Files!.House;
        Site = start.Site;
        running = SiteReader.Accept(start.Site, null, null, drivers, DateTime.UnixEpoch).Files!;
        (lastSite, lastHousehold) = (start.FoundSite, start.FoundHousehold);
    }

    /// <summary>The house that holds.</summary>
    public House House { get; private set; }

    /// <summary>Bytes of the site.yaml that runs.</summary>
    public byte[] Site { get; private set; }

    /// <summary>True when household.yaml as accepted was understood throughout.</summary>
    public bool IsWhole { get; private set; }

    /// <summary>Judges the files as they are now; call it only with files that have settled.</summary>
    /// <param name="site">Bytes of site.yaml; null: there is none to be read.</param>
    /// <param name="household">Bytes of household.yaml; null: there is none to be read.</param>
    /// <param name="utc">The moment.</param>
    /// <param name="unreadable">Why there is no household.yaml to be read although there is one; empty: there is none.</param>
    public Judgement Judge(byte[]? site, byte[]? household, DateTime utc, string unreadable = "")
    {
        var lines = new List<JudgeLine>();
        var isNewSite = !Same(site, lastSite) && TakeSite(site, utc, lines);
        var isNewHousehold = !Same(household, lastHousehold);
        (lastSite, lastHousehold) = (site, household);
        return isNewSite || isNewHousehold ? TakeHousehold(household, unreadable, isNewSite, isNewHousehold, utc, lines) : new Judgement(null, lines);
    }

    private static bool Same(byte[]? one, byte[]? other) => one is null ? other is null : other is not null && one.AsSpan().SequenceEqual(other);

    /// <summary>True when a changed site.yaml takes effect now.</summary>
    private bool TakeSite(byte[]? site, DateTime utc, List<JudgeLine> lines)
    {
        var result = site is null ? null : SiteReader.Accept(site, null, null, drivers, utc);
        if (result?.Files is not { } wanted)
        {
            lines.Add(new JudgeLine(RuntimeEvents.ReloadRefused, site is null ? "there is no site.yaml to be read" : Mistakes(result!.Problems)));
            return false;
        }
        if (RestartReasons.Of(running, wanted) is { Count: > 0 } reasons)
        {
            lines.Add(new JudgeLine(RuntimeEvents.ReloadWaiting, string.Join(", ", reasons.Take(8)) + (reasons.Count > 8 ? $" and {reasons.Count - 8} more" : "")));
            return false;
        }
        var changes = RestartReasons.Changes(running, wanted);
        lines.Add(new JudgeLine(RuntimeEvents.ReloadAccepted, "site.yaml: " + (changes.Count == 0 ? "nothing but its text" : string.Join("; ", changes.Select(change => $"{change.Path}: {change.Old} → {change.New}")))));
        (running, Site) = (wanted, site!);
        return true;
    }

    private Judgement TakeHousehold(byte[]? household, string unreadable, bool isNewSite, bool isNewHousehold, DateTime utc, List<JudgeLine> lines)
    {
        var before = HouseholdInForce.Of(House);
        var result = SiteReader.Accept(Site, household, before, drivers, utc);
        var outcome = result.Household!;
        var house = result.Files!.House;
        var after = HouseholdInForce.Of(house);
        var changes = HouseholdList.Changes(before, after, house.Units);
        var problems = result.Problems.Where(problem => problem.Mark.File == SiteReader.HouseholdFile).ToList();
        if (household is null && unreadable.Length > 0)
        {
            outcome = outcome with { State = HouseholdState.NoStructure };
            problems = [new Problem(Severity.Error, new Mark(SiteReader.HouseholdFile, 1, 1), "", "", unreadable, "", "look at its owner and permissions")];
        }
        IsWhole = outcome.State == HouseholdState.Fine;
        if (changes.Count > 0)
            lines.Add(new JudgeLine(RuntimeEvents.ReloadAccepted, "household.yaml: " + string.Join("; ", changes)));
        if (isNewHousehold && !IsWhole)
            lines.Add(new JudgeLine(RuntimeEvents.ReloadKept, Mistakes(problems)));
        var old = House;
        if (changes.Count > 0 || isNewSite)
            House = house;
        return new Judgement(ReferenceEquals(House, old) ? null : House, lines)
        {
            Answer = isNewHousehold ? AnswerText.Write(house, before, after, outcome, problems, ScheduleTime.Of(utc, running.Site.TimeZone)) : null,
            Changes = changes,
            IsVersion = isNewHousehold && household is not null && (changes.Count > 0 || IsWhole),
        };
    }

    private static string Mistakes(IReadOnlyList<Problem> problems)
    {
        var errors = problems.Where(problem => problem.Severity == Severity.Error).ToList();
        return string.Join(" / ", errors.Take(5).Select(problem => problem.OneLine)) + (errors.Count > 5 ? $" and {errors.Count - 5} more" : "");
    }
}
