// pack, unpack, restore: a support pack from a site, into a directory in the office, onto a spare board. Only restore changes a site, and it asks first and keeps what was there.
using System.CommandLine;
using System.Globalization;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Verbs;

internal static class PackVerbs
{
    public static Command CreatePack()
    {
        var run = new RunOptions();
        var last = new Option<string>("--last") { Description = "how far back trends and traces reach: 24h, 7d, 4w", DefaultValueFactory = _ => "7d" };
        var names = new Option<bool>("--without-names") { Description = "rooms, loops and devices become room-1, loop-1 and so on; what carries names in other ways stays out" };
        var file = new Option<string?>("--file") { Description = "where to write it; without it room-supervisor-DATE.pack.zip here", HelpName = "FILE" };
        var log = ExplainPlace.LogOption();
        var command = new Command("pack", "Write all that somebody needs who was not there into one file of 20 MB at most: site files and their history, memory, log, trends, traces, and of a running controller "
            + "its status, why, points and devices. What is left out is said. Exit code 0, 2 when it cannot be written.") { last, names, file, log };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!TimeWords.TrySpan(parsed.GetValue(last)!, out var span))
                return Refusal.Say("pack", $"--last {parsed.GetValue(last)}: not understood; a number with h, d or w, for example 7d");
            using var place = ExplainPlace.Find(parsed, run, log);
            return place is null ? 2 : Pack(place, span, parsed.GetValue(names), parsed.GetValue(file));
        });
        return command;
    }

    public static Command CreateUnpack()
    {
        var file = new Argument<string>("FILE") { Description = "a support pack" };
        var directory = new Argument<string?>("DIR") { Arity = ArgumentArity.ZeroOrOne, Description = "a new or empty directory; without it one named like the pack" };
        var command = new Command("unpack", "Make a directory of a support pack on which why, trend, replay, rehearse, status, log and condensation work as on the site. Exit code 0, 2 when it is no pack.") { file, directory };
        command.SetAction(parsed =>
        {
            var pack = parsed.GetValue(file)!;
            var into = parsed.GetValue(directory) ?? Path.GetFileName(pack).Replace(".pack.zip", "", StringComparison.Ordinal).Replace(".zip", "", StringComparison.Ordinal);
            try
            {
                Console.Out.Write(Unpacking.Into(pack, into));
                Console.Out.WriteLine($"unpacked into {Path.GetFullPath(into)}: room-supervisor why --site {into}");
                return 0;
            }
            catch (Exception e) when (e is PackException or IOException or UnauthorizedAccessException)
            {
                return Refusal.Say("unpack", e.Message);
            }
        });
        return command;
    }

    public static Command CreateRestore()
    {
        var site = new SiteArgument();
        var file = new Argument<string>("FILE") { Description = "a support pack" };
        var state = HistoryVerb.StateOption();
        var yes = new Option<bool>("--yes") { Description = "do not ask" };
        var command = new Command("restore", "Put a pack's site files, settings in force, memory and history onto this board. Asks before it writes; what stood there is kept beside it. "
            + "Stop the service first. Exit code 0 done, 1 not wanted, 2 it cannot be done.") { file, state, yes };
        site.AddByNameTo(command);
        command.SetAction(parsed => site.Directory(parsed) is { } directory ? Restore(parsed.GetValue(file)!, directory, parsed.GetValue(state), parsed.GetValue(yes)) : 2);
        return command;
    }

    private static int Pack(ExplainPlace place, TimeSpan last, bool withoutNames, string? file)
    {
        var utc = TimeProvider.System.GetUtcNow().UtcDateTime;
        var path = file ?? string.Create(CultureInfo.InvariantCulture, $"room-supervisor-{utc:yyyy-MM-dd-HHmmss}.pack.zip");
        try
        {
            place.Spill();
            var wish = place.Wish(last) with { Answers = Answers(place) };
            if (withoutNames)
            {
                if (place.Files is not { } files)
                    return 2;
                wish = wish with { Names = NameMask.Of(files, File.ReadAllBytes(Path.Combine(wish.Directory, Site.SiteReader.SiteFile))) };
            }
            var leftOut = SupportPack.Write(path, wish, utc);
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Path.GetFullPath(path)}: {new FileInfo(path).Length / 1e6:0.0} MB"));
            foreach (var line in leftOut)
                Console.Out.WriteLine($"left out: {line}");
            return 0;
        }
        catch (Exception e) when (e is ControlException or IOException or UnauthorizedAccessException)
        {
            return Refusal.Say("pack", e.Message);
        }
    }

    private static Dictionary<string, string> Answers(ExplainPlace place)
    {
        var answers = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var request in place.Client is null ? [] : (string[])["status", "why", "points", "devices"])
        {
            try
            {
                using var answer = place.Client!.Ask(request);
                answers[request] = answer.RootElement.GetRawText();
            }
            catch (ControlException e)
            {
                answers[request] = e.Message;
            }
        }
        return answers;
    }

    private static int Restore(string file, string directory, string? stateFolder, bool yes)
    {
        var state = StateFolder.Of(directory, stateFolder);
        try
        {
            var needed = Unpacking.Needed(file, directory, state);
            var there = needed.Where(one => File.Exists(one.Path)).ToList();
            Console.Out.WriteLine($"{needed.Count} files go to {Path.GetFullPath(directory)} and {Path.GetFullPath(state.Path)}; {there.Count} are there already and would be kept beside them");
            Directory.CreateDirectory(directory);
            if (!InstanceLock.TryTake(directory, out var instance, out var why))
                return Refusal.Say("restore", $"{why}; stop the service first");
            using (instance)
            {
                if (!yes)
                {
                    Console.Out.Write("go on? yes or no: ");
                    if (Console.In.ReadLine()?.Trim() is not "yes")
                    {
                        Console.Out.WriteLine("nothing was changed");
                        return 1;
                    }
                }
                foreach (var line in Unpacking.Restore(file, directory, state, TimeProvider.System.GetUtcNow().UtcDateTime))
                    Console.Out.WriteLine(line);
                return 0;
            }
        }
        catch (Exception e) when (e is PackException or IOException or UnauthorizedAccessException)
        {
            return Refusal.Say("restore", e.Message);
        }
    }
}
