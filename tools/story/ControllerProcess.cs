// The real program as a process on a copy of config/one-room, with short waiting times so that an afternoon takes half a minute. For the
// story and the live tests. Must never leave its process behind.
using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Story;

/// <summary>One run of the controller.</summary>
public sealed partial class ControllerProcess : IDisposable
{
    private const int Terminate = 15;

    /// <summary>Waiting times of the copy: everything that takes minutes in a house takes a second here. Limits and margins stay as they are.</summary>
    private const string ShortTimes = """

        sequence:
          declared_missing_after: 5 s
          keep_last_good: 5 s
          temperature_jump: 10 K
          humidity_jump: 50 %
          temperature_rate: 60 K/min
          humidity_rate: 600 %/min
          air_filter: 0.5 s
          water_filter: 0.5 s
          slope_filter: 5 s
          pull_down_wait: 1 s
          surface_wait: 1 s
          coil_helps_wait: 60 s
          dwell: 0 s
          opening_wait: 1 s
          rise: 300 dB/min
          rise_after_opening: 300 dB/min
          fall: 300 dB/min
          fall_easing_off: 300 dB/min
          open_after_steady: 6 s
          source_minimum_off: 0 s
          source_minimum_run: 0 s

        """;

    private readonly Process process;
    private readonly List<string> said = [];

    /// <param name="folder">Folder of the site.</param>
    /// <param name="program">The executable.</param>
    /// <param name="shell">What a shell would read after the command, such as "> /dev/full"; empty: no shell.</param>
    /// <param name="environment">Variables to set.</param>
    public ControllerProcess(string folder, string program, string shell = "", params IReadOnlyList<(string Name, string Value)> environment)
    {
        var start = new ProcessStartInfo(shell.Length == 0 ? program : "/bin/sh") { RedirectStandardOutput = true, RedirectStandardError = true };
        string[] words = shell.Length == 0 ? ["run", folder] : ["-c", $"exec \"$0\" run \"$1\" {shell}", program, folder];
        Array.ForEach(words, start.ArgumentList.Add);
        foreach (var (name, value) in environment)
            start.Environment[name] = value;
        process = new Process { StartInfo = start };
        process.OutputDataReceived += (_, line) => Heard(line.Data);
        process.ErrorDataReceived += (_, line) => Heard(line.Data);
        process.Start();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>Its number; a shell takes its place with exec.</summary>
    public int Id => process.Id;

    /// <summary>What it said on the console so far.</summary>
    public IReadOnlyList<string> Said
    {
        get
        {
            lock (said)
                return [.. said];
        }
    }

    /// <summary>The executable that was built beside a test or tool.</summary>
    public static string ProgramBeside(string folder) => Path.Combine(folder, "room-supervisor");

    /// <summary>Copies config/one-room into a folder, on a port of this machine and with short waiting times.</summary>
    public static void WriteSite(string root, string folder, int port)
    {
        Directory.CreateDirectory(folder);
        var site = File.ReadAllText(Path.Combine(root, "config", "one-room", "site.yaml"))
            .Replace("host: 192.0.2.10", "host: 127.0.0.1", StringComparison.Ordinal)
            .Replace("port: 502", string.Create(CultureInfo.InvariantCulture, $"port: {port}\n    interval: 0.2 s\n    retry_at_most: 1 s"), StringComparison.Ordinal)
            .Replace("opening_time: 90 s", "opening_time: 2 s", StringComparison.Ordinal)
            .Replace("    drip_tray_switch: true", "    valve_opening_time: 1 s\n    drip_tray_switch: true", StringComparison.Ordinal)
            .Replace("lag: 120 s", "lag: 0 s", StringComparison.Ordinal)
            .Replace("stroke: 90 s", "stroke: 2 s", StringComparison.Ordinal);
        File.WriteAllText(Path.Combine(folder, "site.yaml"), site + ShortTimes);
        File.WriteAllText(Path.Combine(folder, "household.yaml"), "rooms:\n  weaving-room:\n    cool_above: 24 °C\n    fan_at_most: 35 %\n");
    }

    /// <summary>Asks it to stop, by default as a service manager does, and gives its exit code.</summary>
    public int Stop(int signal = Terminate)
    {
        _ = SendSignal(process.Id, signal);
        if (!process.WaitForExit(TimeSpan.FromSeconds(20)))
            throw new InvalidOperationException("the controller did not stop within 20 s");
        process.WaitForExit();
        return process.ExitCode;
    }

    /// <summary>Waits until it ends by itself and gives its exit code.</summary>
    public int Ended()
    {
        if (!process.WaitForExit(TimeSpan.FromSeconds(20)))
            throw new InvalidOperationException("the controller did not end within 20 s");
        return process.ExitCode;
    }

    /// <summary>Kills it, as a crash does.</summary>
    public void Kill()
    {
        if (process.HasExited)
            return;
        process.Kill();
        process.WaitForExit();
    }

    public void Dispose()
    {
        Kill();
        process.Dispose();
    }

    private void Heard(string? line)
    {
        if (line is null)
            return;
        lock (said)
            said.Add(line);
    }

    [LibraryImport("libc", EntryPoint = "kill", SetLastError = true)]
    private static partial int SendSignal(int pid, int signal);
}
