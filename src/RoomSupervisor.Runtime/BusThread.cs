// A thread for one bus: polls its worker in real time and nothing else. A worker that throws is polled again later and told of; one that
// hangs leaves its points to go stale by themselves. It must never touch the loop.
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Runtime;

/// <summary>Runs one bus worker.</summary>
public sealed class BusThread : IDisposable
{
    /// <summary>Longest sleep, s: a command put meanwhile waits no longer than this.</summary>
    private const double LongestSleepS = 0.05;

    /// <summary>Pause after a worker has thrown, s.</summary>
    private const double PauseAfterErrorS = 1;

    private readonly BusWorker worker;
    private readonly RunClock clock;
    private readonly Action<string> tell;
    private readonly ManualResetEventSlim stop = new();
    private readonly Thread thread;
    private double pollingSinceS = double.NaN;
    private string lastError = "";

    /// <param name="worker">The bus.</param>
    /// <param name="clock">Real time.</param>
    /// <param name="tell">Told what the worker threw, once for each new message.</param>
    public BusThread(BusWorker worker, RunClock clock, Action<string> tell)
    {
        this.worker = worker;
        this.clock = clock;
        this.tell = tell;
        thread = new Thread(Run) { IsBackground = true, Name = "bus " + worker.Name };
    }

    public BusWorker Worker => worker;

    public void Start() => thread.Start();

    /// <summary>How long the poll under way has lasted, s; 0 when none is. Any thread.</summary>
    public double BusyS(double nowS)
    {
        var since = Volatile.Read(ref pollingSinceS);
        return double.IsNaN(since) ? 0 : nowS - since;
    }

    /// <summary>Asks the thread to end; returns at once.</summary>
    public void AskToStop() => stop.Set();

    /// <summary>Waits a moment for the thread to end; one that hangs is left behind, it ends with the process.</summary>
    public void Dispose()
    {
        AskToStop();
        if (!thread.IsAlive || thread.Join(TimeSpan.FromSeconds(1)))
            stop.Dispose();
    }

    private void Run()
    {
        while (!stop.IsSet && !worker.Stopped)
            stop.Wait(TimeSpan.FromSeconds(Poll()));
    }

    /// <summary>One poll; gives the pause until the next, s. Only for the thread, or where it was never started.</summary>
    internal double Poll()
    {
        try
        {
            var now = clock.ElapsedS;
            Volatile.Write(ref pollingSinceS, now);
            worker.Poll(now);
            return Math.Clamp(worker.NextDueS - clock.ElapsedS, 0.001, LongestSleepS);
        }
#pragma warning disable CA1031 // Whatever a driver throws, the other buses and the loop must go on.
        catch (Exception e)
#pragma warning restore CA1031
        {
            Tell($"{worker.Name}: driver error, tried again: {e.GetType().Name}: {e.Message}");
            return PauseAfterErrorS;
        }
        finally
        {
            Volatile.Write(ref pollingSinceS, double.NaN);
        }
    }

    private void Tell(string error)
    {
        if (error != lastError)
            tell(error);
        lastError = error;
    }
}
