// Section 7, rule 3: who wants what of a source that makes both, weighed by floor, and what those are told who must wait. Drying is no wish here: it never decides a change-over.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Wishes for cold and warm water.</summary>
internal static class Wishes
{
    /// <summary>Floors that want what the source makes, and floors that want the opposite and could be served with it.</summary>
    public static void Weigh(in Scan scan, Source source, ref SourceMemory m)
    {
        m.Change.SameM2 = 0;
        m.Change.OppositeM2 = 0;
        foreach (var room in m.Heats ? source.HeatedRooms : source.CooledRooms)
            m.Change.SameM2 += WantsSame(scan, scan.Memory.Rooms[room], m.Heats) ? scan.House.Rooms[room].Settings.FloorAreaM2 : 0;
        foreach (var room in m.Heats ? source.CooledRooms : source.HeatedRooms)
            m.Change.OppositeM2 += WaitsForOther(scan, room, m.Heats) ? scan.House.Rooms[room].Settings.FloorAreaM2 : 0;
        var held = Held.FloorM2(scan, source);
        if (m.Heats)
            m.Change.SameM2 += held;
        else
            m.Change.OppositeM2 += held;
    }

    /// <summary>Each room that waits for the other season is told so in the place of "nothing to do", and once in the log.</summary>
    public static void Tell(in Scan scan, int index, Source source, in SourceMemory m)
    {
        foreach (var room in m.Heats ? source.CooledRooms : source.HeatedRooms)
        {
            ref var r = ref scan.Memory.Rooms[room];
            Blocks.Hold(ref r.OtherSeasonForS, WaitsForOther(scan, room, m.Heats), scan.Dt);
            if (r.OtherSeasonForS <= 0)
            {
                r.ToldOtherSeason = false;
                continue;
            }
            var why = Why(scan, m);
            Instead(scan, scan.House.Rooms[room], why);
            if (r.ToldOtherSeason || r.OtherSeasonForS <= scan.Settings.ChangeOverWaitS)
                continue;
            r.ToldOtherSeason = true;
            scan.Happened(SequenceEvents.RoomWaitsForOther, Owner.Room, room, why);
        }
        foreach (var room in m.Heats ? source.HeatedRooms : source.CooledRooms)
        {
            ref readonly var r = ref scan.Memory.Rooms[room];
            if (r.Stage == Stage.Satisfied && r.Heats == m.Heats && r.ErrorK > scan.Settings.SurfaceFromK)
                Resting(scan, scan.House.Rooms[room], m.Heats);
        }
    }

    /// <summary>A room that wants what is made, and whose emitters rest from the opposite use, is not satisfied.</summary>
    private static void Resting(in Scan scan, Room room, bool heats)
    {
        foreach (var coil in room.Coils)
        {
            var part = scan.House.Coils[coil];
            if (!Rests.IsResting(scan, RoomCoils.LoopOf(part, heats), heats, out var why))
                continue;
            Instead(scan, heats && part.HeatingValve >= 0 ? part.HeatingValve : part.Valve, why);
            Instead(scan, part.Fan, why);
        }
        foreach (var circuit in room.Circuits)
        {
            if (Rests.IsResting(scan, scan.House.Circuits[circuit].Loop, heats, out var why))
                Instead(scan, scan.House.Circuits[circuit].Valve, why);
        }
    }

    private static Reason Why(in Scan scan, in SourceMemory m)
    {
        ref readonly var c = ref m.Change;
        if (c.Changing)
            return Reason.Of(Cause.ChangingOver, ChangeOver.LeftS(scan, m));
        if (ChangeOver.IsLocked(scan, m.Heats, out var locked))
            return locked;
        return Reason.Of(m.Heats ? Cause.WaitsForCold : Cause.WaitsForHeat, c.SameM2, c.OppositeM2, Math.Max(0, ChangeOver.UntilTurnS(scan, c)));
    }

    private static void Instead(in Scan scan, Room room, in Reason why)
    {
        foreach (var coil in room.Coils)
        {
            Instead(scan, scan.House.Coils[coil].Valve, why);
            Instead(scan, scan.House.Coils[coil].Fan, why);
        }
        foreach (var circuit in room.Circuits)
            Instead(scan, scan.House.Circuits[circuit].Valve, why);
    }

    private static void Instead(in Scan scan, int output, in Reason why)
    {
        ref var command = ref scan.Outputs.Commands[output];
        if (command.Binding.Cause == Cause.Satisfied)
            command = command with { Binding = why };
    }

    private static bool WantsSame(in Scan scan, in RoomMemory m, bool heats)
    {
        if (!m.Started || m.Heats != heats || m.Stage is Stage.Off or Stage.Opening)
            return false;
        return m.Stage == Stage.Satisfied ? m.ErrorK > scan.Settings.SurfaceFromK : m.DemandW > 0;
    }

    /// <summary>A room whose emitters of the other season all rest from this one could not be served: it does not count, unless it is far too cold.</summary>
    private static bool WaitsForOther(in Scan scan, int room, bool heats)
    {
        ref readonly var m = ref scan.Memory.Rooms[room];
        return m.Started && m.Stage == Stage.Satisfied && m.Heats != heats && m.ErrorK > scan.Settings.SurfaceFromK && CouldBeServed(scan, scan.House.Rooms[room], m);
    }

    private static bool CouldBeServed(in Scan scan, Room room, in RoomMemory m)
    {
        if (Rests.IsTooCold(scan, m))
            return true;
        foreach (var coil in room.Coils)
        {
            var loop = scan.House.Loops[RoomCoils.LoopOf(scan.House.Coils[coil], m.Heats)];
            if (m.Heats ? loop.Heats : loop.Cools)
                return true;
        }
        foreach (var circuit in room.Circuits)
        {
            var index = scan.House.Circuits[circuit].Loop;
            var loop = scan.House.Loops[index];
            if ((m.Heats ? loop.Heats : loop.Cools) && (!loop.IsSlow || Rests.Left(scan, loop, scan.Memory.Loops[index], m.Heats) <= 0))
                return true;
        }
        return false;
    }
}
