// Section 7: what one scan of a source consists of, in its order, and its outputs. The rules themselves lie beside it, one purpose a file. Never gives
// the same water out as cold and as warm.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>The sources of a house.</summary>
internal static class SourceRules
{
    /// <summary>
    /// Before the rooms are looked at: what the machines do, whether their water is for the rooms, the season of every loop (its own, or that of its source)
    /// and how long it rests from the opposite one.
    /// </summary>
    public static void Observe(in Scan scan)
    {
        for (var i = 0; i < scan.House.Sources.Length; i++)
        {
            ref var m = ref scan.Memory.Sources[i];
            if (!m.Known)
                Begin(scan, scan.House.Sources[i], i, ref m);
            else
                SourceCall.Follow(scan, scan.House.Sources[i], ref m);
            SourceWater.Observe(scan, i, ref m);
        }
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            var loop = scan.House.Loops[i];
            ref var m = ref scan.Memory.Loops[i];
            Rests.Follow(scan, ref m);
            m.Heats = loop.Seasons == Seasons.Heating || (loop.Seasons == Seasons.Both && scan.Memory.Sources[loop.Source].Heats);
            m.OppositeRestS = Rests.Left(scan, loop, m, m.Heats);
        }
    }

    public static void Step(in Scan scan, int index)
    {
        ref var m = ref scan.Memory.Sources[index];
        var source = scan.House.Sources[index];
        Requests.Count(scan, index, source, ref m);
        DryingBatch.Gather(scan, index, source, ref m);
        Blocks.Hold(ref m.AskedForS, m.Asks > 0, scan.Dt);
        m.WantedC = SourceSetPoint.Wanted(scan, source, m);
        HotWaterRules.Step(scan, index, source, ref m);
        ChangeOver.Step(scan, index, source, ref m);
        BufferRules.Step(scan, index, ref m);
        var wants = Wants(scan, index, m, out var why);
        // A hand value wishes like a room does: the compressor's shortest run and rest hold for it too, and it waits for a change-over, which would else turn a machine that runs. Off it is at once.
        ref readonly var hand = ref scan.Memory.Hands[source.Call];
        if (hand.Active && !(m.Change.Changing && hand.Value > 0.5))
            (wants, why) = (hand.Value > 0.5, Reason.Of(Cause.HandValue, hand.RemainingS));
        Frost(scan, source, m, ref wants, ref why);
        var reason = SourceCall.Decide(scan, index, source, wants, why, ref m);
        Write(scan, index, source, m, reason);
        HotWaterRules.Write(scan, index, ref m);
    }

    /// <summary>What is known of a source after a restart: its season, its starts, and what must not come more often than so. Its rest begins anew.</summary>
    public static SourceMemory Resumed(in SourceMemory before, double gapS)
    {
        var m = new SourceMemory { Heats = before.Heats, Resumed = true, Starts = before.Starts };
        m.Starts.Pass(gapS);
        m.Change.ContestedRestS = Math.Max(0, before.Change.ContestedRestS - gapS);
        m.Change.TurnRestS = Math.Max(0, before.Change.TurnRestS - gapS);
        m.HotWater.SinceHygieneS = before.HotWater.SinceHygieneS + gapS;
        m.HotWater.ToldNotReached = before.HotWater.ToldNotReached;
        return m;
    }

    /// <summary>At the first scan nobody has asked yet: outdoors tells the season.</summary>
    private static void Begin(in Scan scan, Source source, int index, ref SourceMemory m)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (source.ChangesOver && outdoors.Exists && !m.Resumed)
            m.Heats = outdoors.Value < scan.Settings.NoCoolingUnderC;
        if (!m.Resumed)
            HotWaterRules.Begin(scan, index, ref m);
        m.Runs = scan.IsMade(source.Running);
        m.Known = true;
    }

    /// <summary>Neither a hand nor anything else keeps heat from a house that freezes, or makes freezing water colder.</summary>
    private static void Frost(in Scan scan, Source source, in SourceMemory m, ref bool wants, ref Reason why)
    {
        if (m.HotWater.Phase == HotWaterPhase.Charging || m.Change.Changing)
            return;
        if (m.Heats ? Loops.Frost.CallsHeat(scan, source) : Loops.Frost.StopsCold(scan, source))
            (wants, why) = (m.Heats, new Reason(m.Heats ? Cause.FrostCalls : Cause.FrostStops));
    }

    /// <summary>Whether anything wants it to be called, and why or why not.</summary>
    private static bool Wants(in Scan scan, int index, in SourceMemory m, out Reason why)
    {
        if (HotWaterRules.Wants(scan, m, out why))
            return m.HotWater.Phase == HotWaterPhase.Charging || m.Calling;
        if (ChangeOver.BringsBuffer(scan, index, m, out why))
            return true;
        if (ChangeOver.Holds(scan, m, out why))
            return false;
        if (!Requests.Stand(scan, m, out why))
            return false;
        return BufferRules.Wants(scan, index, m, ref why);
    }

    private static void Write(in Scan scan, int index, Source source, in SourceMemory m, in Reason reason)
    {
        var commands = scan.Outputs.Commands;
        var charges = m.HotWater.Phase == HotWaterPhase.Charging;
        scan.Outputs.Sources[index] = new SourceStatus
        {
            Calling = m.Calling,
            Mode = charges ? SourceMode.HotWater : m.Heats ? SourceMode.Heating : SourceMode.Cooling,
            Reason = reason,
            StartsInHour = m.Starts.Count,
            WaterIsForRooms = m.Water.NotForRooms == Cause.None,
        };
        commands[source.Call] = new Command(m.Calling ? 1 : 0, reason, default, 0);
        if (source.CallCooling >= 0)
            commands[source.CallCooling] = new Command(m.Calling && !m.Heats && !charges ? 1 : 0, reason, default, 0);   // never by hand
        if (source.ChangeOver >= 0)
            commands[source.ChangeOver] = new Command(m.Heats ? 0 : 1, reason, default, m.Heats ? 0 : 1);   // never by hand
        if (source.SetPoint >= 0)
            commands[source.SetPoint] = SourceSetPoint.Of(scan, index, m);
    }
}
