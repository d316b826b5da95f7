// Section 6: what one scan of a loop consists of, in its order: set point, protections, frost, exercise, pumps, mixing valve, and what follows when the controller stops. The rules themselves lie beside it, one
// purpose a file. A pump never pushes against shut valves; a mixing valve at 0 % takes nothing cold in, which is safe.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Rules of one loop.</summary>
internal static class LoopRules
{
    public static void Step(in Scan scan, int index)
    {
        ref var m = ref scan.Memory.Loops[index];
        var loop = scan.House.Loops[index];
        SetPoints.Step(scan, index, loop, ref m);
        Protect(scan, index, loop, ref m);
        Frost.Follow(scan, index, loop, ref m);
        Exercise.Step(scan, index, loop, ref m);
        Pumps.Step(scan, index, loop, ref m);
        if (loop.Mixing >= 0)
            Mix(scan, index, loop, ref m);
        Frost.Open(scan, index, loop, m);
        StandingWater.Step(scan, loop, ref m);
        SafeState.Write(scan, index, loop, m);
    }

    private static void Mix(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var mixing = Exercise.Moves(m) ? Exercise.OfMixing(scan, index, loop, m) : Mixing.Step(scan, loop, ref m);
        var isProtected = m.Stopped != Cause.None || m.Frost || m.Pump.RunsOn || !Sources.SourceWater.IsForRooms(scan, loop.Source) || AnyShut(scan, loop);
        HandValues.Over(scan, loop.Mixing, isProtected, ref mixing);
        if (!Exercise.Moves(m))
            m.MixingPercent = mixing.Value;
        scan.Outputs.Commands[loop.Mixing] = mixing;
    }

    /// <summary>A hand does not send source water into a loop that the guard holds shut.</summary>
    private static bool AnyShut(in Scan scan, Loop loop)
    {
        foreach (var circuit in loop.Circuits)
        {
            if (scan.Memory.Circuits[circuit].Level == GuardLevel.Shut)
                return true;
        }
        return false;
    }

    /// <summary>
    /// What stops a loop whatever its rooms want: the strongest row of the protective list, with its event. A limit whose contact cannot be read is told
    /// when it lasts: at every start it is so for a moment.
    /// </summary>
    private static void Protect(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        m.HighLimitRestS = scan.IsMade(loop.HighLimit) ? HighLimitQuietS : Math.Max(0, m.HighLimitRestS - scan.Dt);
        Blocks.Hold(ref m.HighLimitUnreadS, scan.IsUnread(loop.HighLimit), scan.Dt);
        var stops = Protections.OfLoop(scan, index);
        m.Stopped = stops?.Cause ?? Cause.None;
        var lasts = m.Stopped != Cause.HighLimitUnread || m.HighLimitUnreadS >= scan.Settings.DeclaredMissingAfterS;
        if (stops is { IsTold: true } && m.Stopped != m.ToldStopped && lasts)
            scan.Happened(SequenceEvents.LoopStopped, Owner.Loop, index, new Reason(m.ToldStopped = m.Stopped));
        else if (stops is not { IsTold: true } && m.ToldStopped != Cause.None)
        {
            scan.Happened(SequenceEvents.LoopFree, Owner.Loop, index, new Reason(m.ToldStopped));
            m.ToldStopped = Cause.None;
        }
    }

    /// <summary>How long a high limit must have been quiet, s.</summary>
    private const double HighLimitQuietS = 1800;

    /// <summary>Under this gauge pressure a pump would draw air, kPa.</summary>
    public const double LowestPressureKPa = 50;
}
