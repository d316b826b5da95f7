// Section 7, rule 1: the call itself. Shortest run, shortest rest and starts an hour are counted by what the machine really does where that is read. Never calls a
// machine that is locked out or in fault, never starts one more often than it bears.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Calling a source or not.</summary>
internal static class SourceCall
{
    /// <summary>Time passes; what the machine does by its own contact counts more than what it was told.</summary>
    public static void Follow(in Scan scan, Source source, ref SourceMemory m)
    {
        m.InStateS += scan.Dt;
        m.Starts.Pass(scan.Dt);
        var contact = scan.Reading(source.Running);
        var runs = contact.Exists ? contact.Value > 0.5 : m.Calling;
        if (runs == m.Runs)
            return;
        m.Runs = runs;
        m.InStateS = 0;
        if (runs)
            m.Starts.Add();
    }

    /// <summary>
    /// What is called, with what binds: a fault, a lock, the machine's shortest times, or the wish. A machine that has run for a call and stopped by its own thermostat is not called on, or it would start again by itself
    /// as often as it likes: it rests like one that was called off, and its starts count.
    /// </summary>
    public static Reason Decide(in Scan scan, int index, Source source, bool wants, in Reason why, ref SourceMemory m)
    {
        TellStarts(scan, index, ref m);
        var stopped = scan.IsMade(source.Fault) ? Cause.SourceFault : scan.IsMade(source.LockedOut) ? Cause.UtilityLock : Cause.None;
        TellStopped(scan, index, stopped, ref m);
        if (stopped != Cause.None)
        {
            m.Calling = false;
            return new Reason(stopped);
        }
        m.HasRun = m.Calling && (m.HasRun || m.Runs);
        if (wants && HasStoppedItself(m) && MayNotStart(scan, m) is { Cause: not Cause.None } rests)
        {
            m.Calling = false;
            return rests;
        }
        if (wants == m.Calling)
            return why;
        var held = wants ? MayNotStart(scan, m) : why.Cause == Cause.FrostStops ? default : MayNotStop(scan, m);
        if (held.Cause != Cause.None)
            return held;
        m.Calling = wants;
        return why;
    }

    /// <summary>True when it has run for the call that stands and stopped by its own thermostat.</summary>
    public static bool HasStoppedItself(in SourceMemory m) => m is { Calling: true, HasRun: true, Runs: false };

    /// <summary>Why it may not be started yet, with the time left; none: it may. A machine that runs already, after-running or by its own control, is not started by a call.</summary>
    public static Reason MayNotStart(in Scan scan, in SourceMemory m)
    {
        if (m.Runs)
            return default;
        var rest = scan.Settings.SourceMinimumOffS - m.InStateS;
        if (rest > 0)
            return Reason.Of(Cause.MinimumOff, rest);
        var next = m.Starts.UntilFewerThan(scan.Settings.SourceStarts);
        return next > 0 ? Reason.Of(Cause.StartsInHour, m.Starts.Count, next) : default;
    }

    private static Reason MayNotStop(in Scan scan, in SourceMemory m)
    {
        var left = scan.Settings.SourceMinimumRunS - m.InStateS;
        return m.Runs && left > 0 ? Reason.Of(Cause.MinimumRun, left) : default;
    }

    /// <summary>A fault is an alarm; a lock is the utility's right and only noted.</summary>
    private static void TellStopped(in Scan scan, int index, Cause stopped, ref SourceMemory m)
    {
        if (stopped == m.ToldStopped)
            return;
        var what = stopped == Cause.SourceFault ? SequenceEvents.SourceFault : stopped == Cause.UtilityLock ? SequenceEvents.SourceLocked : SequenceEvents.SourceFree;
        scan.Happened(what, Owner.Source, index, new Reason(stopped == Cause.None ? m.ToldStopped : stopped));
        m.ToldStopped = stopped;
    }

    /// <summary>More starts than this sequence would ever ask for are the machine's own: it is called and switches itself on and off.</summary>
    private static void TellStarts(in Scan scan, int index, ref SourceMemory m)
    {
        var often = m.Starts.Count > scan.Settings.SourceStarts;
        if (often && !m.ToldStarts)
            scan.Happened(SequenceEvents.SourceStartsOften, Owner.Source, index, Reason.Of(Cause.None, m.Starts.Count));
        m.ToldStarts = often;
    }
}
