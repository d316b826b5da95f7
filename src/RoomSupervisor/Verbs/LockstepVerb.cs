// lockstep: a line in, a scan, a line out, without waiting for real time.
using System.Buffers;
using System.CommandLine;
using RoomSupervisor.Runtime.Lockstep;

namespace RoomSupervisor.Verbs;

internal static class LockstepVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var command = new Command("lockstep", "Answer each JSON line on standard input with one on standard output: for building models, replays and what-if.");
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            using var session = new LockstepSession(files.House, files.Site.TimeZone);
            using var input = Console.OpenStandardInput();
            using var output = Console.OpenStandardOutput();
            try
            {
                return LockstepLines.Answer(session, input, output);
            }
            catch (IOException e)
            {
                Console.Error.WriteLine($"lockstep: nobody takes the answers: {e.Message}");
                return 1;
            }
        });
        return command;
    }
}
