// A run as a service: what starts before came to, the pause that follows from it, the run, and what it came to. Without a service manager it is a plain run:
// who starts it by hand wants no pauses. Nothing of the hardware is opened during a pause: the safe values were written after the end before.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Runs a site under a service manager.</summary>
/// <param name="notes">The manager.</param>
/// <param name="book">The record of starts.</param>
/// <param name="say">Where words before and between runs go.</param>
public sealed class BoardRun(ServiceNotes notes, StartBook book, TextWriter say)
{
    /// <summary>Between two signs of life in a pause, s.</summary>
    private const double SignEveryS = 5;

    private readonly Lock gate = new();
    private StartRecord taken;

    /// <summary>Waits; false when told to stop meanwhile. Tests give virtual time.</summary>
    public Func<double, bool>? Wait { get; init; }

    /// <summary>How long the board has been up, s.</summary>
    public Func<double> UptimeS { get; init; } = () => Environment.TickCount64 / 1000.0;

    /// <summary>Told at once that it stays safe, for no run will tell anybody for an hour; what it gives back is kept until the pause is over. Null: nobody is told.</summary>
    public Func<string, IDisposable?>? StaysSafe { get; init; }

    /// <summary>Runs a site as <see cref="SiteRun"/> does, with pauses and signs of life when a service manager waits for them.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="isObserving">Nothing is written.</param>
    /// <param name="complaints">Where to say what is wrong.</param>
    /// <param name="extras">What the run does beside.</param>
    public static int Run(string directory, bool isObserving, TextWriter complaints, RunExtras extras)
    {
        HugePages.Refuse();
        using var notes = ServiceNotes.Of(Environment.GetEnvironmentVariable, Environment.ProcessId);
        if (notes is null)
            return SiteRun.Run(directory, isObserving, complaints, extras);
        var book = new StartBook(StateFolder.Of(directory), ServiceFolders.Runtime);
        return new BoardRun(notes, book, complaints) { StaysSafe = words => Tell(directory, extras.Notify, words, complaints) }.Run(watch => SiteRun.Run(directory, isObserving, complaints, extras, watch));
    }

    /// <summary>One start: pause, run, record.</summary>
    /// <param name="run">The run; takes its watch, gives its exit code.</param>
    public int Run(Func<ServiceWatch, int> run)
    {
        var found = StartLadder.Found(book.Load());
        var step = StartLadder.Of(found, UptimeS());
        Keep(StartLadder.Taking(found, step.Kind));
        if (step.Kind == StartKind.Reboot)
        {
            if (!Ask(step))
                return 0;   // the board goes down: the record stays, the next start is the first after it
            // Nobody granted it: safe for an hour, as after one that did not help.
            found = found with { RebootAsked = true };
            step = StartLadder.Of(found, 0);
            Keep(StartLadder.Taking(found, step.Kind));
        }
        taken = StartLadder.Taking(found, step.Kind);
        if (!Pause(step))
        {
            Keep(StartLadder.Ended(taken, 0));
            return 0;
        }
        if (step.Kind != StartKind.Usual && book.SetMemoryAside() is { Length: > 0 } why)
            say.WriteLine("run: the memory could not be set aside: " + why);
        using var watch = new ServiceWatch(notes, Sound, step.Words)
        {
            AtStart = step.Kind == StartKind.StaySafe ? [new Happening(BoardEvents.StayedSafe.Id, Owner.Site, 0, Reason.Of(Cause.None, step.PauseS, found.BadEnds))] : [],
        };
        var code = run(watch);
        watch.End();
        lock (gate)
            Keep(StartLadder.Ended(taken, code));
        return code;
    }

    /// <summary>Runs the owner's command, where there is one: nothing controls the house now.</summary>
    private static Notifier? Tell(string directory, string? notify, string words, TextWriter complaints)
    {
        var site = SiteStart.Read(directory, StartVerb.Run, Drivers.All, TimeProvider.System, StateFolder.Of(directory)).Files?.Site;
        if ((notify ?? site?.Notify) is not { Length: > 0 } command)
            return null;
        var notifier = new Notifier(command, site?.Name ?? directory, (_, line) => complaints.WriteLine("run: " + line));
        notifier.Tell(new Notice(TimeProvider.System.GetUtcNow().UtcDateTime, Priority.Urgent, "controller", words, "Nothing controls the house for an hour; please call the service now."));
        return notifier;
    }

    /// <summary>The run has been sound: what was before is forgotten.</summary>
    private void Sound()
    {
        lock (gate)
        {
            taken = StartLadder.Sound();
            Keep(taken);
        }
    }

    /// <summary>Asks for a reboot and waits for it; false when told to stop, as a reboot does.</summary>
    private bool Ask(StartStep step)
    {
        if (!book.Wish(out var why))
            say.WriteLine("run: no reboot can be asked for: " + why);
        return Pause(step);
    }

    /// <summary>Waits with signs of life; false when told to stop meanwhile.</summary>
    private bool Pause(StartStep step)
    {
        if (step.PauseS <= 0)
            return true;
        say.WriteLine("run: " + step.Words);
        notes.Ready(step.Words);
        using var told = step.Kind == StartKind.StaySafe ? StaysSafe?.Invoke(step.Words) : null;
        using var signals = Wait is null ? new StopSignals() : null;
        for (var leftS = step.PauseS; leftS > 0; leftS -= SignEveryS)
        {
            var waitS = Math.Min(leftS, SignEveryS);
            if (!(Wait?.Invoke(waitS) ?? !signals!.Token.WaitHandle.WaitOne(TimeSpan.FromSeconds(waitS))))
            {
                notes.Stopping();
                return false;
            }
            notes.Feed();
        }
        return true;
    }

    private void Keep(StartRecord record)
    {
        if (book.Save(record) is { Length: > 0 } trouble)
            say.WriteLine("run: what starts came to could not be kept: " + trouble);
    }
}
