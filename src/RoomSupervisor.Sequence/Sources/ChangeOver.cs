// Section 7, rule 3: when a source that makes both changes over, and how: call off, pumps still, water neutral, valve, and a buffer through which the machine then goes by itself. Floors weigh the wishes: watts of rooms that wait are guesses, their floors are
// known. Never changes for drying, never against the weather, never with water moving.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Change-over of a source between cold and warm water.</summary>
internal static class ChangeOver
{
    /// <summary>How long pumps must have stood, s (project choice: a wet-rotor pump has run down after a tenth of it).</summary>
    private const double StillS = 60;

    /// <summary>A pump that goes on although it should stand (by hand, against frost) ends the attempt this long after the longest wait, s (project choice).</summary>
    private const double GivesUpAfterS = 900;

    public static void Step(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        if (!source.ChangesOver)
            return;
        ref var c = ref m.Change;
        Wishes.Weigh(scan, source, ref m);
        Blocks.Hold(ref c.NobodyForS, c.SameM2 <= 0, scan.Dt);
        Blocks.Hold(ref c.OppositeForS, c.OppositeM2 > 0, scan.Dt);
        Blocks.Hold(ref c.MajorityForS, c.OppositeM2 > c.SameM2, scan.Dt);
        Blocks.Hold(ref c.TurnForS, c.Turn && !c.Changing, scan.Dt);
        c.ContestedRestS = Math.Max(0, c.ContestedRestS - scan.Dt);
        c.TurnRestS = Math.Max(0, c.TurnRestS - scan.Dt);
        if (c.Changing)
            Go(scan, index, source, ref m);
        else if (m.HotWater.Phase is not (HotWaterPhase.Preparing or HotWaterPhase.Charging) && (Loops.Frost.WantsChange(scan, source, m) || Must(scan, ref c, IsLocked(scan, m.Heats, out _))))
            (c.Changing, c.Changed, c.ForS, c.StillForS, c.ValveForS) = (true, false, 0, 0, 0);
        Wishes.Tell(scan, index, source, m);
    }

    /// <summary>True while it changes over and so is not called; with the reason.</summary>
    public static bool Holds(in Scan scan, in SourceMemory m, out Reason why)
    {
        why = Reason.Of(Cause.ChangingOver, LeftS(scan, m));
        return m.Change.Changing;
    }

    /// <summary>True while the machine brings the buffer from the other season's water to neutral, with every loop still: nothing else would.</summary>
    public static bool BringsBuffer(in Scan scan, int index, in SourceMemory m, out Reason why)
    {
        why = Reason.Of(Cause.BufferCharges, BufferRules.DeliveredC(scan, index, !m.Heats), m.Heats ? scan.Settings.NeutralFromC : scan.Settings.NeutralToC);
        return m.Change.Changing && m.Change.Changed && m.Change.ValveForS >= scan.Settings.ChangeOverValveS;
    }

    /// <summary>True while the rooms may not have its water: from the moment the machine has stopped until the valve stands and the buffer is neutral.</summary>
    public static bool StopsRooms(in Scan scan, in SourceMemory m) => m.Change.Changing && (m.Change.Changed || HasStopped(m) || m.Change.ForS >= scan.Settings.NeutralAtMostS);

    /// <summary>Longest time it still takes, s.</summary>
    public static double LeftS(in Scan scan, in SourceMemory m)
    {
        var neutral = Math.Max(0, scan.Settings.NeutralAtMostS - m.Change.ForS);
        var valve = scan.Settings.ChangeOverValveS - m.Change.ValveForS;
        return !m.Change.Changed ? neutral + scan.Settings.ChangeOverValveS : valve > 0 ? valve : neutral;
    }

    /// <summary>Time until the smaller part gets its turn, s.</summary>
    public static double UntilTurnS(in Scan scan, in ChangeOverMemory c) => Math.Max(c.TurnRestS, scan.Settings.MinorityEveryS - c.OppositeForS);

