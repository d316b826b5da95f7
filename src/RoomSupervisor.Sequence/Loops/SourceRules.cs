// Section 7: whether each source is called, with its shortest run and rest, and what it makes. Cold and warm water never both from one
// source: it changes over when nobody asks for what it makes.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Call and season of the sources.</summary>
internal static class SourceRules
{
    /// <summary>The season of every loop: its own, or that of its source.</summary>
    public static void Seasons(in Scan scan)
    {
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            var loop = scan.House.Loops[i];
            ref var m = ref scan.Memory.Loops[i];
            m.Heats = loop.Seasons == Sequence.Seasons.Heating || (loop.Seasons == Sequence.Seasons.Both && scan.Memory.Sources[loop.Source].Heats);
        }
    }

    public static void Step(in Scan scan, int index)
    {
        ref var m = ref scan.Memory.Sources[index];
        var source = scan.House.Sources[index];
        if (!m.Known)
            Begin(scan, source, ref m);
        m.InStateS += m.Known ? scan.Dt : 0;
        m.Known = true;
        m.Asks = Asks(scan, index, out var atOnce);
        Blocks.Hold(ref m.AskedForS, m.Asks > 0, scan.Dt);
        ChangeOver(scan, index, source, ref m);
        var wants = atOnce || m.AskedForS > scan.Settings.SourceWaitS || (m.Calling && m.Asks > 0);
        // A hand value wishes like a room does: the compressor's shortest run and rest hold for it too.
        ref readonly var hand = ref scan.Memory.Hands[source.Call];
        var reason = Decide(scan, ref m, hand.Active ? hand.Value > 0.5 : wants, m.Asks);
        if (hand.Active && reason.Cause is not (Cause.MinimumRun or Cause.MinimumOff))
            reason = Reason.Of(Cause.HandValue, hand.RemainingS);
        Write(scan, index, source, m, reason);
    }

    private static void Write(in Scan scan, int index, Source source, in SourceMemory m, in Reason reason)
    {
        var commands = scan.Outputs.Commands;
        scan.Outputs.Sources[index] = new SourceStatus { Calling = m.Calling, Mode = m.Heats ? SourceMode.Heating : SourceMode.Cooling, Reason = reason };
        commands[source.Call] = new Command(m.Calling ? 1 : 0, reason, default, 0);
        if (source.CallCooling >= 0)
            commands[source.CallCooling] = HandValues.Over(scan, source.CallCooling, new Command(m.Calling && !m.Heats ? 1 : 0, reason, default, 0), isProtected: true);
        if (source.ChangeOver >= 0)
            commands[source.ChangeOver] = HandValues.Over(scan, source.ChangeOver, new Command(m.Heats ? 0 : 1, reason, default, m.Heats ? 0 : 1), isProtected: true);
        if (source.SetPoint >= 0)
            commands[source.SetPoint] = SetPoint(scan, index, m);
    }

    /// <summary>The water the most demanding loop wants.</summary>
    private static Command SetPoint(in Scan scan, int index, in SourceMemory m)
    {
        var wanted = double.NaN;
        foreach (var i in scan.House.Sources[index].Loops)
        {
            ref readonly var loop = ref scan.Memory.Loops[i];
            if (loop.Heats != m.Heats || !loop.HasSetPoint || !loop.Asked)
                continue;
            wanted = double.IsNaN(wanted) ? loop.SetPointC : m.Heats ? Math.Max(wanted, loop.SetPointC) : Math.Min(wanted, loop.SetPointC);
        }
        // Nobody asks: the mildest water of the season, and the call is off.
        var value = double.IsNaN(wanted) ? (m.Heats ? 30 : 15) : wanted;
        return new Command(value, Reason.Of(m.Asks > 0 ? Cause.RoomsAsk : Cause.NobodyAsks, m.Asks), default, value);
    }

    /// <summary>At the first scan nobody has asked yet: outdoors tells the season.</summary>
    private static void Begin(in Scan scan, Source source, ref SourceMemory m)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (source.Cools && source.Heats && outdoors.Exists && !m.Resumed)
            m.Heats = outdoors.Value < scan.Settings.NoCoolingUnderC;
    }

    /// <summary>Rule 7.3, as far as rooms that all want the same need it.</summary>
    private static void ChangeOver(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        if (!source.Cools || !source.Heats)
            return;
        var opposite = 0;
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            ref readonly var room = ref scan.Memory.Rooms[i];
            if (room.Started && room.Stage == Stage.Satisfied && room.Heats != m.Heats && room.ErrorK > scan.Settings.SurfaceFromK && HangsOn(scan, scan.House.Rooms[i], index, room.Heats))
                opposite++;
        }
        Blocks.Hold(ref m.OppositeForS, opposite > 0 && m.Asks == 0, scan.Dt);
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var locked = outdoors.Exists && (m.Heats ? outdoors.Value < scan.Settings.NoCoolingUnderC : outdoors.Value > scan.Settings.NoHeatingOverC);
        if (m.OppositeForS <= scan.Settings.ChangeOverWaitS || locked || m.Calling)
            return;
        m.Heats = !m.Heats;
        m.OppositeForS = 0;
        scan.Happened(SequenceEvents.ChangedOver, Owner.Source, index, Reason.Of(m.Heats ? Cause.RoomsWantHeat : Cause.RoomsWantCold, opposite));
    }

    private static bool HangsOn(in Scan scan, Room room, int source, bool heats)
    {
        foreach (var circuit in room.Circuits)
        {
            var loop = scan.House.Loops[scan.House.Circuits[circuit].Loop];
            if (loop.Source == source && (heats ? loop.Heats : loop.Cools))
                return true;
        }
        foreach (var coil in room.Coils)
        {
            var loop = scan.House.Loops[RoomCoils.LoopOf(scan.House.Coils[coil], heats)];
            if (loop.Source == source && (heats ? loop.Heats : loop.Cools))
                return true;
        }
        return false;
    }

    private static Reason Decide(in Scan scan, ref SourceMemory m, bool wants, int asks)
    {
        var s = scan.Settings;
        if (wants == m.Calling)
            return wants ? Reason.Of(Cause.RoomsAsk, asks) : new Reason(Cause.NobodyAsks);
        var left = (m.Calling ? s.SourceMinimumRunS : s.SourceMinimumOffS) - m.InStateS;
        if (left > 0)
            return Reason.Of(m.Calling ? Cause.MinimumRun : Cause.MinimumOff, left);
        m.Calling = wants;
        m.InStateS = 0;
        return wants ? Reason.Of(Cause.RoomsAsk, asks) : new Reason(Cause.NobodyAsks);
    }

    /// <summary>How many coils and surfaces want the source's water; a pull-down wants it at once.</summary>
    private static int Asks(in Scan scan, int index, out bool atOnce)
    {
        var asks = 0;
        atOnce = false;
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            var coil = scan.House.Coils[i];
            ref readonly var m = ref scan.Memory.Coils[i];
            if (m.ValvePercent <= 0 || scan.House.Loops[RoomCoils.LoopOf(coil, m.Heats)].Source != index)
                continue;
            asks++;
            foreach (var room in coil.Rooms)
                atOnce |= scan.Memory.Rooms[room].Stage is Stage.PullDown or Stage.WarmUp;
        }
        foreach (var loop in scan.House.Sources[index].Loops)
        {
            ref readonly var memory = ref scan.Memory.Loops[loop];
            var useful = memory.Heats || memory.LowestSafeC <= LoopWater.WarmestUseful(scan, loop);
            foreach (var i in scan.House.Loops[loop].Circuits)
            {
                ref readonly var c = ref scan.Memory.Circuits[i];
                if (c.ValvePercent > 0 && (memory.Heats || (useful && c.Level != GuardLevel.Shut)))
                    asks++;
            }
        }
        return asks;
    }
}
