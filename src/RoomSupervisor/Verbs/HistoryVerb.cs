// history: which versions of household.yaml were accepted, when, and what each changed. Changes nothing.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Verbs;

internal static class HistoryVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var show = new Option<int?>("--show") { Description = "show the file of that version", HelpName = "N" };
        var state = StateOption();
        var command = new Command("history", "List the versions of household.yaml that the controller has accepted (the last 50), with what each changed. Exit code 0, 2 when there is no such version.") { show, state };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var history = StateFolder.Of(directory, parsed.GetValue(state)).History;
            return parsed.GetValue(show) is { } number ? Show(history, number) : List(history);
        });
        return command;
    }

    /// <summary>Where the controller keeps its state, for a person at the keyboard of a service's site.</summary>
    public static Option<string?> StateOption() => new("--state") { Description = "the controller's state directory; without it $STATE_DIRECTORY, or DIR/state", HelpName = "DIR" };

    private static int Show(History history, int number)
    {
        if (history.Find(number) is not { } version)
        {
            Console.Error.WriteLine($"history: there is no version {number}");
            return 2;
        }
        Console.Out.Write(Encoding.UTF8.GetString(version.Text));
        return 0;
    }

    private static int List(History history)
    {
        var versions = history.All();
        foreach (var version in versions)
        {
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{version.Number,6}  {version.Utc:yyyy-MM-dd HH:mm:ss} UTC{(version.Changes.Count == 0 ? "  nothing changed but its text" : "")}"));
            foreach (var change in version.Changes)
                Console.Out.WriteLine($"        {change}");
        }
        if (versions.Count == 0)
            Console.Out.WriteLine("no version yet: the controller keeps one whenever it accepts a household.yaml");
        return 0;
    }
}
