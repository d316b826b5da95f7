// What a start does with the files as they are found: one table. SiteStart follows it, shared/reference/startup.md shows it, a test goes
// through it row by row. Whoever changes a start changes this.
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Start;

/// <summary>How site.yaml was found.</summary>
public enum SiteState : byte
{
    /// <summary>No mistake.</summary>
    Fine,

    /// <summary>Any mistake, or unreadable.</summary>
    Broken,

    /// <summary>There is no such file.</summary>
    Missing,
}

/// <summary>The verbs that need a site, as far as a start is concerned.</summary>
public enum StartVerb : byte
{
    Run, Check, Lockstep,
}

/// <summary>What a start goes on with.</summary>
public enum StartUse : byte
{
    /// <summary>The file.</summary>
    File,

    /// <summary>What of the file was understood, and last good for the rest.</summary>
    FileAndLastGood,

    /// <summary>What of the file was understood, and defaults for the rest.</summary>
    FileAndDefaults,

    /// <summary>The last good file alone.</summary>
    LastGood,

    /// <summary>Defaults in every room.</summary>
    Defaults,

    /// <summary>Nothing: it ends.</summary>
    Nothing,
}

/// <summary>A row.</summary>
/// <param name="Found">State of the file, as its enum's name.</param>
/// <param name="LastGood">Last good present; null: makes no difference.</param>
/// <param name="Verbs">Verbs it is about.</param>
/// <param name="Use">What it goes on with.</param>
/// <param name="ExitCode">Exit code with which it ends at once, or which <c>check</c> gives; null: it goes on.</param>
/// <param name="Says">What it says.</param>
public sealed record StartRow(string Found, bool? LastGood, StartVerb[] Verbs, StartUse Use, int? ExitCode, string Says);

/// <summary>The table.</summary>
public static class StartTable
{
    private static readonly StartVerb[] Run = [StartVerb.Run], Check = [StartVerb.Check], Lockstep = [StartVerb.Lockstep], Strict = [StartVerb.Check, StartVerb.Lockstep], Running = [StartVerb.Run, StartVerb.Lockstep];

    /// <summary>Rows for site.yaml.</summary>
    public static IReadOnlyList<StartRow> SiteRows { get; } =
    [
        new(nameof(SiteState.Fine), null, Running, StartUse.File, null, "warnings, if any"),
        new(nameof(SiteState.Fine), null, Check, StartUse.File, 0, "clean (1 with warnings)"),
        new(nameof(SiteState.Broken), true, Run, StartUse.LastGood, null, "every mistake; the last good site.yaml runs (alarm)"),
        new(nameof(SiteState.Broken), false, Run, StartUse.Nothing, 2, "every mistake; nothing was started"),
        new(nameof(SiteState.Broken), null, Strict, StartUse.Nothing, 2, "every mistake"),
        new(nameof(SiteState.Missing), true, Run, StartUse.LastGood, null, "there is no such file; the last good site.yaml runs (alarm)"),
        new(nameof(SiteState.Missing), false, Run, StartUse.Nothing, 2, "there is no such file; nothing was started"),
        new(nameof(SiteState.Missing), null, Strict, StartUse.Nothing, 2, "there is no such file"),
    ];

    /// <summary>Rows for household.yaml, with a site.yaml to go on with.</summary>
    public static IReadOnlyList<StartRow> HouseholdRows { get; } =
    [
        new(nameof(HouseholdState.Fine), null, Running, StartUse.File, null, "warnings, if any"),
        new(nameof(HouseholdState.Fine), null, Check, StartUse.File, 0, "clean (1 with warnings)"),
        new(nameof(HouseholdState.BrokenGroup), true, Run, StartUse.FileAndLastGood, null, "every mistake, and which groups are as they were (warning)"),
        new(nameof(HouseholdState.BrokenGroup), false, Run, StartUse.FileAndDefaults, null, "every mistake, and which groups are by default (warning)"),
        new(nameof(HouseholdState.BrokenGroup), null, Strict, StartUse.Nothing, 2, "every mistake"),
        new(nameof(HouseholdState.NoStructure), true, Run, StartUse.LastGood, null, "the mistake; the last good settings hold (warning)"),
        new(nameof(HouseholdState.NoStructure), false, Run, StartUse.Defaults, null, "the mistake; defaults hold (warning)"),
        new(nameof(HouseholdState.NoStructure), null, Strict, StartUse.Nothing, 2, "the mistake"),
        new(nameof(HouseholdState.Empty), true, Run, StartUse.LastGood, null, "the file is empty; the last good settings hold (warning)"),
        new(nameof(HouseholdState.Empty), false, Run, StartUse.Defaults, null, "the file is empty; defaults hold (warning)"),
        new(nameof(HouseholdState.Empty), null, Strict, StartUse.Nothing, 2, "the file is empty"),
        new(nameof(HouseholdState.Missing), true, Run, StartUse.LastGood, null, "there is no household.yaml; the last good settings hold (warning)"),
        new(nameof(HouseholdState.Missing), false, Run, StartUse.Defaults, null, "there is no household.yaml; defaults hold (warning)"),
        new(nameof(HouseholdState.Missing), null, Check, StartUse.Defaults, 1, "there is no household.yaml: defaults hold"),
        new(nameof(HouseholdState.Missing), null, Lockstep, StartUse.Defaults, null, "there is no household.yaml: defaults hold"),
    ];

    /// <summary>The row for a site.yaml as found.</summary>
    public static StartRow Of(SiteState found, bool hasLastGood, StartVerb verb) => Of(SiteRows, found.ToString(), hasLastGood, verb);

    /// <summary>The row for a household.yaml as found.</summary>
    public static StartRow Of(HouseholdState found, bool hasLastGood, StartVerb verb) => Of(HouseholdRows, found.ToString(), hasLastGood, verb);

    private static StartRow Of(IReadOnlyList<StartRow> rows, string found, bool hasLastGood, StartVerb verb)
        => rows.Single(row => row.Found == found && row.Verbs.Contains(verb) && (row.LastGood ?? hasLastGood) == hasLastGood);
}
