// screed: begins, ends and shows the heat-up programme of a new screed on a running controller, which carries it out for weeks; prints its record. Arguments and printing only.
using System.CommandLine;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.WaterWork;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class ScreedVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var loop = new Argument<string>("LOOP") { Description = "the loop of the new floor" };
        var begin = new Option<bool>("--begin") { Description = "begin it; asks first" };
        var end = new Option<bool>("--end") { Description = "end it now" };
        var steps = new Option<string?>("--steps") { Description = "days and supply from the screed maker's sheet: \"3d 25 °C, 4d 45 °C\"; without it the least of EN 1264-4: three days at 25 °C, four at the loop's warmest", HelpName = "STEPS" };
        var sheetFile = new Option<string?>("--sheet-file") { Description = "the same as a file, a step a line", HelpName = "F" };
        var sheet = new Option<string?>("--sheet") { Description = "name of the sheet, for the record", HelpName = "NAME" };
        var kind = new Option<string?>("--screed") { Description = "cement or anhydrite", HelpName = "KIND" };
        var laid = new Option<string?>("--laid") { Description = "day it was laid", HelpName = "DATE" };
        var after = new Option<string?>("--sheet-allows-after") { Description = "days after laying, where the maker's sheet says in writing less than 21 (cement) or 7 (anhydrite)", HelpName = "DAYS" };
        var page = new Option<string?>("--html") { Description = "write the record there for printing, one HTML file", HelpName = "F" };
        var yes = new Option<bool>("--yes") { Description = "do not ask before it begins" };
        var command = new Command("screed", "Heat up a new screed: the controller holds the loop's supply day by day as the screed maker's sheet says, goes on after a power cut where it was, takes no cold water, and keeps to all limits of loop and surface. "
            + "Without --begin or --end: show and print the record. The sheet and the licensed trade decide. Exit code 0, 1 there is no programme, 2 refused.") { loop, begin, end, steps, sheetFile, sheet, kind, laid, after, page, yes };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            var id = parsed.GetValue(loop)!.Trim();
            if (parsed.GetValue(begin) && parsed.GetValue(end))
                return Refusal.Say("screed", "--begin and --end: one of the two");
            if (!run.TryFind(parsed, out var client, out var directory))
                return 2;
            if (client is null)
                return parsed.GetValue(begin) || parsed.GetValue(end) ? Refusal.Say("screed", $"no controller runs {directory}: it takes weeks, so the controller itself carries it out (room-supervisor run, or its service)") : FromDisk(directory, run.State(parsed), id, parsed.GetValue(page));
            using (client)
            {
                List<(string, string)> keys = [("loop", id), ("action", parsed.GetValue(begin) ? "begin" : parsed.GetValue(end) ? "end" : "show")];
                if (parsed.GetValue(begin))
                {
                    var text = parsed.GetValue(sheetFile) is { } file ? File.ReadAllText(file) : parsed.GetValue(steps) ?? "";
                    keys.AddRange([("steps", text), ("screed", parsed.GetValue(kind) ?? ""), ("laid", parsed.GetValue(laid) ?? ""), ("sheet", parsed.GetValue(sheet) ?? ""), ("sheet_allows_after", parsed.GetValue(after) ?? "")]);
                    if (!parsed.GetValue(yes) && !Asked())
                        return 1;
                }
                return Ask(client, id, keys, directory, parsed.GetValue(begin) || parsed.GetValue(end), parsed.GetValue(page));
            }
        });
        return command;
    }

    private static int Ask(ControlClient client, string id, List<(string, string)> keys, string directory, bool changes, string? page)
    {
        try
        {
            using (client.Ask("screed", keys))
            {
            }
            for (var tries = 0; ; tries++)
            {
                // The loop takes an order with its next scan.
                using var pause = new ManualResetEventSlim();
                pause.Wait(TimeSpan.FromSeconds(changes ? 1.5 : 0));
                using var answer = client.Ask("screed", ("loop", id), ("action", "show"));
                var programme = answer.RootElement.GetProperty("programme");
                if (programme.ValueKind != JsonValueKind.Object)
                {
                    if (changes && tries < 5)
                        continue;
                    Console.Out.WriteLine($"{id}: no heat-up programme was ever begun");
                    return 1;
                }
                return ScreedFile.Load(programme) is { } run ? Show(run, directory, page) : Refusal.Say("screed", "the run answers in another format: use the program of the same version");
            }
        }
        catch (Exception e) when (e is ControlException or ControlLostException)
        {
            return Refusal.Say("screed", e.Message);
        }
    }

    private static int FromDisk(string directory, string? state, string id, string? page)
    {
        var folder = StateFolder.Of(directory, state);
        if (folder.LoadScreed(id) is not { } bytes || ScreedFile.Load(bytes) is not { } run)
        {
            Console.Out.WriteLine($"{id}: no heat-up programme is kept in {folder.Path}");
            return 1;
        }
        Console.Out.WriteLine($"no controller runs: as kept on {run.LastUtc:yyyy-MM-dd HH:mm} UTC");
        return Show(run, directory, page);
    }

    private static int Show(ScreedRun run, string directory, string? page)
    {
        if (SiteArgument.Read(directory) is not { } files)
            return 2;
        foreach (var line in ScreedPage.Lines(run, files.Site.TimeZone, files.House.Units))
            Console.Out.WriteLine(line);
        if (run.State != ScreedState.Running)
            Keep(run, directory);
        if (page is null)
            return 0;
        using var file = new StreamWriter(page, false, new UTF8Encoding(false));
        ScreedPage.Html(file, files.Site.Name, run, files.Site.TimeZone, files.House.Units);
        Console.Out.WriteLine($"page: {Path.GetFullPath(page)}");
        return 0;
    }

    /// <summary>An ended programme goes into the book, once.</summary>
    private static void Keep(ScreedRun run, string directory)
    {
        var entry = ScreedPage.Entry(run, Environment.UserName, run.LastUtc);
        var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, isVirtual: false));
        if (book.Latest(entry.Id)?.Utc is not { } had || Math.Abs((had - entry.Utc).TotalSeconds) > 1)
            book.Add(entry);
    }

    private static bool Asked()
    {
        Console.Out.WriteLine("caution: the screed maker's sheet and the licensed trade decide; a screed heated too early or too hot cracks. The hard-wired high limit stays the last line: look that it is set.");
        Console.Out.Write("begin? (Enter, or n) ");
        return Console.In.ReadLine() is { } answer && !answer.Trim().StartsWith("n", StringComparison.OrdinalIgnoreCase);
    }
}
