// run: controls a site until it is told to stop.
using System.CommandLine;
using RoomSupervisor.Runtime;

namespace RoomSupervisor.Verbs;

internal static class RunVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var observe = new Option<bool>("--observe") { Description = "compute and log everything, write nothing: for weeks beside an existing control" };
        var command = new Command("run", "Control the site until SIGTERM or Ctrl-C; safe values are written first and last.") { observe };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            return SiteRun.Run(files, directory, parsed.GetValue(observe), Console.Error);
        });
        return command;
    }
}
