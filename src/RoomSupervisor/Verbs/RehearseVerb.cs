// rehearse: the real loop in the virtual house, fast; table, JSON, trace, report, and campaigns over seeds.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Campaign;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class RehearseVerb
{
    private sealed record Files(string? Json, string? Report, string? Trace, string? Samples, bool Story)
    {
        public string? Lines { get; init; }

        /// <summary>A folder for what the controller keeps.</summary>
        public string? Records { get; init; }

        /// <summary>Options and their paths, those given.</summary>
        public IEnumerable<(string Option, string Path)> Given
            => ((string, string?)[])[("--trace", Trace), ("--lines", Lines), ("--json", Json), ("--samples", Samples), ("--html", Report), ("--records", Records)] is var all ? all.Where(one => one.Item2 is not null).Select(one => (one.Item1, one.Item2!)) : [];

        public bool Any => Given.Any() || Story;
    }

    public static Command Create()
    {
        var site = new SiteArgument();
        var scenario = new Option<string?>("--scenario") { Description = "a scenario file, or a name under DIR/scenarios; without it two ordinary summer days, winter days where nothing can cool", HelpName = "F" };
        var days = Whole("--days", "length in days, in place of the scenario's", 1, 366);
        var from = new Option<string?>("--from") { Description = "first day, in place of the scenario's", HelpName = "DATE" };
        var seed = Whole("--seed", "seed of all chance, in place of the scenario's", 0, 1_000_000_000);
        var seeds = new Option<string?>("--seeds") { Description = "a campaign: the scenario's first day once for each seed, with random faults from 6:00 to 15:00", HelpName = "A..B" };
        var jobs = Whole("--jobs", "seeds played at once; as many as there are cores", 1, 1000);
        var json = new Option<string?>("--json") { Description = "write all measures there", HelpName = "F" };
        var report = new Option<string?>("--html") { Description = "write a report with pictures there, one HTML file", HelpName = "F" };
        var trace = new Option<string?>("--trace") { Description = "write every scan there as run --record does, for replay (15 MB a day for six rooms; compressed where F ends with .gz)", HelpName = "F" };
        var lines = new Option<string?>("--lines") { Description = "write what the controller read there as full lines, for lockstep (up to 200 MB a day)", HelpName = "F" };
        var records = new Option<string?>("--records") { Description = "keep log, trends and counters in this new folder as a run does, with the site's files: status, why --at, log, trend, condensation and care work on it", HelpName = "DIR" };
        var samples = new Option<string?>("--samples") { Description = "write a line a minute there, for spreadsheets", HelpName = "F" };
        var compare = new Option<bool>("--compare") { Description = "play the same days with three simpler controls besides, and show what each trades for what; --seeds A..B plays several, --json and --html write it" };
        var story = new Option<bool>("--story") { Description = "tell the run in sentences, in place of the table" };
        var command = new Command("rehearse", "Run the site's controller in a virtual house, thousands of times as fast as real time: before it is wired, or to try a setting. "
            + "DIR/building.yaml describes the building where there is one; what it does not say has stated defaults. "
            + "Exit code 0 done, 1 a room was back faster than possible or a campaign's seed failed, 2 something was not understood.") { scenario, days, from, seed, seeds, jobs, json, report, trace, lines, samples, records, story, compare };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var wish = new RehearsalWish(directory) { Scenario = parsed.GetValue(scenario), Days = (int)(parsed.GetValue(days) ?? 0), From = parsed.GetValue(from), Seed = (ulong?)parsed.GetValue(seed) };
            var files = new Files(parsed.GetValue(json), parsed.GetValue(report), parsed.GetValue(trace), parsed.GetValue(samples), parsed.GetValue(story)) { Lines = parsed.GetValue(lines), Records = parsed.GetValue(records) };
            if (parsed.GetValue(compare))
                return CompareRun.Play(wish, parsed.GetValue(seeds), files.Json, files.Report, files.Trace is not null || files.Lines is not null || files.Records is not null || files.Samples is not null || files.Story, () => Clashes(files, wish));
            if (parsed.GetValue(seeds) is { } range)
                return files.Any ? Refuse(["--seeds: error: a campaign plays many runs and writes no files or story; leave those options out, or play one run with --seed"]) : Campaign(wish, range, parsed.GetValue(jobs) ?? 0);
            if (RehearsalReader.Read(wish, out var problems) is { } plan)
                return Clashes(files, wish) is { Count: > 0 } clashes ? Refuse(clashes) : Run(plan, directory, files);
            return Refuse(problems);
        });
        return command;
    }

    // The parser's own words for a wrong number name a type of the program's language.
    private static Option<long?> Whole(string name, string description, long from, long to) => new(name)
    {
        Description = description,
        HelpName = "N",
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value >= from && value <= to)
                return value;
            result.AddError(string.Create(CultureInfo.InvariantCulture, $"{name} {text}: error: no whole number in range; allowed: {from} to {to}"));
            return null;
        },
    };

    // Two options that write the same file leave one of them; one that names a file of the site leaves no site.
    private static List<string> Clashes(Files files, RehearsalWish wish)
    {
        List<string> clashes = [];
        Dictionary<string, string> taken = new(StringComparer.Ordinal);
        foreach (var read in RehearsalReader.FilesRead(wish))
            taken[Path.GetFullPath(read)] = "";
        foreach (var (option, path) in files.Given)
        {
            if (!taken.TryAdd(Path.GetFullPath(path), option))
                clashes.Add(taken[Path.GetFullPath(path)] is { Length: > 0 } other
                    ? $"{option} {path}: error: {other} names the same file; give each its own"
                    : $"{option} {path}: error: the rehearsal reads this file and would write over it; name another");
        }
        return clashes;
    }

    // Opened before the run: nobody should wait for one whose outcome cannot be kept.
    internal static FileStream? Create(string option, string? path, List<string> problems)
    {
        try
        {
            return path is null ? null : File.Create(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            problems.Add($"{option} {path}: error: cannot be written ({e.Message.TrimEnd('.')}); name a file in a directory that exists and that you may write to");
            return null;
        }
    }

    internal static int Refuse(IReadOnlyList<string> problems)
    {
        foreach (var problem in problems)
            Console.Error.WriteLine(problem);
        return 2;
    }

    private static int Run(RehearsalPlan plan, string directory, Files files)
    {
        List<string> problems = [];
        using var traceFile = Create("--trace", files.Trace, problems);
        using var linesFile = Create("--lines", files.Lines, problems);
        using var jsonFile = Create("--json", files.Json, problems);
        using var samplesFile = Create("--samples", files.Samples, problems);
        using var reportFile = Create("--html", files.Report, problems);
        using var records = problems.Count > 0 || files.Records is null ? null : RehearsedRecords.In(files.Records, plan, directory, problems);
        if (problems.Count > 0)
            return Refuse(problems);
        using var writer = linesFile is null ? null : new TraceWriter(linesFile);
        var tap = traceFile is null ? null : new TraceTap(plan.Files.House);
        using var trace = traceFile is null ? null : new WholeTrace(traceFile, files.Trace!.EndsWith(".gz", StringComparison.Ordinal), tap!, new TraceTexts(plan.Files.House, File.ReadAllBytes(Path.Combine(directory, SiteReader.SiteFile))).Of);
        using var run = new Rehearsal(plan)
        {
            Trace = writer,
            Tap = tap,
            AfterScan = now =>
            {
                trace?.Drain();
                records?.AfterScan(now);
            },
        };
        records?.Begin(run);
        run.RunToEnd(Progress);
        if (!Console.IsErrorRedirected)
            Console.Error.WriteLine();
        if (files.Story)
            Tell(plan, run);
        else
            RehearsalTable.Write(Console.Out, plan, run);
        if (jsonFile is not null)
            RehearsalJson.Write(jsonFile, plan, run);
        if (samplesFile is not null)
        {
            using var file = new StreamWriter(samplesFile);
            SampleCsv.Write(file, run.Recorder.Record());
        }
        if (reportFile is not null)
        {
            using var file = new StreamWriter(reportFile, new UTF8Encoding(false));
            RehearsalReport.Write(file, run.Recorder.Record(), ReportTables.Of(plan, run), ReportTables.Notes(plan, run));
            Console.WriteLine($"report: {Path.GetFullPath(files.Report!)}");
        }
        records?.Dispose();   // its last batch counts
        if (records is not null)
            Console.WriteLine($"records: {Path.GetFullPath(files.Records!)} ({records.BytesADay / 1e6:0.0} MB a day; room-supervisor log {files.Records})");
        return run.Recorder.FasterThanPossible.Count == 0 ? 0 : 1;
    }

    private static void Tell(RehearsalPlan plan, Rehearsal run)
    {
        foreach (var line in Story.Of(plan, run))
            Console.WriteLine(line);
        Console.WriteLine(Story.Numbers(run));
    }

    private static void Progress(Rehearsal run)
    {
        if (!Console.IsErrorRedirected)
            Console.Error.Write(string.Create(CultureInfo.InvariantCulture, $"\r{run.Run.Now:yyyy-MM-dd HH:mm} UTC, {run.ElapsedS / Math.Max(run.Budget.WholeS, 1e-9):#,0} times as fast as real time   "));
    }

    private static int Campaign(RehearsalWish wish, string range, long jobs)
    {
        if (Range(range, 100_000, out var first, out var last) is { } wrong)
            return Refuse([wrong]);
        var (failed, done) = (0, 0);
        IReadOnlyList<string> unread = [];
        var gate = new object();
        Parallel.For((long)first, (long)last + 1, new ParallelOptions { MaxDegreeOfParallelism = jobs > 0 ? (int)jobs : Environment.ProcessorCount }, (seed, state) =>
        {
            var outcome = FaultCampaign.Play(wish, (ulong)seed, out var problems);
            lock (gate)
            {
                done++;
                if (outcome is null)
                {
                    unread = problems;
                    state.Stop();
                }
                else if (outcome.Broken.Count > 0)
                {
                    failed++;
                    Console.WriteLine($"seed {seed}: {string.Join("; ", outcome.Broken)} | again: {FaultCampaign.Again(wish, (ulong)seed)}");
                    if (first == last)
                        Console.WriteLine(outcome.Faults);
                }
            }
        });
        if (unread.Count > 0)
            return Refuse(unread);
        Console.WriteLine($"{done} seeds played, {failed} failed");
        return failed == 0 ? 0 : 1;
    }

    /// <summary>Reads A..B; what is wrong with it, or null.</summary>
    internal static string? Range(string range, ulong most, out ulong first, out ulong last)
    {
        var parts = range.Split("..");
        (first, last) = (0, 0);
        if (parts.Length != 2 || !ulong.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out first) || !ulong.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out last)
            || (last >= first && last - first >= most))
            return $"--seeds {range}: error: no range; allowed: two whole numbers, the smaller first, at most {most} seeds; write 1..20";
        return last < first ? $"--seeds {range}: error: {first} is above {last}; the smaller first: write {last}..{first}" : null;
    }
}
