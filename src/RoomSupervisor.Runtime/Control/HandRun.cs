// A run in the foreground for somebody who tries outputs by hand while the service is stopped: every room switched off, every other output safe, guard and
// protections at work, a control socket of its own, so that the same verbs speak to it. It ends with what it is for, and must never take up or keep the service's memory.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Runs a site for a hand.</summary>
public static class HandRun
{
    /// <summary>Starts the loop, does the work with a connection to it, stops with safe values.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="state">Its state directory, or null.</param>
    /// <param name="complaints">Where to say what keeps it from starting.</param>
    /// <param name="work">The work; its exit code is the run's.</param>
    /// <returns>The work's code; 1 when an output could not be made safe; 2 could not start.</returns>
    public static int Run(string directory, string? state, TextWriter complaints, Func<ControlClient, CancellationToken, int> work)
    {
        var folder = StateFolder.Of(directory, state);
        var start = SiteStart.Read(directory, StartVerb.Run, Drivers.All, TimeProvider.System, folder);
        if (start.Files is not { Wiring.Count: > 0 } found)
        {
            foreach (var problem in start.Problems)
                complaints.WriteLine(problem);
            complaints.WriteLine(start.Files is null ? "nothing was started: mend the errors first (room-supervisor check)" : "nothing is wired in site.yaml, so there is nothing to set");
            return 2;
        }
        if (!InstanceLock.TryTake(directory, out var instance, out var why))
        {
            complaints.WriteLine(InstanceLock.IsAnotherRun(why) ? Elsewhere(directory) : why);
            return 2;
        }
        using (instance)
        using (var own = new OwnFolder())
        {
            var files = found with { House = OnlyByHand.SwitchedOff(found.House) };
            var logs = ServiceFolders.Logs(directory);
            if (!Wiring.TryBuild(files, logs, false, TimeProvider.System, complaints, out var wiring, out var problems, isByHand: true))
            {
                foreach (var problem in problems)
                    complaints.WriteLine(problem);
                return 2;
            }
            // In the state folder where it may be written, so that a second terminal finds it; else somewhere of its own.
            var path = ControlPlace.Of(folder);
            wiring!.Listen(directory, path, TimeProvider.System, out why);
            if (why.Length > 0)
                wiring.Listen(directory, path = own.SocketPath, TimeProvider.System, out why);
            if (why.Length > 0)
            {
                complaints.WriteLine(why);
                wiring.Dispose();
                return 2;
            }
            return SiteRun.Run(files, wiring, false, stop => Work(directory, path, complaints, work, stop));
        }
    }

    /// <summary>Somebody runs the site, and its socket was not found.</summary>
    public static string Elsewhere(string directory)
        => $"another run controls {directory}, but its control socket was not found: if it is starting just now, ask again; else name it with --socket, or its state directory with --state (a service's is usually under /var/lib, its socket under /run)";

    private static int Work(string directory, string path, TextWriter complaints, Func<ControlClient, CancellationToken, int> work, CancellationToken stop)
    {
        if (ControlClient.Find(directory, path, null, out var client, out var why) != ControlFound.Connected)
        {
            complaints.WriteLine(why);
            return 2;
        }
        using (client)
            return work(client!, stop);
    }

    /// <summary>A folder for a socket where the state folder may not be written.</summary>
    private sealed class OwnFolder : IDisposable
    {
        private DirectoryInfo? made;

        public string SocketPath => Path.Combine((made ??= Directory.CreateTempSubdirectory("room-supervisor-")).FullName, "control.sock");

        public void Dispose() => made?.Delete(true);
    }
}
