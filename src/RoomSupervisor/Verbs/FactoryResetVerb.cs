// factory-reset: a board for another house, or another owner. Writes a pack of everything first unless told not to; asks before it takes anything away.
using System.CommandLine;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Verbs;

internal static class FactoryResetVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var state = HistoryVerb.StateOption();
        var log = ExplainPlace.LogOption();
        var keep = new Option<string?>("--keep") { Description = "write a support pack of everything there first (restore puts it back)", HelpName = "FILE" };
        var nothing = new Option<bool>("--keep-nothing") { Description = "the house and its data are to be gone: no pack" };
        var yes = new Option<bool>("--yes") { Description = "do not ask" };
        var command = new Command("factory-reset", "Take away the house: site.yaml, household.yaml and its versions, last good files, memory, counters, log, trends and traces. Every output should be safe and the service stopped first "
            + "(sudo systemctl stop room-supervisor). One of --keep and --keep-nothing says what becomes of it. Exit code 0 done, 1 not wanted or something is left, 2 refused.") { state, log, keep, nothing, yes };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            if (parsed.GetValue(keep) is null != parsed.GetValue(nothing))
                return Refusal.Say("factory-reset", "say what becomes of the house: --keep FILE writes a pack of it first, --keep-nothing does not");
            return Reset(directory, StateFolder.Of(directory, parsed.GetValue(state)), ExplainPlace.LogsOf(parsed.GetValue(log), directory), parsed.GetValue(keep), parsed.GetValue(yes));
        });
        return command;
    }

    private static int Reset(string directory, StateFolder state, string logs, string? keep, bool yes)
    {
        if (!Directory.Exists(directory))
            return Refusal.Say("factory-reset", $"there is no {directory}");
        if (!InstanceLock.TryTake(directory, out var instance, out var why))
            return Refusal.Say("factory-reset", $"{why}; stop the service first");
        using (instance)
        {
            try
            {
                var files = FactoryReset.Files(directory, state, logs);
                if (keep is not null)
                {
                    var leftOut = SupportPack.Write(keep, new PackWish(directory, state, logs, TimeSpan.FromDays(7)), TimeProvider.System.GetUtcNow().UtcDateTime);
                    Console.Out.WriteLine($"kept in {Path.GetFullPath(keep)}");
                    foreach (var line in leftOut)
                        Console.Out.WriteLine($"left out of it: {line}");
                }
                Console.Out.WriteLine($"{files.Count} files of {Path.GetFullPath(directory)}, {Path.GetFullPath(state.Path)} and {Path.GetFullPath(logs)} would be gone for good");
                if (!yes && !Agrees())
                {
                    Console.Out.WriteLine("nothing was taken away");
                    return 1;
                }
                var left = FactoryReset.Do(files);
                foreach (var line in left)
                    Console.Error.WriteLine($"still there: {line}");
                Console.Out.WriteLine(left.Count == 0 ? "this board knows no house any more; next: room-supervisor setup" : $"{left.Count} files are left");
                return left.Count == 0 ? 0 : 1;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return Refusal.Say("factory-reset", $"nothing was taken away: {e.Message}");
            }
        }
    }

    private static bool Agrees()
    {
        Console.Out.Write("go on? yes or no: ");
        return Console.In.ReadLine()?.Trim() is "yes";
    }
}
