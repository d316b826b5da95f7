// The built program as a person types it: nothing on standard input unless given, none of the folders and sites that this machine's own environment may name. For tests only; waits until it has ended.
using System.Diagnostics;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Verbs;

internal static class Typed
{
    /// <summary>What the environment of this machine may say and no test means.</summary>
    public static readonly IReadOnlyList<string> NotOfThisMachine = ["ROOM_SUPERVISOR_SITE", "LOGS_DIRECTORY", "STATE_DIRECTORY", "RUNTIME_DIRECTORY"];

    public static (int Code, string Out, string Error) Verb(params string[] arguments) => With("", arguments);

    /// <summary>The same with something to read on standard input.</summary>
    public static (int Code, string Out, string Error) With(string input, params string[] arguments)
    {
        var start = new ProcessStartInfo(ControllerProcess.ProgramBeside(AppContext.BaseDirectory), arguments) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var name in NotOfThisMachine)
            start.Environment.Remove(name);
        using var process = Process.Start(start)!;
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, text, error.Result);
    }
}
