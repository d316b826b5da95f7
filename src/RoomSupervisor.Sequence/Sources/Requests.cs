// Section 7, rule 1: who asks a source for its water. A request is a valve that is open for it, a room whose door stands open and that will be pulled down when it
// shuts, or rooms that are to be dried and wait for cold water. Never counts the same wish for both seasons.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Requests to one source.</summary>
internal static class Requests
{
    /// <summary>Counts them, and what the rooms at work ask for in watts.</summary>
    public static void Count(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        m.AtOnce = false;
        m.Asks = Coils(scan, index, ref m) + Circuits(scan, source);
        Openings(scan, index, source, ref m);
        m.Asks += m.OpeningsAsk + (m.Drying.Granted ? m.Drying.Wishing : 0);
        if (m.Heats && Loops.Frost.CallsHeat(scan, source))
            (m.Asks, m.AtOnce) = (m.Asks + 1, true);
        m.LoadW = 0;
        foreach (var room in m.Heats ? source.HeatedRooms : source.CooledRooms)
        {
            ref readonly var r = ref scan.Memory.Rooms[room];
            // A surface that gives way to a coil about to dry asks for nothing any more, the coil does not yet: without this the wish would lose what it was granted for, the surface open again, and so on at every scan.
            // It goes on with a request and never begins one: a machine called for a room that cannot spare the cold would run for nothing.
            m.Asks += r.DryFades && !m.Heats && m.AskedForS > 0 ? 1 : 0;
            m.LoadW += r.Heats == m.Heats ? r.DemandW : 0;
        }
    }

    /// <summary>True when somebody asks and has asked for long enough, or must not wait; with the reason.</summary>
    public static bool Stand(in Scan scan, in SourceMemory m, out Reason why)
    {
        why = new Reason(Cause.NobodyAsks);
        if (m.Asks == 0)
            return DryingBatch.Waits(scan, m, ref why);
        why = Reason.Of(Cause.RequestWaits, m.Asks, scan.Settings.SourceWaitS - m.AskedForS);
        if (!m.AtOnce && !m.Calling && m.AskedForS <= scan.Settings.SourceWaitS)
            return false;
        why = m.Asks == m.OpeningsAsk ? Reason.Of(Cause.OpeningAsks, m.OpeningsLeftS) : Reason.Of(Cause.RoomsAsk, m.Asks);
        return true;
    }

    private static int Coils(in Scan scan, int index, ref SourceMemory source)
    {
        var asks = 0;
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            var coil = scan.House.Coils[i];
            ref readonly var m = ref scan.Memory.Coils[i];
            if (m.ValvePercent <= 0 || scan.House.Loops[RoomCoils.LoopOf(coil, m.Heats)].Source != index)
                continue;
            asks++;
            foreach (var room in coil.Rooms)
                source.AtOnce |= scan.Memory.Rooms[room].Stage is Stage.PullDown or Stage.WarmUp;
        }
        return asks;
    }

    private static int Circuits(in Scan scan, Source source)
    {
        var asks = 0;
        foreach (var loop in source.Loops)
        {
            ref readonly var memory = ref scan.Memory.Loops[loop];
            var useful = memory.Heats || memory.OfUse;
            foreach (var i in scan.House.Loops[loop].Circuits)
            {
                ref readonly var c = ref scan.Memory.Circuits[i];
                if (c.ValvePercent > 0 && (memory.Heats || (useful && c.Level != GuardLevel.Shut)))
                    asks++;
            }
        }
        return asks;
    }

    /// <summary>Only of rooms that will be pulled down with its water when the door shuts: to keep a machine running for one that is comfortable with its door open, or has only surfaces, would wear it for nothing.</summary>
    private static void Openings(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        m.OpeningsAsk = 0;
        m.OpeningsLeftS = 0;
        foreach (var room in m.Heats ? source.HeatedRooms : source.CooledRooms)
        {
            ref readonly var r = ref scan.Memory.Rooms[room];
            var left = scan.Settings.OpeningAsksForS - r.OpenForS;
            if (r.Stage != Stage.Opening || r.Heats != m.Heats || left <= 0 || !(r.ErrorK > scan.Settings.PullDownAfterOpeningK) || !HasCoil(scan, index, scan.House.Rooms[room], m.Heats))
                continue;
            m.OpeningsAsk++;
            m.OpeningsLeftS = Math.Max(m.OpeningsLeftS, left);
        }
    }

    /// <summary>True when a coil of the room may run with its water; one that rests from water of the wrong temperature may when the right one comes.</summary>
    private static bool HasCoil(in Scan scan, int index, Room room, bool heats)
    {
        foreach (var coil in room.Coils)
        {
            var loop = RoomCoils.LoopOf(scan.House.Coils[coil], heats);
            if (loop >= 0 && scan.House.Loops[loop].Source == index && RoomCoils.MayRunWithRightWater(scan, coil, heats))
                return true;
        }
        return false;
    }
}
