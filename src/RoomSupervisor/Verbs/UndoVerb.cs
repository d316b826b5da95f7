// undo: puts an earlier household.yaml back, whole with its comments, after keeping the present one. A running controller sees it like
// any other save.
using System.CommandLine;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class UndoVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var number = new Option<int?>("--to") { Description = "version to go back to (see history); without it the one before the present file", HelpName = "N" };
        var state = HistoryVerb.StateOption();
        var command = new Command("undo", "Put an earlier version of household.yaml back; the present one is kept as a version first. "
            + "A running controller takes it over and answers in household.answer.txt. Exit code 0, 2 when there is nothing to go back to.") { number, state };
        site.AddTo(command);
        command.SetAction(parsed => site.Directory(parsed) is { } directory
            ? Undo(directory, StateFolder.Of(directory, parsed.GetValue(state)).History, parsed.GetValue(number))
            : 2);
        return command;
    }

    private static int Undo(string directory, History history, int? number)
    {
        var path = Path.Combine(directory, SiteReader.HouseholdFile);
        if (HouseholdUndo.Back(path, history, number, TimeProvider.System, out var said))
        {
            Console.Out.WriteLine(said);
            return 0;
        }
        Console.Error.WriteLine("undo: " + said);
        return 2;
    }
}
