// Beside a run under a service manager: says ready after the first scan, feeds the watchdog while the loop is fresh, tells how many devices answer, and notes when
// the run has been sound. A thread of its own that only looks. It must never feed for any other reason than scans, nor hold up the loop.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Watches one run for the service manager.</summary>
/// <param name="notes">Where it is told.</param>
/// <param name="sound">Called once when the run has been sound for <see cref="StartLadder.SoundAfterS"/>.</param>
/// <param name="words">What the log should say of the starts before; empty: nothing.</param>
public sealed class ServiceWatch(ServiceNotes notes, Action sound, string words) : IDisposable
{
    /// <summary>No scan for so long is told, s: the longest allowed scan period and a look.</summary>
    private const double StillS = 15;

    private readonly FreshRule rule = new();
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private Thread? thread;
    private bool isReady, isSound, isStill, hasEnded;
    private string lastStatus = "";

    /// <summary>What the run is to tell of the starts before as an event.</summary>
    public IReadOnlyList<Happening> AtStart { get; init; } = [];

    /// <summary>Begins to watch.</summary>
    public void Begin(Wiring wiring)
    {
        foreach (var happening in AtStart)
            wiring.TellAtStart(happening);
        if (words.Length > 0)
            wiring.Log.Say(wiring.Clock.Utc, wiring.Clock.ElapsedS, Priority.Alarm, words);
        thread = new Thread(() => Run(wiring)) { IsBackground = true, Name = "service watch" };
        thread.Start();
    }

    /// <summary>The run ends on purpose or by an error: from now on nothing is fed.</summary>
    public void End()
    {
        if (hasEnded)
            return;
        hasEnded = true;
        stop.Set();
        notes.Stopping();
    }

    /// <summary>One look. For one thread.</summary>
    /// <param name="scans">Scans taken.</param>
    /// <param name="nowS">Monotonic seconds of the run.</param>
    /// <param name="status">What goes on.</param>
    public void Look(long scans, double nowS, string status)
    {
        if (rule.Look(scans, nowS))
        {
            if (!isReady)
                notes.Ready(status);
            isReady = true;
            notes.Feed();
            if (!isSound && nowS >= StartLadder.SoundAfterS)
            {
                isSound = true;
                sound();
            }
        }
        var still = rule.StillS(nowS) > StillS;
        Say(still ? "the loop stands still: not fed, the service manager will end it" : status, still);
    }

    public void Dispose()
    {
        End();
        if (thread is null || thread.Join(TimeSpan.FromSeconds(1)))
            stop.Dispose();
    }

    private void Say(string status, bool still)
    {
        if (isReady && (status != lastStatus || still != isStill))
            notes.Status(status);
        (lastStatus, isStill) = (status, still);
    }

    private void Run(Wiring wiring)
    {
        var everyS = FreshRule.EveryS(notes.WatchdogS);
        while (!stop.Wait(TimeSpan.FromSeconds(isReady ? everyS : 0.02)))
            Look(wiring.Loop.Scans, wiring.Clock.ElapsedS, StatusOf(wiring));
    }

    private static string StatusOf(Wiring wiring)
    {
        var devices = wiring.Buses.SelectMany(bus => bus.Worker.Devices).ToList();
        var silent = devices.Where(device => device.Health.State == DeviceState.NotAnswering).Select(device => device.Name).ToList();
        return silent.Count == 0 ? $"{wiring.Control.Files.Site.Name}: controls" : $"{wiring.Control.Files.Site.Name}: controls; {silent.Count} of {devices.Count} devices do not answer: {string.Join(", ", silent)}";
    }
}
