// Runs the dotnet command and gives back what it says. Never in parallel: builds share their output.
using System.Diagnostics;

namespace RoomSupervisor.Mutants;

internal static class Dotnet
{
    /// <summary>The same dotnet that runs this tool.</summary>
    public static string Command { get; } = Environment.ProcessPath is { } path && Path.GetFileNameWithoutExtension(path) == "dotnet" ? path : "dotnet";

    /// <exception cref="InvalidOperationException">It did not end well.</exception>
    public static string Run(string folder, params string[] arguments)
    {
        var start = new ProcessStartInfo(Command, arguments) { WorkingDirectory = folder, RedirectStandardOutput = true };
        using var process = Process.Start(start) ?? throw new InvalidOperationException("dotnet cannot be started");
        var said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? said : throw new InvalidOperationException($"dotnet {string.Join(' ', arguments)}:\n{said}");
    }
}
