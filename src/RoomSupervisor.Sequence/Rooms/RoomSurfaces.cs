// The surfaces of one room taken together: what they may give under the guard, and how a wish is shared among them. Never asks a circuit
// for more than it may give with safe water.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Surfaces of a room.</summary>
internal static class RoomSurfaces
{
    /// <summary>True when the room has a surface whose loop works in this direction now.</summary>
    public static bool Any(in Scan scan, Room room, bool heats)
    {
        foreach (var circuit in room.Circuits)
        {
            if (InSeason(scan, circuit, heats))
                return true;
        }
        return false;
    }

    public static bool InSeason(in Scan scan, int circuit, bool heats) => LoopWater.InSeason(scan, scan.House.Circuits[circuit].Loop, heats);

    /// <summary>True when the guard has every surface of the room shut.</summary>
    public static bool AllShut(in Scan scan, Room room)
    {
        foreach (var circuit in room.Circuits)
        {
            if (scan.Memory.Circuits[circuit].Level != GuardLevel.Shut)
                return false;
        }
        return true;
    }

    /// <summary>True when every surface gives all that its water lets it.</summary>
    public static bool AtLimit(in Scan scan, Room room)
    {
        foreach (var circuit in room.Circuits)
        {
            ref readonly var m = ref scan.Memory.Circuits[circuit];
            if (m.Level != GuardLevel.Shut && m.AskedW < 0.98 * m.MayGiveW)
                return false;
        }
        return true;
    }

    /// <summary>What they may give with the coldest (warmest) water they may have, W. Works it out for each circuit first.</summary>
    public static double MayGive(in Scan scan, Room room, bool heats)
    {
        var sum = 0.0;
        foreach (var circuit in room.Circuits)
        {
            var watts = InSeason(scan, circuit, heats) ? MayGiveOf(scan, room, circuit, heats) : 0;
            scan.Memory.Circuits[circuit].MayGiveW = watts;
            sum += watts;
        }
        return sum;
    }

    /// <summary>Shares a wish by what each may give; where none may give anything, by area, so that a shut one still says what it is wanted for.</summary>
    /// <param name="scan">The scan.</param>
    /// <param name="room">The room.</param>
    /// <param name="watts">The wish, W.</param>
    /// <param name="heats">Its direction.</param>
    /// <param name="beside">True beside a coil that follows the load: a slab, felt in hours, does not follow each of its moves.</param>
    public static void Ask(in Scan scan, Room room, double watts, bool heats, bool beside)
    {
        var may = 0.0;
        var area = 0.0;
        foreach (var circuit in room.Circuits)
        {
            may += scan.Memory.Circuits[circuit].MayGiveW;
            area += InSeason(scan, circuit, heats) ? scan.House.Circuits[circuit].Settings.AreaM2 : 0;
        }
        foreach (var circuit in room.Circuits)
        {
            ref var m = ref scan.Memory.Circuits[circuit];
            var share = !InSeason(scan, circuit, heats) ? 0 : may > 0 ? m.MayGiveW / may : scan.House.Circuits[circuit].Settings.AreaM2 / area;
            // Asking an open one for what it may not give would only open its valve.
            var asked = m.Level != GuardLevel.Shut && m.MayGiveW <= 0 ? 0 : watts * share;
            m.AskedW = beside && asked > 0 && scan.House.Circuits[circuit].Kind.IsSlab ? m.AskedW + (asked - m.AskedW) * Blocks.FilterShare(scan.Dt, SlabBesideS) : asked;
        }
    }

    /// <summary>How slowly a slab follows what is asked of it beside a coil, s (project choice: its valve else goes to and fro with the coil's every six minutes, for nothing).</summary>
    private const double SlabBesideS = 1800;

    /// <summary>Watts a kelvin of error while the surfaces work alone: sum over panels and slabs.</summary>
    public static double Gain(in Scan scan, Room room)
    {
        var sum = 0.0;
        foreach (var circuit in room.Circuits)
        {
            var part = scan.House.Circuits[circuit];
            sum += (part.Kind.IsSlab ? scan.Settings.SlabGainWPerKM2 : scan.Settings.SurfaceGainWPerKM2) * part.Settings.AreaM2;
        }
        return sum;
    }

    /// <summary>Integral time while they work alone, s: the panel's where there is one, it is what moves.</summary>
    public static double IntegralS(in Scan scan, Room room)
    {
        foreach (var circuit in room.Circuits)
        {
            if (!scan.House.Circuits[circuit].Kind.IsSlab)
                return scan.Settings.SurfaceIntegralS;
        }
        return scan.Settings.SlabIntegralS;
    }

    /// <summary>Outputs follow water and valves, each with its kind's time constant; their sum is the room's.</summary>
    public static double Follow(in Scan scan, Room room, bool heats)
    {
        var air = scan.Reading(room.AirTemperature);
        var sum = 0.0;
        foreach (var circuit in room.Circuits)
        {
            var part = scan.House.Circuits[circuit];
            ref var m = ref scan.Memory.Circuits[circuit];
            var supply = scan.Reading(scan.House.Loops[part.Loop].Supply);
            var flows = scan.Memory.Loops[part.Loop].PumpOn && m.ValvePercent > 0;
            var steady = air.Exists && supply.Exists && flows
                ? Emitters.SurfaceOutput(part, air.Value, supply.Value, scan.Settings.SupplyFromReturnK, heats) * m.ValvePercent / 100
                : 0;
            m.OutputW += (steady - m.OutputW) * Blocks.FilterShare(scan.Dt, part.Kind.ResponseS);
            sum += m.OutputW;
        }
        return sum;
    }

    private static double MayGiveOf(in Scan scan, Room room, int index, bool heats)
    {
        var air = scan.Reading(room.AirTemperature);
        ref readonly var m = ref scan.Memory.Circuits[index];
        var circuit = scan.House.Circuits[index];
        var loop = scan.House.Loops[circuit.Loop];
        if (!air.Exists || m.Level == GuardLevel.Shut)
            return 0;
        if (heats)
            return Emitters.SurfaceOutput(circuit, air.Value, Math.Min(m.HighestC, loop.Settings.HeatingWarmestC(loop.Serves)), scan.Settings.SupplyFromReturnK, heats);
        if (double.IsNaN(m.LowestSafeC))
            return 0;
        var coldest = Math.Max(loop.ColdestC, m.LowestSafeC);
        return !m.OfUse ? 0 : Emitters.SurfaceOutput(circuit, air.Value, coldest, scan.Settings.SupplyFromReturnK, heats);
    }
}
