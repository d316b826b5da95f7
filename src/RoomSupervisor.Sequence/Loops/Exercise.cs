// Section 6, rule 4: what has not moved for a week is moved for a moment, so that it will when it is needed. Valves go to and fro with the pump still; then, where the pump has stood as long, it runs for half a minute
// with the mixing valve at full recirculation: only what stands in the pipes moves. Never while anybody uses the loop, never against the guard, a protection, frost or a hand, never two loops at once.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Exercise of pumps and valves.</summary>
internal static class Exercise
{
    /// <summary>An exercise that was broken off is tried again this much later, s (project choice).</summary>
    private const double AgainAfterS = 3600;

    /// <summary>True while one is under way.</summary>
    public static bool Moves(in LoopMemory m) => m.Exercise.ForS > 0;

    /// <summary>What is known of it after a restart: how long everything has stood.</summary>
    public static ExerciseMemory Resumed(in ExerciseMemory before, double gapS)
        => new() { PumpIdleS = before.PumpIdleS + gapS, StandbyIdleS = before.StandbyIdleS + gapS, MixingIdleS = before.MixingIdleS + gapS };

    /// <summary>Counts what stands, begins, goes on, breaks off and ends; opens the valves that take part.</summary>
    public static void Step(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var longest = Count(scan, index, loop, ref m);
        ref var e = ref m.Exercise;
        e.RestS = Math.Max(0, e.RestS - scan.Dt);
        if (e.ForS <= 0 && longest < scan.Settings.ExerciseAfterS)
            return;   // nothing has stood for so long, as on all days but one a week: no more to look at
        if (!MayMove(scan, index, loop, m))
        {
            e.RestS = e.ForS > 0 ? AgainAfterS : e.RestS;
            e.ForS = 0;
            return;
        }
        if (e.ForS <= 0 && !IsDue(scan, index, loop, ref e))
            return;
        e.ForS += Math.Max(scan.Dt, 1e-3);
        if (e.ForS < EndS(scan, index, loop, e))
            Open(scan, index, loop, e);
        else
            End(scan, index, loop, ref m);
    }

    /// <summary>The mixing valve meanwhile: to and fro before the pump runs, then at full recirculation.</summary>
    public static Command OfMixing(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        var opens = m.Exercise.WithMixing && m.Exercise.ForS < OpenS(scan, index, loop, m.Exercise);
        return new Command(opens ? 100 : 0, Reason.Of(Cause.Exercise, LeftS(scan, index, loop, m)), default, 0);
    }

    /// <summary>The pump meanwhile; without a reason: no exercise.</summary>
    public static Command OfPump(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        if (!Moves(m))
            return default;
        var runs = m.Exercise.WithPump && m.Exercise.ForS >= StillS(scan, index, loop, m.Exercise);
        return new Command(runs ? 1 : 0, Reason.Of(Cause.Exercise, LeftS(scan, index, loop, m)), default, 0);
    }

    /// <summary>Whether the standby pump is the one that is exercised now; null: no exercise.</summary>
    public static bool? OnStandby(in Scan scan, int index, Loop loop, in LoopMemory m)
        => Moves(m) && m.Exercise.WithPump ? LeftS(scan, index, loop, m) <= scan.Settings.ExerciseForS : null;

    private static double LeftS(in Scan scan, int index, Loop loop, in LoopMemory m) => EndS(scan, index, loop, m.Exercise) - m.Exercise.ForS;

    /// <summary>How long each of them has stood; the longest, s.</summary>
    private static double Count(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        ref var e = ref m.Exercise;
        Blocks.Hold(ref e.PumpIdleS, !m.PumpOn || m.Pump.OnStandby, scan.Dt);
        Blocks.Hold(ref e.StandbyIdleS, loop.StandbyPump >= 0 && !(m.PumpOn && m.Pump.OnStandby), scan.Dt);
        Blocks.Hold(ref e.MixingIdleS, loop.Mixing >= 0 && m.MixingPercent <= 0, scan.Dt);
        var longest = Math.Max(e.PumpIdleS, Math.Max(e.StandbyIdleS, e.MixingIdleS));
        foreach (var i in loop.Circuits)
        {
            ref var c = ref scan.Memory.Circuits[i];
            Blocks.Hold(ref c.Kept.IdleS, c.ValvePercent <= 0, scan.Dt);
            longest = Math.Max(longest, c.Kept.IdleS);
        }
        foreach (var i in loop.Coils)
        {
            ref var idleS = ref IdleOf(scan, index, i);
            Blocks.Hold(ref idleS, !LoopWater.Uses(scan, i, index), scan.Dt);
            longest = Math.Max(longest, idleS);
        }
        return longest;
    }

    private static ref double IdleOf(in Scan scan, int loop, int coil)
    {
        ref var m = ref scan.Memory.Coils[coil];
        return ref scan.House.Coils[coil].Loop == loop ? ref m.ValveIdleS : ref m.HeatingValveIdleS;
    }

    /// <summary>True while nobody uses the loop and nothing speaks against moving it.</summary>
    private static bool MayMove(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        var isMine = Moves(m);
        if (m.Stopped != Cause.None || m.Frost || (m.PumpOn && !isMine) || !Sources.SourceWater.IsForRooms(scan, loop.Source) || IsByHand(scan, loop.Pump) || IsByHand(scan, loop.Mixing))
            return false;
        // What a direct loop holds is the source's water: not while that is made warm or cold.
        if (loop.Type == LoopType.Direct && scan.Memory.Sources[loop.Source].Runs)
            return false;
        for (var i = 0; i < scan.Memory.Loops.Length; i++)
        {
            if (i != index && Moves(scan.Memory.Loops[i]))
                return false;
        }
        return !IsUsed(scan, index, loop);
    }

