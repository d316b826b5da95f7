// A run from start to end: lock, parts, safe values first, the loop, and safe values on every way out. Owns the exit code: 0 when told to
// stop, 1 on an error of its own or when an output could not be made safe, 2 when it could not start.
using System.Reflection;
using System.Runtime.InteropServices;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>Runs a site.</summary>
public static class SiteRun
{
    /// <summary>The program's version.</summary>
    public static string Version { get; } = typeof(SiteRun).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";

    /// <summary>Runs until SIGTERM, SIGINT, SIGHUP or SIGQUIT.</summary>
    /// <param name="files">A site without errors.</param>
    /// <param name="directory">Its directory; logs and state go beside it unless LOGS_DIRECTORY and STATE_DIRECTORY say otherwise.</param>
    /// <param name="isObserving">True: everything is computed and logged, nothing written.</param>
    /// <param name="complaints">Where to say what keeps it from starting.</param>
    /// <returns>0 stopped as told; 1 crashed, or an output could not be written its safe value at the end; 2 could not start.</returns>
    public static int Run(SiteFiles files, string directory, bool isObserving, TextWriter complaints)
    {
        if (files.Wiring.Count == 0)
        {
            complaints.WriteLine("run: nothing is wired in site.yaml, so there is nothing to run; add devices and points, or use lockstep");
            return 2;
        }
        var state = Environment.GetEnvironmentVariable("STATE_DIRECTORY") ?? Path.Combine(directory, "state");
        var logs = Environment.GetEnvironmentVariable("LOGS_DIRECTORY") ?? Path.Combine(directory, "log");
        if (!InstanceLock.TryTake(state, out var instance, out var why))
        {
            complaints.WriteLine("run: " + why);
            return 2;
        }
        using (instance)
        {
            if (Wiring.TryBuild(files, logs, isObserving, TimeProvider.System, complaints, out var wiring, out var problems))
                return Run(files, wiring!, isObserving);
            foreach (var problem in problems)
                complaints.WriteLine(problem);
            return 2;
        }
    }

    private static int Run(SiteFiles files, Wiring wiring, bool isObserving)
    {
#pragma warning disable CA2000 // Never disposed: a second signal may come while the first is still being obeyed, up to the last moment.
        var stop = new CancellationTokenSource();
#pragma warning restore CA2000
        void Stop(PosixSignalContext context)
        {
            context.Cancel = true;
            stop.Cancel();
        }
        using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        // A closed terminal must not leave valves open: whatever asks the program to go makes its outputs safe first.
        using var hangUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, Stop);
        using var quit = PosixSignalRegistration.Create(PosixSignal.SIGQUIT, Stop);
        using (wiring)
        {
            var watch = isObserving ? ", observing: nothing is written" : "";
            wiring.Log.Say(
                wiring.Clock.Utc, 0, Priority.Note,
                $"room-supervisor {Version} started: {files.Site.Name}, {Count(files.House.Rooms.Length, "room")}, {Count(files.House.Loops.Length, "loop")}, "
                + $"{Count(files.Devices.Count, "device")}, {Count(files.Wiring.Count, "point")} wired{watch}");
            wiring.StartBuses();
            var code = Loop(wiring, stop.Token);
            if (!isObserving && !wiring.WriteSafe())
                code = Math.Max(code, 1);   // somebody should look: an output may not be safe
            wiring.Log.Say(wiring.Clock.Utc, wiring.Clock.ElapsedS, Priority.Note, $"stopped after {wiring.Loop.Scans} scans");
            return code;
        }
    }

    private static int Loop(Wiring wiring, CancellationToken stop)
    {
        try
        {
            wiring.Loop.Run(stop);
            return 0;
        }
#pragma warning disable CA1031 // The last line of defence: whatever went wrong, outputs must become safe and the exit code must say so.
        catch (Exception e)
#pragma warning restore CA1031
        {
            wiring.Log.Say(wiring.Clock.Utc, wiring.Clock.ElapsedS, Priority.Urgent, $"{RuntimeEvents.Crashed.Text}: {e}");
            return 1;
        }
    }

    private static string Count(int number, string what) => number == 1 ? $"1 {what}" : $"{number} {what}s";
}
