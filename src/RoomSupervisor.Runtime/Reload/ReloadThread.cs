// Looks at the two files every second on a thread of its own, has them judged when they have come to rest, hands a new house to the scan
// and tells what came of it. The scan never waits for it; whatever it stumbles over, it says so and goes on.
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>What the reload talks to.</summary>
/// <param name="Directory">The site's directory.</param>
/// <param name="Clock">Clock of the run.</param>
/// <param name="Swap">Takes a new house for the next scan; returns at once.</param>
/// <param name="Say">Takes a line for the log; returns at once.</param>
/// <param name="Keep">Writes answers, versions and last good.</param>
public sealed record ReloadParts(string Directory, RunClock Clock, Action<House> Swap, Action<Priority, string> Say, Keeping Keep)
{
    /// <summary>Told of a new house and its site.yaml before <see cref="Swap"/>; null: nobody asks.</summary>
    public Action<House, byte[]>? Knows { get; init; }
}

/// <summary>The reload of one run.</summary>
public sealed class ReloadThread : IDisposable
{
    /// <summary>Between two looks: a save is judged two looks after it at the latest, well within ten seconds.</summary>
    public static readonly TimeSpan Beat = TimeSpan.FromSeconds(1);

    private readonly ReloadParts parts;
    private readonly StartResult start;
    private readonly SiteJudge judge;
    private readonly FileWatch site;
    private readonly FileWatch household;
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private readonly Thread thread;
    private string lastError = "";

    /// <param name="parts">What it talks to.</param>
    /// <param name="start">What the run started with.</param>
    /// <param name="drivers">Drivers the program has.</param>
    public ReloadThread(ReloadParts parts, StartResult start, IReadOnlyList<DriverDeclaration> drivers)
    {
        this.parts = parts;
        this.start = start;
        judge = new SiteJudge(start, drivers);
        site = new FileWatch(Path.Combine(parts.Directory, SiteReader.SiteFile), start.FoundSite);
        household = new FileWatch(Path.Combine(parts.Directory, SiteReader.HouseholdFile), start.FoundHousehold);
        thread = new Thread(Run) { IsBackground = true, Name = "reload" };
    }

    public void Start() => thread.Start();

    public void Dispose()
    {
        stop.Set();
        // A thread that was never started cannot be joined; one that hangs on a disk is left behind.
        if (!thread.IsAlive || thread.Join(TimeSpan.FromSeconds(2)))
            stop.Dispose();
    }

    private void Run()
    {
        Guarded(AtStart);
        while (!stop.Wait(Beat))
            Guarded(Look);
    }

    /// <summary>Tells and keeps what the start came to.</summary>
    private void AtStart()
    {
        var house = start.Files!.House;
        var utc = parts.Clock.Utc;
        var outcome = start.Household!;
        if (start.SiteRow.Use == StartUse.LastGood)
            Say(RuntimeEvents.StartedWithLastGood, Errors(start.Problems, inHousehold: false));
        if (outcome.State != HouseholdState.Fine)
            Say(RuntimeEvents.ReloadKept, $"{start.HouseholdRow!.Says}: {Errors(start.Problems, inHousehold: true)}");
        parts.Keep.LastGood(start.Site, house);
        var after = HouseholdInForce.Of(house);
        var changes = HouseholdList.Changes(start.Before ?? new HouseholdInForce(house.Rooms.ToDictionary(room => room.Id, _ => new HouseholdRoom())), after, house.Units);
        if (start.FoundHousehold is { } text && outcome.State is HouseholdState.Fine or HouseholdState.BrokenGroup)
            parts.Keep.Version(text, outcome.State == HouseholdState.Fine, house, changes, utc);
        if (outcome.State != HouseholdState.Fine || (start.Before is not null && changes.Count > 0))
            parts.Keep.Answer(AnswerText.Write(house, start.Before, after, outcome, [.. start.Problems.Where(problem => problem.Mark.File == SiteReader.HouseholdFile)], parts.Clock.LocalOf(utc)), utc);
    }

    private void Look()
    {
        if (!(site.Look() | household.Look()))
            return;
        var utc = parts.Clock.Utc;
        var judgement = judge.Judge(site.Settled, household.Settled, utc, household.Unreadable);
        if (judgement.House is { } house)
        {
            parts.Knows?.Invoke(house, judge.Site);
            parts.Swap(house);
        }
        foreach (var line in judgement.Lines)
            Say(line.Event, line.Text);
        if (site.Unreadable.Length + household.Unreadable.Length > 0)
            parts.Say(Priority.Warning, $"reload: {SiteReader.SiteFile} {site.Unreadable} {SiteReader.HouseholdFile} {household.Unreadable}".Trim());
        if (judgement.Answer is { } answer)
            parts.Keep.Answer(answer, utc);
        if (judgement.IsVersion)
            parts.Keep.Version(household.Settled!, judge.IsWhole, judge.House, judgement.Changes, utc);
        if (judgement.House is not null)
            parts.Keep.LastGood(judge.Site, judge.House);
    }

    private static string Errors(IReadOnlyList<Problem> problems, bool inHousehold)
        => string.Join(" / ", problems.Where(problem => problem.Severity == Severity.Error && problem.Mark.File == SiteReader.HouseholdFile == inHousehold).Take(5).Select(problem => problem.OneLine));

    private void Say(EventDefinition what, string text)
    {
        var more = what.Priority >= Priority.Warning ? $" | means: {what.Meaning} | check: {what.Check}" : "";
        parts.Say(what.Priority, $"{what.Text}: {text}{more}");
    }

    private void Guarded(Action work)
    {
        try
        {
            work();
        }
#pragma warning disable CA1031 // Whatever a file holds, the reload must not end: the next save may be a good one.
        catch (Exception e)
#pragma warning restore CA1031
        {
            var text = $"reload: an error of our own, the site runs on as before: {e.GetType().Name}: {e.Message}";
            if (text != lastError)
                parts.Say(Priority.Alarm, text);
            lastError = text;
        }
    }
}
