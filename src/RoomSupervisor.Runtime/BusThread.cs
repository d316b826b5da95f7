// A thread for one bus: polls its worker in real time and nothing else. A worker that throws is polled again later; one that hangs
// leaves its points to go stale by themselves. It must never touch the loop.
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Runtime;

/// <summary>Runs one bus worker.</summary>
public sealed class BusThread : IDisposable
{
    /// <summary>Longest sleep, s: a command put meanwhile waits no longer than this.</summary>
    private const double LongestSleepS = 0.05;

    private readonly BusWorker worker;
    private readonly RunClock clock;
    private readonly ManualResetEventSlim stop = new();
    private readonly Thread thread;
    private readonly Action<string> complain;
    private string lastError = "";

    /// <param name="worker">The bus.</param>
    /// <param name="clock">Clock of the run.</param>
    /// <param name="complain">Told once when the worker throws something new.</param>
    public BusThread(BusWorker worker, RunClock clock, Action<string> complain)
    {
        this.worker = worker;
        this.clock = clock;
        this.complain = complain;
        thread = new Thread(Run) { IsBackground = true, Name = "bus " + worker.Name };
    }

    public void Start() => thread.Start();

    public void Dispose()
    {
        stop.Set();
        if (thread.IsAlive)
            thread.Join(TimeSpan.FromSeconds(2));
    }

    private void Run()
    {
        while (!stop.IsSet && !worker.Stopped)
        {
            var pause = LongestSleepS;
            try
            {
                worker.Poll(clock.ElapsedS);
                pause = Math.Clamp(worker.NextDueS - clock.ElapsedS, 0.001, LongestSleepS);
            }
#pragma warning disable CA1031 // Whatever a driver throws, the other buses and the loop must go on.
            catch (Exception e)
#pragma warning restore CA1031
            {
                Complain($"{worker.Name}: the bus worker failed and is tried again: {e.GetType().Name}: {e.Message}");
                pause = 1;
            }
            stop.Wait(TimeSpan.FromSeconds(pause));
        }
    }

    private void Complain(string error)
    {
        if (error == lastError)
            return;
        lastError = error;
        complain(error);
    }
}
