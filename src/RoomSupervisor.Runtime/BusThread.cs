// A thread for one bus: polls its worker in real time and nothing else. A worker that throws is polled again later and told of; one that
// hangs is left behind with its thread when another takes its place. It must never touch the loop.
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Runtime;

/// <summary>Runs one bus: its worker, or the one that took the place of a worker that hung.</summary>
public sealed class BusThread : IDisposable
{
    /// <summary>Longest sleep, s: a command put meanwhile waits no longer than this.</summary>
    private const double LongestSleepS = 0.05;

    /// <summary>Pause after a worker has thrown, s.</summary>
    private const double PauseAfterErrorS = 1;

    private readonly RunClock clock;
    private readonly Action<string> tell;
    // Never spins before it sleeps: twenty short waits a second of each bus were half of what the whole program took.
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private volatile Turn turn;
    private volatile int replacements;
    private volatile bool givenUp;
    private string lastError = "";

    /// <param name="worker">The bus.</param>
    /// <param name="clock">Real time.</param>
    /// <param name="tell">Told what the worker threw, once for each new message.</param>
    public BusThread(BusWorker worker, RunClock clock, Action<string> tell)
    {
        (this.clock, this.tell) = (clock, tell);
        turn = new Turn(this, worker);
    }

    /// <summary>The worker now. Any thread.</summary>
    public BusWorker Worker => turn.Worker;

    /// <summary>How often a worker that hung was replaced since the bus was last sound for long. Any thread.</summary>
    public int Replacements
    {
        get => replacements;
        internal set => replacements = value;
    }

    /// <summary>True while it hangs and is replaced no more. Any thread.</summary>
    public bool IsGivenUp
    {
        get => givenUp;
        internal set => givenUp = value;
    }

    public void Start() => turn.Thread.Start();

    /// <summary>How long the poll under way has lasted, s; 0 when none is. Any thread.</summary>
    public double BusyS(double nowS) => turn.BusyS(nowS);

    /// <summary>How the bus is doing. Any thread.</summary>
    public BusHealth Health(double nowS) => new(Worker.Name, BusyS(nowS), replacements, givenUp);

    /// <summary>Leaves the worker that hangs behind with its thread, and goes on with another on a thread of its own.</summary>
    public void Replace(BusWorker fresh)
    {
        var next = new Turn(this, fresh);
        turn = next;
        if (!stop.IsSet)
            next.Thread.Start();
    }

    /// <summary>Asks the thread to end; returns at once.</summary>
    public void AskToStop() => stop.Set();

    /// <summary>Waits a moment for the thread to end; one that hangs is left behind, it ends with the process.</summary>
    public void Dispose()
    {
        AskToStop();
        // One that was left behind may still look at the event when its request ends: then it is not disposed of.
        if (replacements == 0 && (!turn.Thread.IsAlive || turn.Thread.Join(TimeSpan.FromSeconds(1))))
            stop.Dispose();
    }

    /// <summary>One poll of the worker now; gives the pause until the next, s. Only for the thread, or where it was never started.</summary>
    internal double Poll() => turn.Poll();

    private void Tell(string error)
    {
        if (error != lastError)
            tell(error);
        lastError = error;
    }

    /// <summary>One worker on one thread.</summary>
    private sealed class Turn
    {
        private readonly BusThread owner;
        private double pollingSinceS = double.NaN;

        public Turn(BusThread owner, BusWorker worker)
        {
            (this.owner, Worker) = (owner, worker);
            Thread = new Thread(Run) { IsBackground = true, Name = "bus " + worker.Name };
        }

        public BusWorker Worker { get; }

        public Thread Thread { get; }

        public double BusyS(double nowS)
        {
            var since = Volatile.Read(ref pollingSinceS);
            return double.IsNaN(since) ? 0 : Math.Max(0, nowS - since);
        }

        private void Run()
        {
            while (!owner.stop.IsSet && !Worker.Stopped)
                owner.stop.Wait(TimeSpan.FromSeconds(Poll()));
            if (Worker.IsReplaced)
                Worker.Dispose();
        }

        /// <summary>One poll; gives the pause until the next, s.</summary>
        public double Poll()
        {
            try
            {
                var now = owner.clock.ElapsedS;
                Volatile.Write(ref pollingSinceS, now);
                Worker.Poll(now);
                return Math.Clamp(Worker.NextDueS - owner.clock.ElapsedS, 0.001, LongestSleepS);
            }
#pragma warning disable CA1031 // Whatever a driver throws, the other buses and the loop must go on.
            catch (Exception e)
#pragma warning restore CA1031
            {
                if (!Worker.IsReplaced)
                    owner.Tell($"{Worker.Name}: driver error, tried again: {e.GetType().Name}: {e.Message}");
                return PauseAfterErrorS;
            }
            finally
            {
                Volatile.Write(ref pollingSinceS, double.NaN);
            }
        }
    }
}
