// run: controls a site until it is told to stop.
using System.CommandLine;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.Verbs;

internal static class RunVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var observe = new Option<bool>("--observe") { Description = "compute and log everything, write nothing: for weeks beside an existing control" };
        var record = new Option<bool>("--record") { Description = "record every scan beside the log (trace/DATE.trace.gz, a file a day, 200 MB at most, the oldest go first) for replay" };
        var notify = new Option<string?>("--notify") { Description = "a program or script that is run at alarms and urgent events, at most once a minute: the worst priority is its argument, a line an event on its standard input", HelpName = "COMMAND" };
        var command = new Command("run", "Control the site until SIGTERM or Ctrl-C. Every output gets its safe value before anything else and again at the end. "
            + "A changed file takes effect while it runs; what is broken stays as it was (household.answer.txt, log). "
            + "The log goes to DIR/log, or to $LOGS_DIRECTORY; state to DIR/state, or to $STATE_DIRECTORY. One controller a site: a second one is refused. "
            + "Exit code 0 stopped as told, 1 stopped on an error of its own, 2 could not start.") { observe, record, notify };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            return site.Directory(parsed) is { } directory
                ? BoardRun.Run(directory, parsed.GetValue(observe), Console.Error, new RunExtras(parsed.GetValue(record), parsed.GetValue(notify))) : 2;
        });
        return command;
    }
}
