// rehearse: the real loop in the virtual house, fast; table, JSON, trace, report, and campaigns over seeds.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Campaign;
using RoomSupervisor.Desk.Report;

namespace RoomSupervisor.Verbs;

internal static class RehearseVerb
{
    private sealed record Files(string? Json, string? Report, string? Trace, string? Samples, bool Story);

    public static Command Create()
    {
        var site = new SiteArgument();
        var scenario = new Option<string?>("--scenario") { Description = "a scenario file, or a name under DIR/scenarios; without it two ordinary summer days", HelpName = "F" };
        var days = new Option<int>("--days") { Description = "length in days, in place of the scenario's", HelpName = "N" };
        var from = new Option<string?>("--from") { Description = "first day, in place of the scenario's", HelpName = "DATE" };
        var seed = new Option<ulong?>("--seed") { Description = "seed of all chance, in place of the scenario's", HelpName = "N" };
        var seeds = new Option<string?>("--seeds") { Description = "a campaign: the scenario's first day once for each seed, with random faults from 6:00 to 15:00", HelpName = "A..B" };
        var jobs = new Option<int>("--jobs") { Description = "seeds played at once; as many as there are cores", HelpName = "N" };
        var json = new Option<string?>("--json") { Description = "write all measures there", HelpName = "F" };
        var report = new Option<string?>("--report") { Description = "write a report with pictures there, one HTML file", HelpName = "F" };
        var trace = new Option<string?>("--trace") { Description = "write what the controller read there, for lockstep", HelpName = "F" };
        var samples = new Option<string?>("--samples") { Description = "write a line a minute there, for spreadsheets", HelpName = "F" };
        var story = new Option<bool>("--story") { Description = "tell the run in sentences, in place of the table" };
        var command = new Command("rehearse", "Run the site's controller in a virtual house, thousands of times as fast as real time: before it is wired, or to try a setting. "
            + "DIR/building.yaml describes the building where there is one; what it does not say has stated defaults. "
            + "Exit code 0 done, 1 a room was back faster than possible or a campaign's seed failed, 2 something was not understood.") { scenario, days, from, seed, seeds, jobs, json, report, trace, samples, story };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var wish = new RehearsalWish(directory) { Scenario = parsed.GetValue(scenario), Days = parsed.GetValue(days), From = parsed.GetValue(from), Seed = parsed.GetValue(seed) };
            if (parsed.GetValue(seeds) is { } range)
                return Campaign(wish, range, parsed.GetValue(jobs));
            if (RehearsalReader.Read(wish, out var problems) is { } plan)
                return Run(plan, new Files(parsed.GetValue(json), parsed.GetValue(report), parsed.GetValue(trace), parsed.GetValue(samples), parsed.GetValue(story)));
            return Refuse(problems);
        });
        return command;
    }

    private static int Refuse(IReadOnlyList<string> problems)
    {
        foreach (var problem in problems)
            Console.Error.WriteLine(problem);
        return 2;
    }

    private static int Run(RehearsalPlan plan, Files files)
    {
        using var traceFile = files.Trace is null ? null : File.Create(files.Trace);
        using var writer = traceFile is null ? null : new TraceWriter(traceFile);
        using var run = new Rehearsal(plan) { Trace = writer };
        run.RunToEnd(Progress);
        if (!Console.IsErrorRedirected)
            Console.Error.WriteLine();
        if (files.Story)
            Tell(plan, run);
        else
            RehearsalTable.Write(Console.Out, plan, run);
        if (files.Json is not null)
        {
            using var file = File.Create(files.Json);
            RehearsalJson.Write(file, plan, run);
        }
        if (files.Samples is not null)
        {
            using var file = new StreamWriter(files.Samples);
            SampleCsv.Write(file, run.Recorder.Record());
        }
        if (files.Report is not null)
        {
            using var file = new StreamWriter(files.Report, false, new UTF8Encoding(false));
            RehearsalReport.Write(file, run.Recorder.Record(), ReportTables.Of(plan, run), ReportTables.Notes(plan, run));
            Console.WriteLine($"report: {Path.GetFullPath(files.Report)}");
        }
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

    private static int Campaign(RehearsalWish wish, string range, int jobs)
    {
        var parts = range.Split("..");
        if (parts.Length != 2 || !ulong.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var first) || !ulong.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var last)
            || last < first || last - first >= 100_000)
            return Refuse([$"--seeds {range} is no range: write 1..20"]);
        var (failed, done) = (0, 0);
        IReadOnlyList<string> unread = [];
        var gate = new object();
        Parallel.For((long)first, (long)last + 1, new ParallelOptions { MaxDegreeOfParallelism = jobs > 0 ? jobs : Environment.ProcessorCount }, (seed, state) =>
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
}
