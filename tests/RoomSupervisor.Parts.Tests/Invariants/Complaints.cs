// What the watchers found wrong in one life: the first complaint of each invariant, and what was reached. Never judges.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>What must always hold.</summary>
internal enum Invariant : byte
{
    SurfaceUnderDewPoint, SurfaceBlind, WorstCase, WetSwitch, SetPointSafe, SetPointFalls, FanOverCap, FanUnderStart, FanSlew, FanAfterValve, TrayFull, HeatsAndCools, LeftAlone, GoesOnPastOther, SharedCoilAgainstRoom, WarmsThroughInHeating, Dwell, OutputLimits, ReadingPossible, ContactPossible, PumpAgainstShut, MixingRests, SourceTimes,
    SourceStarts, SourceDirection, ChangeOverStill, LoopBothWays, OppositeRest, HotSlug, WaitsTooLong, Latched, Allocates,
}

internal sealed class Complaints
{
    private readonly Dictionary<Invariant, (double AtS, string Text)> first = [];

    public IReadOnlyDictionary<Invariant, (double AtS, string Text)> First => first;

    public long Scans { get; set; }

    public int[] Entered { get; } = new int[16];

    public int[] Left { get; } = new int[16];

    public int[] Guards { get; } = new int[4];

    public int[] Moistures { get; } = new int[4];

    public int[] Causes { get; } = new int[256];

    /// <summary>Why stages, levels and moisture changed.</summary>
    public int[] Reasons { get; } = new int[256];

    public int[] Events { get; } = new int[1000];

    public void Add(Invariant what, double s, string text) => first.TryAdd(what, (s, text));

    public void Count(in Happening happening)
    {
        Events[happening.EventId]++;
        Reasons[(int)happening.Reason.Cause]++;
        if (happening.EventId == RoomSupervisor.Sequence.SequenceEvents.StageChanged.Id)
        {
            Left[happening.From]++;
            Entered[happening.To]++;
        }
        else if (happening.EventId == RoomSupervisor.Sequence.SequenceEvents.GuardChanged.Id)
            Guards[happening.To]++;
        else if (happening.EventId == RoomSupervisor.Sequence.SequenceEvents.MoistureChanged.Id)
            Moistures[happening.To]++;
    }

    /// <summary>Adds what another life reached.</summary>
    public void Reach(Complaints other)
    {
        Scans += other.Scans;
        Sum(Entered, other.Entered);
        Sum(Left, other.Left);
        Sum(Guards, other.Guards);
        Sum(Moistures, other.Moistures);
        Sum(Causes, other.Causes);
        Sum(Events, other.Events);
        Sum(Reasons, other.Reasons);
        static void Sum(int[] into, int[] from)
        {
            for (var i = 0; i < into.Length; i++)
                into[i] += from[i];
        }
    }
}
