// safe: writes every output its safe value where no controller runs. What the service does after an end that was not orderly.
using System.CommandLine;
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.Verbs;

internal static class SafeVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var after = new Option<bool>("--after-service") { Description = "for the service: nothing to do when it ended by itself as told ($SERVICE_RESULT, $EXIT_CODE, $EXIT_STATUS)" };
        var command = new Command("safe", "Write every output its safe value and end; what does not answer is tried again for some seconds. Refused while a controller runs. Exit code 0 written, 1 an output could not be written, 2 nothing could be tried.") { after };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(after) && SafeRun.IsDone(Environment.GetEnvironmentVariable))
                return 0;
            return site.Directory(parsed) is { } directory ? SafeRun.Run(directory, Console.Error) : 2;
        });
        return command;
    }
}
