// Log, trends and counters of a rehearsal as the controller keeps them on a board: the same Records parts, in virtual time and without threads, beside a copy of the site's files. Whoever reads
// them reads what a tech would. Must never change what the controller does, nor write into a folder that holds something.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>The records of one rehearsal.</summary>
public sealed class RehearsedRecords : IDisposable
{
    private readonly RehearsalPlan plan;
    private readonly string logs;
    private readonly StateFolder state;
    private double bytesBefore;
    private readonly LogRing ring = new(4096);
    private Controller? current;
    private SiteLog? log;
    private double secondsBefore;
    private int lives;

    /// <param name="folder">Where log, trends and state go.</param>
    /// <param name="plan">What is played.</param>
    public RehearsedRecords(string folder, RehearsalPlan plan)
    {
        this.plan = plan;
        logs = Path.Combine(folder, "log");
        state = new StateFolder(Path.Combine(folder, "state"));
    }

    /// <summary>Bytes of log and trends for each day.</summary>
    public double BytesADay => Seconds > 0 ? (bytesBefore + Current) / Seconds * 86400 : 0;

    /// <summary>Each time somebody was called: alarms and urgent events as they were logged; of one event in one scan one, in however many rooms (a switch on a manifold speaks for all of them).</summary>
    public List<(DateTime Utc, string Name, string Text)> Calls { get; } = [];

    /// <summary>Warnings and more that came into the book and are open.</summary>
    public IReadOnlyList<BookEntry> Open => log?.Open ?? [];

    /// <summary>Makes the folder with the site's files in it; null with what is wrong.</summary>
    public static RehearsedRecords? In(string folder, RehearsalPlan plan, string directory, List<string> problems)
    {
        try
        {
            if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
            {
                problems.Add($"--records {folder}: error: the folder is not empty; name a new one");
                return null;
            }
            Directory.CreateDirectory(folder);
            foreach (var name in (string[])[SiteReader.SiteFile, SiteReader.HouseholdFile, RehearsalReader.BuildingFileName])
            {
                if (File.Exists(Path.Combine(directory, name)))
                    File.Copy(Path.Combine(directory, name), Path.Combine(folder, name));
            }
            return new RehearsedRecords(folder, plan);
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            problems.Add($"--records {folder}: error: cannot be written ({e.Message.TrimEnd('.')}); name a folder in a directory that you may write to");
            return null;
        }
    }

    /// <summary>Follows the controller from its first scan on.</summary>
    public void Begin(Rehearsal run)
    {
        run.Recorder.Forward = ring;
        Follow(run.Controller);
    }

    /// <summary>After each scan: what it left, and a new life after a power cut.</summary>
    public void AfterScan(Rehearsal run)
    {
        if (!ReferenceEquals(run.Controller, current))
            Follow(run.Controller);
        log?.Turn();
    }

    public void Dispose() => Follow(null);

    private void Called(DateTime utc, EventDefinition what, string where, string text)
    {
        if (Calls.Count == 0 || Calls[^1].Utc != utc || Calls[^1].Name != what.Name)
            Calls.Add((utc, what.Name, $"{Names.Of(what.Priority)} {where}: {text}"));
    }

    private double Current => log?.BytesWritten ?? 0;

    private double Seconds => secondsBefore + (current?.Clock.ElapsedS ?? 0);

    /// <summary>A life that ends has its files closed as by an orderly stop: what a real cut would cost, the last ten minutes, is kept here.</summary>
    private void Follow(Controller? controller)
    {
        if (log is not null)
        {
            log.Dispose();
            bytesBefore += log.BytesWritten;
            secondsBefore += current?.Clock.ElapsedS ?? 0;
        }
        (log, current) = (null, controller);
        if (controller is null)
            return;
        var (house, files) = (plan.Files.House, plan.Files);
        var trends = new TrendTap(house);
        var care = new CareTap(house, new CareLimits(files.Site.FilterAfterS, files.Site.CoilCleaningAfterS));
        controller.Follow(trends, care);
        var book = new CareBook(care);
        book.Keep(state);
        var words = new LogVocabulary((owner, index) => owner == Owner.Device ? controller.Health.NameOf(index) : house.NameOf(owner, index), EventCatalogue.All, SequenceEvents.StageChanged.Id, house.Units)
        {
            InDriversWords = controller.Health.InDriversWords,
        };
        log = new SiteLog(new LogPlace(logs, files.Site.TimeZone, ToConsole: false), ring, words, TextWriter.Null, new LogParts
        {
            Clock = () => (controller.Clock.Utc, controller.Clock.ElapsedS),
            Head = () => EffectiveConfiguration.Lines(files),
            Trends = new TrendRecorder(Path.Combine(logs, TrendRecorder.FileName), trends.Ring, trends.Series),
            Guests = [book],
            Alarmed = Called,
        }, hasThread: false);
        log.TakeUp();
        log.Say(controller.Clock.Utc, controller.Clock.ElapsedS, Priority.Note, $"room-supervisor {SiteRun.Version} rehearses {files.Site.Name}, scenario {plan.ScenarioName}, seed {plan.Seed}{(lives++ > 0 ? "; the power is back" : "")}");
    }
}
