// check: what is wrong with a site's files, and what was understood of them. Starts nothing and writes nothing.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class CheckVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var all = new Option<bool>("--all") { Description = "list the values that nobody wrote too" };
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var command = new Command("check", "Check a site's two files before they count: errors and warnings with line and column, then what was understood. "
            + "Touches no device. Exit code 0 clean, 1 warnings, 2 errors.") { all, json };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var result = SiteStart.Read(directory, StartVerb.Check, Drivers.All, TimeProvider.System);
            if (parsed.GetValue(json))
                CheckJson.Write(Console.OpenStandardOutput(), directory, result.Files, result.Problems);
            else
                Tell(directory, result, parsed.GetValue(all));
            return result.Files is null ? 2 : result.Problems.Count == 0 ? 0 : 1;
        });
        return command;
    }

    private static void Tell(string directory, StartResult result, bool all)
    {
        foreach (var problem in result.Problems)
            Console.Out.WriteLine(problem);
        if (result.Files is null)
        {
            var errors = result.Problems.Count(problem => problem.Severity == Severity.Error);
            var otherwise = result.SiteRow.Use == StartUse.Nothing ? "Nothing would start" : "A controller would go on with what held before in their place";
            Console.Out.WriteLine($"{directory}: {errors} error(s). {otherwise}.");
            return;
        }
        foreach (var line in Understood.Lines(result.Files, all))
            Console.Out.WriteLine(line);
        Console.Out.WriteLine(result.Problems.Count == 0 ? $"{directory}: clean." : $"{directory}: {result.Problems.Count} warning(s).");
    }
}
