// A run from start to end: lock, parts, safe values first, the loop, and safe values on every way out. Owns the exit code: 0 when told to
// stop, 1 on an error of its own or when an output could not be made safe, 2 when it could not start.
using System.Reflection;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>What a run does beside controlling.</summary>
/// <param name="IsRecorded">Every scan goes into a trace beside the log.</param>
/// <param name="Notify">A command run at alarms; null: none.</param>
public sealed record RunExtras(bool IsRecorded, string? Notify);

/// <summary>Runs a site.</summary>
public static class SiteRun
{
    /// <summary>The program's version.</summary>
    public static string Version { get; } = typeof(SiteRun).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";

    /// <summary>Runs until SIGTERM, SIGINT, SIGHUP or SIGQUIT.</summary>
    /// <param name="directory">The site's directory; logs and state go into it unless LOGS_DIRECTORY and STATE_DIRECTORY say otherwise.</param>
    /// <param name="isObserving">True: everything is computed and logged, nothing written to a device.</param>
    /// <param name="complaints">Where to say what is wrong with the files and what keeps it from starting.</param>
    /// <param name="extras">What the run does beside: record, tell; null: nothing.</param>
    /// <param name="watch">Tells a service manager; null: there is none.</param>
    /// <returns>0 stopped as told; 1 crashed, or an output could not be written its safe value at the end; 2 could not start.</returns>
    public static int Run(string directory, bool isObserving, TextWriter complaints, RunExtras? extras = null, ServiceWatch? watch = null)
    {
        var state = StateFolder.Of(directory);
        var start = SiteStart.Read(directory, StartVerb.Run, Drivers.All, TimeProvider.System, state);
        foreach (var problem in start.Problems)
            complaints.WriteLine(problem);
        if (start.Files is not { } files)
        {
            complaints.WriteLine($"{start.Problems.Count(problem => problem.Severity == Severity.Error)} error(s): nothing was started");
            return start.SiteRow.ExitCode ?? 2;
        }
        if (files.Wiring.Count == 0)
        {
            complaints.WriteLine("run: nothing is wired in site.yaml, so there is nothing to run; add devices and points, or use lockstep");
            return 2;
        }
        var logs = ServiceFolders.Logs(directory);
        if (!InstanceLock.TryTake(directory, out var instance, out var why))
        {
            complaints.WriteLine("run: " + why);
            return 2;
        }
        using (instance)
        {
            foreach (var folder in (string[])[directory, state.Path, Path.Combine(state.Path, "history")])
                SafeFile.Tidy(folder);
            if (!Wiring.TryBuild(files, logs, isObserving, TimeProvider.System, complaints, out var wiring, out var problems, trace: extras?.IsRecorded == true ? new Recording.TraceTexts(files.House, start.Site) : null, notify: extras?.Notify))
            {
                foreach (var problem in problems)
                    complaints.WriteLine(problem);
                return 2;
            }
            if (!wiring!.Listen(directory, ControlPlace.Of(state), TimeProvider.System, out var noSocket))
            {
                complaints.WriteLine("run: " + noSocket);
                wiring.Dispose();
                return 2;
            }
            if (noSocket.Length > 0)
                wiring.Log.Say(wiring.Clock.Utc, 0, Priority.Warning, $"no control socket: {noSocket} | means: control goes on; points, devices, set and find cannot ask it | check: owner and space of that folder");
            wiring.Watch(directory, state, start);
            string[] read = [Path.Combine(directory, SiteReader.SiteFile), Path.Combine(directory, SiteReader.HouseholdFile)];
            wiring.TellOpen(FileModes.Open([directory, state.Path, logs], files.Site.Notify.Length > 0 ? [.. read, files.Site.Notify] : read, ServiceFolders.Runtime is not null));
            return Run(files, wiring, isObserving, watch: watch);
        }
    }

    /// <summary>Runs parts that are put together, and disposes of them. Safe values are written on every way out, before anything is told.</summary>
    /// <param name="files">The site.</param>
    /// <param name="wiring">Its parts.</param>
    /// <param name="isObserving">Nothing is written.</param>
    /// <param name="work">What the run is for, on a thread of its own: it ends with it, and takes its exit code. Null: it goes on until told to stop.</param>
    /// <param name="scans">Takes the scans in place of threads and real time; null: as the program does.</param>
    /// <param name="watch">Tells a service manager; null: there is none.</param>
    internal static int Run(SiteFiles files, Wiring wiring, bool isObserving, Func<CancellationToken, int>? work = null, Action<Wiring>? scans = null, ServiceWatch? watch = null)
    {
        using var signals = new StopSignals();
        var code = 0;
        var worker = work is null ? null : new Thread(() => code = Work(work, wiring, signals)) { Name = "work" };
        using (wiring)
        {
            Exception? crash = null;
            try
            {
                wiring.Log.Say(wiring.Clock.Utc, 0, Priority.Note, Start(files, isObserving, work is not null));
                watch?.Begin(wiring);
                if (scans is null)
                    Run(wiring, worker, signals.Token);
                else
                    scans(wiring);
            }
#pragma warning disable CA1031 // The last line of defence: whatever went wrong, outputs must become safe and the exit code must say so.
            catch (Exception e)
#pragma warning restore CA1031
            {
                crash = e;
                signals.Ask();
            }
            watch?.End();
            wiring.Service?.Dispose();   // nobody asks a loop that has stopped
            var isSafe = isObserving || wiring.WriteSafe();
            if (crash is null)
                wiring.KeepMemory();
            var stamp = (wiring.Clock.Utc, wiring.Clock.ElapsedS);
            if (crash is not null)
                wiring.Log.Say(stamp.Utc, stamp.ElapsedS, Priority.Urgent, $"{RuntimeEvents.Crashed.Text} | check: {RuntimeEvents.Crashed.Check} | {crash}");
            var why = signals.Signal is { } signal ? $" on {signal}" : "";
            wiring.Log.Say(stamp.Utc, stamp.ElapsedS, Priority.Note, $"stopped{why} after {wiring.Loop.Scans} scans");
            worker?.Join();
            return crash is null && isSafe ? code : 1;
        }
    }

    private static void Run(Wiring wiring, Thread? worker, CancellationToken stop)
    {
        wiring.StartHelpers();
        worker?.Start();
        wiring.Loop.Run(stop);
    }

    private static int Work(Func<CancellationToken, int> work, Wiring wiring, StopSignals signals)
    {
        try
        {
            return work(signals.Token);
        }
#pragma warning disable CA1031 // Whatever the work stumbles over, the run must end with safe values.
        catch (Exception e)
#pragma warning restore CA1031
        {
            wiring.Log.Say(wiring.Clock.Utc, wiring.Clock.ElapsedS, Priority.Alarm, $"by hand: {e.GetType().Name}: {e.Message}");
            return 1;
        }
        finally
        {
            signals.Ask();
        }
    }

    private static string Start(SiteFiles files, bool isObserving, bool isByHand)
    {
        var watch = isObserving ? ", observing: nothing is written" : isByHand ? ", only by hand: every output that nobody sets is safe" : "";
        return $"room-supervisor {Version} started: {files.Site.Name}, {Count(files.House.Rooms.Length, "room")}, {Count(files.House.Loops.Length, "loop")}, "
            + $"{Count(files.Devices.Count, "device")}, {Count(files.Wiring.Count, "point")} wired{watch}";
    }

    private static string Count(int number, string what) => number == 1 ? $"1 {what}" : $"{number} {what}s";
}