    /// <summary>Outdoor locks: no cooling in the cold, no heating in the warmth. Nothing is locked where outdoors is not known.</summary>
    public static bool IsLocked(in Scan scan, bool heatsNow, out Reason why)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var limit = heatsNow ? scan.Settings.NoCoolingUnderC : scan.Settings.NoHeatingOverC;
        why = Reason.Of(heatsNow ? Cause.TooColdToCool : Cause.TooWarmToHeat, outdoors.Value, limit);
        return outdoors.Exists && (heatsNow ? outdoors.Value < limit : outdoors.Value > limit);
    }

    /// <summary>
    /// Nobody wants what it makes and somebody the opposite; or more floor wants the opposite, at most once in six hours, since somebody loses by it; or the smaller part has waited as long; or its turn is over.
    /// </summary>
    private static bool Must(in Scan scan, ref ChangeOverMemory c, bool locked)
    {
        var s = scan.Settings;
        if (c.Turn)
            return TurnEnds(s, ref c) && !locked;
        if (locked || c.OppositeM2 <= 0)
            return false;
        if (c.NobodyForS > s.ChangeOverWaitS && c.OppositeForS > s.ChangeOverWaitS)
            return true;
        if (c.MajorityForS > s.ChangeOverWaitS && c.ContestedRestS <= 0)
        {
            c.ContestedRestS = s.MinorityEveryS;
            return true;
        }
        c.ForTurn = UntilTurnS(scan, c) <= 0;
        if (c.ForTurn)
            c.TurnRestS = s.MinorityEveryS;
        return c.ForTurn;
    }

    /// <summary>The turn is over with its time, or when nobody of the smaller part has wanted it for a while; the others get it back if they still want it.</summary>
    private static bool TurnEnds(SequenceSettings s, ref ChangeOverMemory c)
    {
        if (c.TurnForS < s.MinorityTurnS && c.NobodyForS <= s.SourceWaitS)
            return false;
        c.Turn = false;
        return c.OppositeM2 > 0;
    }

    private static bool HasStopped(in SourceMemory m) => !m.Calling && !m.Runs;

    private static void Go(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        ref var c = ref m.Change;
        c.ForS += scan.Dt;
        if (c.Changed)
        {
            c.ValveForS += scan.Dt;
            var far = c.ValveForS >= scan.Settings.ChangeOverValveS && !IsBufferNeutral(scan, index, m.Heats);
            c.Changing = c.ValveForS < scan.Settings.ChangeOverValveS || (far && c.ForS < scan.Settings.NeutralAtMostS);
            if (far && !c.Changing)
                scan.Happened(SequenceEvents.ChangedOverNotNeutral, Owner.Source, index, Reason.Of(Cause.None, scan.Settings.NeutralAtMostS));
            return;
        }
        var over = c.ForS >= scan.Settings.NeutralAtMostS || Loops.Frost.WantsChange(scan, source, m);
        Blocks.Hold(ref c.StillForS, StopsRooms(scan, m) && AllStill(scan, source), scan.Dt);
        if (c.StillForS >= StillS && (over || IsNeutral(scan, index, source)))
            Change(scan, index, over && !IsNeutral(scan, index, source), ref m);
        else if (c.ForS >= scan.Settings.NeutralAtMostS + GivesUpAfterS)
            (c.Changing, c.NobodyForS, c.MajorityForS, c.ForTurn) = (false, 0, 0, false);
    }

    private static void Change(in Scan scan, int index, bool notNeutral, ref SourceMemory m)
    {
        ref var c = ref m.Change;
        m.Heats = !m.Heats;
        (c.Changed, c.Turn, c.ForTurn, c.TurnForS) = (true, c.ForTurn, false, 0);
        scan.Happened(SequenceEvents.ChangedOver, Owner.Source, index, Reason.Of(m.Heats ? Cause.RoomsWantHeat : Cause.RoomsWantCold, c.OppositeM2, c.SameM2));
        if (notNeutral)
            scan.Happened(SequenceEvents.ChangedOverNotNeutral, Owner.Source, index, Reason.Of(Cause.None, scan.Settings.NeutralAtMostS));
        (c.NobodyForS, c.OppositeForS, c.MajorityForS) = (0, 0, 0);
    }

    private static bool AllStill(in Scan scan, Source source)
    {
        foreach (var loop in source.Loops)
        {
            if (scan.Memory.Loops[loop].PumpOn)
                return false;
        }
        return true;
    }

    /// <summary>
    /// Everything that is measured of the water lies between; where nothing is measured the longest wait counts. A buffer in its insulation never would: the machine takes it through
    /// neutral itself, as it does with its heat at every defrost, before a room gets any of it.
    /// </summary>
    private static bool IsNeutral(in Scan scan, int index, Source source)
    {
        var known = BufferRules.IsRead(scan, index);
        var neutral = known || IsNeutral(scan, source.Supply, ref known);
        foreach (var loop in source.DirectLoops)
            neutral &= IsNeutral(scan, scan.House.Loops[loop].Supply, ref known);
        return neutral && known;
    }

    /// <summary>The end of the buffer that is further from what is made now.</summary>
    private static bool IsBufferNeutral(in Scan scan, int index, bool heats)
        => !BufferRules.IsRead(scan, index) || (BufferRules.DeliveredC(scan, index, !heats) is var water && (heats ? water >= scan.Settings.NeutralFromC : water <= scan.Settings.NeutralToC));

    private static bool IsNeutral(in Scan scan, int input, ref bool known)
    {
        var reading = scan.Reading(input);
        known |= reading.Exists;
        return !reading.Exists || (reading.Value >= scan.Settings.NeutralFromC && reading.Value <= scan.Settings.NeutralToC);
    }
}
