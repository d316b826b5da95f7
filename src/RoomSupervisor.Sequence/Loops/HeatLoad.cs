// Section 6, rule 1, heated slabs: what a room takes in usual weather, and how its air is going, so that a slab that has rested beside sun, cooking or people begins before its room is too cold and with what it will be
// asked for. Only helps to begin: the demand of section 2 decides what is given.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Heat load of rooms with heated slabs.</summary>
internal static class HeatLoad
{
    /// <summary>The air an hour ago, as a first-order mean of so many seconds (project choice: longer than a window is open to air a room).</summary>
    private const double SlowS = 3600;

    /// <summary>A slab is felt so much later than its valve, s (project choice: the integral time of a slab alone; 65 mm of screed take one to two hours).</summary>
    private const double AheadS = 5400;

    /// <summary>The load is believed to rise within hours and to fall within a day: what the sun gives is not there in the evening (project choice), s.</summary>
    private const double RisesS = 3 * 3600.0, FallsS = 24 * 3600.0;

    /// <summary>Share of the usual load with which a slab begins: people and lamps give a part of it (project choice).</summary>
    private const double BeginsWith = 0.8;

    /// <summary>Once a scan, before the stages: rooms that heat with a slab.</summary>
    public static void Observe(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            ref var m = ref scan.Memory.Rooms[i];
            if (m.Heats && m.Started && HasSlab(scan, scan.House.Rooms[i]))
                Follow(scan, scan.House.Rooms[i], ref m);
            else
                m.HeatLoad.Has = false;
        }
    }

    /// <summary>How much further from its set point the air will be when a slab that begins now is felt, K; 0 where it is not falling, and for a room with something to spare.</summary>
    public static double ComesK(SequenceSettings s, in RoomMemory m)
        => m.HeatLoad.Has && m.Heats && m.ErrorK > -s.SatisfiedBelowK ? Math.Max(0, m.HeatLoad.FallsKPerS * AheadS) : 0;

    /// <summary>
    /// What a slab gives at least in a room that is too cold, or will be by the time it is felt, W: most of what the room has taken at such a difference to outdoors. Negative infinity: no such room, or nothing known.
    /// </summary>
    public static double AtLeastW(in Scan scan, in RoomMemory m)
    {
        if (!m.HeatLoad.Has || !m.Heats || m.ErrorK + ComesK(scan.Settings, m) <= scan.Settings.SurfaceFromK)
            return double.NegativeInfinity;
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        return outdoors.Exists ? BeginsWith * m.HeatLoad.WPerK * Math.Max(0, m.WantedC - outdoors.Value) : double.NegativeInfinity;
    }

    private static void Follow(in Scan scan, Room room, ref RoomMemory m)
    {
        ref var h = ref m.HeatLoad;
        var air = scan.Reading(room.AirTemperature);
        if (!air.Exists)
            return;
        h.SlowC = h.Has ? h.SlowC + (air.Value - h.SlowC) * Blocks.FilterShare(scan.Dt, SlowS) : air.Value;
        h.Has = true;
        h.FallsKPerS = (h.SlowC - air.Value) / SlowS;
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (m.Stage != Stage.RadiantHold || !outdoors.Exists || air.Value - outdoors.Value < 5)
            return;
        var load = m.SurfaceOutputW / (air.Value - outdoors.Value);
        h.WPerK += (load - h.WPerK) * Blocks.FilterShare(scan.Dt, load > h.WPerK ? RisesS : FallsS);
    }

    private static bool HasSlab(in Scan scan, Room room)
    {
        foreach (var i in room.Circuits)
        {
            if (scan.House.Circuits[i].Kind.IsSlab && scan.Memory.Loops[scan.House.Circuits[i].Loop].Heats)
                return true;
        }
        return false;
    }
}
