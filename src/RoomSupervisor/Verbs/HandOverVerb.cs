// handover: the report that is printed and signed, with the owner's page. Arguments and files only.
using System.CommandLine;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.HandOver;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class HandOverVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var html = new Option<string>("--html") { Description = "write the report there, one HTML file for printing", HelpName = "FILE", Required = true };
        var last = new Option<string>("--last") { Description = "how far back trends are shown: 24h, 7d, 8w", DefaultValueFactory = _ => "7d" };
        var isVirtual = new Option<bool>("--virtual") { Description = "of a walk through the virtual house; the report says so" };
        var state = HistoryVerb.StateOption();
        var logs = ExplainPlace.LogOption();
        var command = new Command("handover", "Write the hand-over report for printing and signing: open points first, then rooms, settings, circuits, calibration, tests, trends, room data, cautions, signatures, and the owner's page. Exit code 0 written and nothing open, 1 written with open points, 2 refused.") { html, last, isVirtual, state, logs };
        site.AddTo(command);
        command.SetAction(parsed => site.Directory(parsed) is { } directory
            ? Write(directory, parsed.GetValue(html)!, parsed.GetValue(last)!, parsed.GetValue(isVirtual), StateFolder.Of(directory, parsed.GetValue(state)), ExplainPlace.LogsOf(parsed.GetValue(logs), directory)) : 2);
        return command;
    }

    private static int Write(string directory, string html, string last, bool isVirtual, StateFolder state, string logs)
    {
        if (!TimeWords.TrySpan(last, out var span))
            return Refusal.Say("handover", $"--last {last}: not understood; a number with min, h, d, w or y, for example 7d");
        var read = SiteStart.Read(directory, StartVerb.Lockstep, Drivers.All, TimeProvider.System);
        foreach (var problem in read.Problems.Where(problem => problem.Severity == Severity.Error))
            Console.Error.WriteLine(problem);
        if (read.Files is not { } files)
            return 2;
        var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, isVirtual));
        var facts = HandOverFacts.Of(files, book, state, logs, TimeProvider.System.GetUtcNow().UtcDateTime, span, isVirtual) with
        {
            SiteText = File.ReadAllText(Path.Combine(directory, SiteReader.SiteFile)),
            Warnings = [.. read.Problems.Where(problem => problem.Severity == Severity.Warning).Select(problem => problem.ToString().Split('\n')[0])],
        };
        using (var text = new StringWriter())
        {
            HandOverReport.Write(text, facts);
            SafeFile.Write(html, System.Text.Encoding.UTF8.GetBytes(text.ToString()));
        }
        var wrong = Findings.Of(facts.Current);
        Console.Out.WriteLine($"report: {Path.GetFullPath(html)}; {wrong.Count} wrong, {facts.ToDo.Count} step(s) not done");
        foreach (var finding in wrong)
            Console.Out.WriteLine("  wrong: " + finding);
        return wrong.Count + facts.ToDo.Count > 0 ? 1 : 0;
    }
}
