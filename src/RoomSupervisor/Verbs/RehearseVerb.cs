// rehearse: the real loop in the virtual house, fast; table, JSON, trace, report.
using System.CommandLine;
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Verbs;

internal static class RehearseVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var scenario = new Option<string?>("--scenario") { Description = "a scenario file, or a name under DIR/scenarios; without it two ordinary summer days", HelpName = "F" };
        var days = new Option<int>("--days") { Description = "length in days, in place of the scenario's", HelpName = "N" };
        var from = new Option<string?>("--from") { Description = "first day, in place of the scenario's", HelpName = "DATE" };
        var seed = new Option<ulong?>("--seed") { Description = "seed of all chance, in place of the scenario's", HelpName = "N" };
        var json = new Option<string?>("--json") { Description = "write all measures there", HelpName = "F" };
        var trace = new Option<string?>("--trace") { Description = "write what the controller read there, for lockstep", HelpName = "F" };
        var samples = new Option<string?>("--samples") { Description = "write a line a minute there, for spreadsheets", HelpName = "F" };
        var command = new Command("rehearse", "Run the site's controller in a virtual house, thousands of times as fast as real time: before it is wired, or to try a setting. "
            + "DIR/building.yaml describes the building where there is one; what it does not say has stated defaults. "
            + "Exit code 0 done, 1 a room was back faster than possible or a fault campaign failed, 2 something was not understood.") { scenario, days, from, seed, json, trace, samples };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var wish = new RehearsalWish(directory) { Scenario = parsed.GetValue(scenario), Days = parsed.GetValue(days), From = parsed.GetValue(from), Seed = parsed.GetValue(seed) };
            if (RehearsalReader.Read(wish, out var problems) is { } plan)
                return Run(plan, parsed.GetValue(json), parsed.GetValue(trace), parsed.GetValue(samples));
            foreach (var problem in problems)
                Console.Error.WriteLine(problem);
            return 2;
        });
        return command;
    }

    private static int Run(RehearsalPlan plan, string? json, string? trace, string? samples)
    {
        using var traceFile = trace is null ? null : File.Create(trace);
        using var writer = traceFile is null ? null : new TraceWriter(traceFile);
        using var run = new Rehearsal(plan) { Trace = writer };
        run.RunToEnd(Progress);
        if (!Console.IsErrorRedirected)
            Console.Error.WriteLine();
        RehearsalTable.Write(Console.Out, plan, run);
        if (json is not null)
        {
            using var file = File.Create(json);
            RehearsalJson.Write(file, plan, run);
        }
        if (samples is not null)
        {
            using var file = new StreamWriter(samples);
            SampleCsv.Write(file, run.Recorder.Record());
        }
        return run.Recorder.FasterThanPossible.Count == 0 ? 0 : 1;
    }

    private static void Progress(Rehearsal run)
    {
        if (Console.IsErrorRedirected)
            return;
        var local = TimeZoneInfo.ConvertTime(run.Run.Now, TimeZoneInfo.Utc);
        Console.Error.Write(string.Create(CultureInfo.InvariantCulture, $"\r{local:yyyy-MM-dd HH:mm} UTC, {run.ElapsedS / Math.Max(run.Budget.WholeS, 1e-9):#,0} times as fast as real time   "));
    }
}
