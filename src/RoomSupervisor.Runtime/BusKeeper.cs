// Looks after buses that hang: a worker whose poll lasts much longer than its devices say it may is replaced a few times, then given up.
// Works on a thread of its own, so that building a worker never costs the loop anything. It must never wait for a bus.
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Runtime;

/// <summary>Replaces workers that hang. <see cref="HealthWatch"/> tells of it.</summary>
/// <param name="buses">All buses of the run.</param>
/// <param name="replace">Makes the worker that takes the place of another; its points are missing from then on (<see cref="HardwarePlan.Replace"/>).</param>
/// <param name="clock">Real time.</param>
public sealed class BusKeeper(IReadOnlyList<BusThread> buses, Func<BusWorker, double, BusWorker> replace, RunClock clock) : IDisposable
{
    /// <summary>A poll that lasts this much longer than its devices say it may is not waited for any more, s: two scans after it was told.</summary>
    public const double PatienceS = HealthWatch.PatienceS + 2;

    /// <summary>How often a bus is begun anew before it is given up.</summary>
    public const int MostReplacements = 3;

    /// <summary>A bus that has been sound for this long after a replacement may be replaced as often again, s.</summary>
    public const double SoundS = 3600;

    private const double LookEveryS = 0.5;
    private readonly double[] lastReplacedS = new double[buses.Count];
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private Thread? thread;

    /// <summary>Starts the thread.</summary>
    public void Start()
    {
        thread = new Thread(Run) { IsBackground = true, Name = "bus keeper" };
        thread.Start();
    }

    /// <summary>Ends looking: from now on nothing is replaced. Waits for a replacement under way, which never waits for a bus.</summary>
    public void Stop()
    {
        stop.Set();
        thread?.Join();
    }

    /// <summary>One look at every bus. For one thread.</summary>
    public void Look(double nowS)
    {
        for (var i = 0; i < buses.Count; i++)
            Look(i, nowS);
    }

    public void Dispose()
    {
        Stop();
        stop.Dispose();
    }

    private void Look(int index, double nowS)
    {
        var bus = buses[index];
        var worker = bus.Worker;
        if (bus.BusyS(nowS) <= worker.LongestPollS + PatienceS)
        {
            bus.IsGivenUp = false;
            if (bus.Replacements > 0 && nowS - lastReplacedS[index] > SoundS)
                bus.Replacements = 0;
            return;
        }
        if (worker.Stopped || bus.IsGivenUp)
            return;
        if (bus.Replacements >= MostReplacements)
        {
            worker.Lose(nowS, forGood: false);
            bus.IsGivenUp = true;
            return;
        }
        bus.Replace(replace(worker, nowS));
        bus.Replacements++;
        lastReplacedS[index] = nowS;
    }

    private void Run()
    {
        while (!stop.Wait(TimeSpan.FromSeconds(LookEveryS)))
            Look(clock.ElapsedS);
    }
}
