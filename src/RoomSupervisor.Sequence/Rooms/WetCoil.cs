// Section 3, rule 6: a wet coil and a running fan give the water back to the room, unless the coil's water is cold enough to keep it. Follows how wet the coil
// is and says when its fan must stop. In heating nothing condenses, and what is still wet dries unasked.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The water on a coil.</summary>
internal static class WetCoil
{
    /// <summary>Water that keeps the wet must be this much colder again before a fan that was stopped for it turns, K (project choice).</summary>
    private const double AgainK = 0.5;

    /// <summary>
    /// A coil grows wet as long as it takes moisture out of the air, up to its longest time, and dries as long. Its fan must stop when for a while the water that
    /// flows is not cold enough to keep the wet, or none flows although the valve is open. Air drier than what is ever dried for (rule 3.1) may have the water.
    /// </summary>
    public static void Follow(in Scan scan, Coil coil, in RoomMemory room, ref CoilMemory m)
    {
        var s = scan.Settings;
        var isOpen = m.ValveOpenForS > 0 && !m.Heats && !room.Heats;
        var flows = isOpen && LoopWater.Flows(scan, coil.Loop);
        var dewPointC = DewPointC(scan, coil, room);
        var keeps = flows && LoopWater.AtCoil(scan, coil, m, coil.Loop) < dewPointC - s.DryLostK - (MustStop(s, m) ? AgainK : 0);
        m.WetForS = keeps && m.FanPercent > 0 ? Math.Min(s.CoilWetForS, m.WetForS + scan.Dt) : Math.Max(0, m.WetForS - scan.Dt);
        var stands = isOpen && !scan.Memory.Loops[coil.Loop].PumpOn && m.ValveOpenForS > coil.OpeningTimeS + scan.Dt;
        Blocks.Hold(ref m.GivesBackForS, m.WetForS > 0 && !room.Heats && dewPointC > Drying.LowestTargetC && (stands || (flows && !keeps)), scan.Dt);
    }

    /// <summary>True when the fan must not turn.</summary>
    public static bool MustStop(SequenceSettings s, in CoilMemory m) => m.GivesBackForS > 0 && m.GivesBackForS >= s.AfterValveShutS;

    /// <summary>Why it must not.</summary>
    public static Reason Why(in Scan scan, Coil coil, in RoomMemory room, in CoilMemory m)
        => Reason.Of(Cause.CoilWet, 0, LoopWater.AtCoil(scan, coil, m, coil.Loop), DewPointC(scan, coil, room));

    /// <summary>
    /// Dew point of the air a coil draws, °C: of several rooms the mean of those that are known, each by its share of the coil, which lies a little under that of the mixed air; NaN: none is known. By one room's alone, the
    /// driest and warmest, a coil would stop that takes water out of the others' air.
    /// </summary>
    private static double DewPointC(in Scan scan, Coil coil, in RoomMemory room)
    {
        if (coil.Rooms.Length == 1)
            return room.DewPointC;
        var (sum, shares) = (0.0, 0.0);
        foreach (var one in coil.Rooms)
        {
            var dewPointC = scan.Memory.Rooms[one].DewPointC;
            if (double.IsNaN(dewPointC))
                continue;
            var share = RoomCoils.Share(scan.House, scan.House.Rooms[one], coil);
            (sum, shares) = (sum + share * dewPointC, shares + share);
        }
        return shares > 0 ? sum / shares : double.NaN;
    }
}
