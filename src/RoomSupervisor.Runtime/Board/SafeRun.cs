// Safe values without a run: another process writes them when the one that controlled could not, because it was killed, hung or ran out of memory. It must
// never write beside a living controller.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Writes every output its safe value.</summary>
public static class SafeRun
{
    /// <summary>True when a service manager says that the service before this process ended by itself and as told: then it has written them.</summary>
    /// <param name="environment">Value of a variable, or null (systemd.exec(5): SERVICE_RESULT, EXIT_CODE, EXIT_STATUS).</param>
    public static bool IsDone(Func<string, string?> environment) => environment("SERVICE_RESULT") == "success" && environment("EXIT_CODE") == "exited" && environment("EXIT_STATUS") == "0";

    /// <summary>
    /// How long an output that does not answer is tried again, and the pause between, s (project choices): a module that starts again after the power cut that ended the run is back in seconds, and the next run
    /// waits for this end. The service manager gives it forty seconds (the unit's TimeoutStopSec).
    /// </summary>
    private const int TriesForS = 8, PauseS = 2;

    /// <summary>Writes them; the site is read as a run reads it, with last good where a file is broken. What does not answer is tried again for some seconds.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="complaints">Where to say what is wrong.</param>
    /// <returns>0 written; 1 an output could not be written; 2 nothing could be tried.</returns>
    public static int Run(string directory, TextWriter complaints)
    {
        var start = SiteStart.Read(directory, StartVerb.Run, Drivers.All, TimeProvider.System, StateFolder.Of(directory));
        if (start.Files is not { } files)
        {
            foreach (var problem in start.Problems)
                complaints.WriteLine(problem);
            return 2;
        }
        if (!InstanceLock.TryTake(directory, out var instance, out var why))
        {
            complaints.WriteLine("safe: " + why);
            return 2;
        }
        using (instance)
        {
            var began = TimeProvider.System.GetTimestamp();
            while (true)
            {
                var result = Once(files, directory, complaints);
                if (result != 1 || TimeProvider.System.GetElapsedTime(began).TotalSeconds > TriesForS)
                    return result;
                Thread.Sleep(TimeSpan.FromSeconds(PauseS));
            }
        }
    }

    private static int Once(SiteFiles files, string directory, TextWriter complaints)
    {
        if (!Wiring.TryBuild(files, ServiceFolders.Logs(directory), isObserving: false, TimeProvider.System, complaints, out var wiring, out var problems))
        {
            foreach (var problem in problems)
                complaints.WriteLine(problem);
            return 2;
        }
        using (wiring)
            return wiring!.WriteSafe() ? 0 : 1;
    }
}