    /// <summary>A valve is open for its room, or one that takes part may not be.</summary>
    private static bool IsUsed(in Scan scan, int index, Loop loop)
    {
        foreach (var i in loop.Circuits)
        {
            ref readonly var c = ref scan.Memory.Circuits[i];
            if (c.ValvePercent > 0 || c.WarmThrough || (c.Level == GuardLevel.Shut && scan.Memory.Loops[index].Exercise.ForS > 0 && c.Kept.IsExercised))
                return true;
        }
        foreach (var i in loop.Coils)
        {
            if (LoopWater.Uses(scan, i, index) || scan.Memory.Coils[i].FanPercent > 0)
                return true;
        }
        return false;
    }

    private static bool IsByHand(in Scan scan, int output) => output >= 0 && scan.Memory.Hands[output].Active;

    /// <summary>Something has stood for long, and there is a way for the water where the pump is to run.</summary>
    private static bool IsDue(in Scan scan, int index, Loop loop, ref ExerciseMemory e)
    {
        var after = scan.Settings.ExerciseAfterS;
        if (e.RestS > 0)
            return false;
        e.LongestS = Math.Max(e.PumpIdleS, Math.Max(e.StandbyIdleS, e.MixingIdleS));
        e.WithPump = e.PumpIdleS >= after || e.StandbyIdleS >= after;
        e.WithMixing = e.MixingIdleS >= after && scan.Reading(loop.Supply).Exists;
        var takePart = false;
        foreach (var i in loop.Circuits)
        {
            ref var kept = ref scan.Memory.Circuits[i].Kept;
            kept.IsExercised = MayOpen(scan, i) && (e.WithPump || kept.IdleS >= after);
            takePart |= kept.IsExercised;
            e.LongestS = Math.Max(e.LongestS, kept.IsExercised ? kept.IdleS : 0);
        }
        foreach (var i in loop.Coils)
        {
            var takes = TakesPart(scan, index, i, e);
            takePart |= takes;
            e.LongestS = Math.Max(e.LongestS, takes ? IdleOf(scan, index, i) : 0);
        }
        return takePart;
    }

    private static bool MayOpen(in Scan scan, int circuit)
        => scan.Memory.Circuits[circuit].Level != GuardLevel.Shut && scan.Memory.Rooms[scan.House.Circuits[circuit].Room].Stage != Stage.Opening && !IsByHand(scan, scan.House.Circuits[circuit].Valve);

    private static bool TakesPart(in Scan scan, int loop, int coil, in ExerciseMemory e)
        => !scan.Memory.Coils[coil].MayNotRun && !IsByHand(scan, scan.House.Coils[coil].ValveOn(loop)) && (e.WithPump || IdleOf(scan, loop, coil) >= scan.Settings.ExerciseAfterS);

    private static void Open(in Scan scan, int index, Loop loop, in ExerciseMemory e)
    {
        var open = new Command(100, Reason.Of(Cause.Exercise, EndS(scan, index, loop, e) - e.ForS), default, 0);
        foreach (var i in loop.Circuits)
        {
            if (scan.Memory.Circuits[i].Kept.IsExercised)
                scan.Outputs.Commands[scan.House.Circuits[i].Valve] = open;
        }
        foreach (var i in loop.Coils)
        {
            if (TakesPart(scan, index, i, e))
                scan.Outputs.Commands[scan.House.Coils[i].ValveOn(index)] = open;
        }
    }

    private static void End(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        ref var e = ref m.Exercise;
        foreach (var i in loop.Coils)
        {
            if (TakesPart(scan, index, i, e))
                IdleOf(scan, index, i) = 0;
        }
        foreach (var i in loop.Circuits)
        {
            ref var kept = ref scan.Memory.Circuits[i].Kept;
            kept.IdleS = kept.IsExercised ? 0 : kept.IdleS;
        }
        scan.Happened(e.WithPump ? SequenceEvents.PumpExercised : SequenceEvents.ValvesExercised, Owner.Loop, index, Reason.Of(Cause.None, e.LongestS));
        e.ForS = 0;
        e.MixingIdleS = e.WithMixing ? 0 : e.MixingIdleS;
        if (e.WithPump)
            (e.PumpIdleS, e.StandbyIdleS) = (0, 0);
    }

    /// <summary>Until the slowest valve that takes part is open, s.</summary>
    private static double OpenS(in Scan scan, int index, Loop loop, in ExerciseMemory e)
    {
        var longest = e.WithMixing ? loop.StrokeS : 0;
        foreach (var i in loop.Circuits)
            longest = scan.Memory.Circuits[i].Kept.IsExercised ? Math.Max(longest, scan.House.Circuits[i].Actuator.OpeningTimeS) : longest;
        foreach (var i in loop.Coils)
            longest = TakesPart(scan, index, i, e) ? Math.Max(longest, scan.House.Coils[i].OpeningTimeS) : longest;
        return longest + 2 * scan.Dt;
    }

    /// <summary>Until the mixing valve has shut again as well, s.</summary>
    private static double StillS(in Scan scan, int index, Loop loop, in ExerciseMemory e) => OpenS(scan, index, loop, e) + (e.WithMixing ? loop.StrokeS : 0);

    private static double EndS(in Scan scan, int index, Loop loop, in ExerciseMemory e)
        => StillS(scan, index, loop, e) + (e.WithPump ? scan.Settings.ExerciseForS * (loop.StandbyPump >= 0 ? 2 : 1) : 0);
}
