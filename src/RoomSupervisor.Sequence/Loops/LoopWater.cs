// What the water of a loop is really like: a supply sensor on a pipe that does not flow tells of the pipe, not of the water that will come.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Supply water of a loop.</summary>
internal static class LoopWater
{
    /// <summary>True when a coil's water in use is this loop's.</summary>
    public static bool Uses(in Scan scan, int coil, int loop)
        => scan.Memory.Coils[coil].ValvePercent > 0 && RoomCoils.LoopOf(scan.House.Coils[coil], scan.Memory.Coils[coil].Heats) == loop;

    /// <summary>True when the loop has flowed for longer than its lag, so that its supply sensor sees the water; a pump without its proof moves none.</summary>
    public static bool Flows(in Scan scan, int loop)
    {
        ref readonly var memory = ref scan.Memory.Loops[loop];
        return memory.PumpOn && memory.PumpForS >= scan.House.Loops[loop].Settings.LagS && !memory.Pump.ToldUnproven;
    }

    /// <summary>True when a loop works in this direction, its source makes such water now, and it does not rest from the opposite use.</summary>
    public static bool InSeason(in Scan scan, int loop, bool heats)
        => scan.Memory.Loops[loop].Heats == heats && scan.Memory.Sources[scan.House.Loops[loop].Source].Heats == heats && scan.Memory.Loops[loop].OppositeRestS <= 0;

    /// <summary>
    /// Warmest water worth sending to a circuit, °C: the loop's own limit, or what is still a good deal colder than its room. Without the second, a room
    /// whose coil may not run loses its ceiling at the moment it needs it most.
    /// </summary>
    public static double WarmestUsefulFor(in Scan scan, Circuit circuit)
    {
        var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
        var warmest = scan.House.Loops[circuit.Loop].WarmestC;
        return air.Exists ? Math.Max(warmest, air.Value - scan.Settings.UsefulBelowRoomK) : warmest;
    }

    /// <summary>The same for a loop: useful to at least one of the rooms that want their surface, °C.</summary>
    public static double WarmestUseful(in Scan scan, int loop)
    {
        var warmest = scan.House.Loops[loop].WarmestC;
        foreach (var i in scan.House.Loops[loop].Circuits)
        {
            var circuit = scan.House.Circuits[i];
            if (Demand.WantsSurface(scan.Memory.Rooms[circuit.Room]) && !scan.Memory.Rooms[circuit.Room].Heats)
                warmest = Math.Max(warmest, WarmestUsefulFor(scan, circuit));
        }
        return warmest;
    }

    /// <summary>Once its water has become too warm to be of use a circuit or loop waits until it is this much colder again, K (project choice): a lowest safe supply breathes with the humidity sensor's last digits.</summary>
    private const double OfUseAgainK = 0.5;

    /// <summary>True while water that is safe is still worth sending, with hysteresis.</summary>
    public static bool IsOfUse(double lowestSafeC, double warmestUsefulC, bool was) => lowestSafeC <= warmestUsefulC - (was ? 0 : OfUseAgainK);

    /// <summary>The same for every cooled loop, once its lowest safe supply is known.</summary>
    public static void Follow(in Scan scan)
    {
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            ref var m = ref scan.Memory.Loops[i];
            m.OfUse = scan.House.Loops[i].Serves == LoopServes.Surfaces && !m.Heats && IsOfUse(m.LowestSafeC, WarmestUseful(scan, i), m.OfUse);
        }
    }

    /// <summary>The air where the manifold stands always counts (rule 5.4): its pipes are bare. Negative infinity where it is not said or not known.</summary>
    public static double OfManifold(in Scan scan, Loop loop)
    {
        if (loop.ManifoldRoom < 0)
            return double.NegativeInfinity;
        var worst = scan.Memory.Rooms[loop.ManifoldRoom].DewPointWorstC;
        return double.IsNaN(worst) ? double.NegativeInfinity : worst + scan.Settings.MarginK;
    }

    /// <summary>The first circuit of a loop that is warmed through; −1: none is.</summary>
    public static int WarmingThrough(in Scan scan, Loop loop)
    {
        foreach (var i in loop.Circuits)
        {
            if (scan.Memory.Circuits[i].WarmThrough)
                return i;
        }
        return -1;
    }

    /// <summary>True for a circuit that waits, shut, for nothing but warmer water.</summary>
    public static bool Waits(in CircuitMemory m) => m.Level == GuardLevel.Shut && m.ValvePercent <= 0 && m.ShutReason.Cause == Cause.WaitingForWarmWater;

    /// <summary>
    /// Water that will come to a shut circuit if it opens now, while its loop is open for others: what is mixed for them, °C; infinite: for nobody, so that the sensor tells what there is. The sensor shows for a lag after
    /// a stand what stood in the pipe, and for a moment what the valve overshot: neither is what flows then.
    /// </summary>
    public static double ComesForOthers(in Scan scan, int circuit)
    {
        var loop = scan.House.Circuits[circuit].Loop;
        foreach (var i in scan.House.Loops[loop].Circuits)
        {
            if (i != circuit && scan.Memory.Circuits[i].ValvePercent > 0)
                return scan.Memory.Loops[loop].SetPointC;
        }
        return double.PositiveInfinity;
    }

    /// <summary>True while its room works with its surfaces and asks for what its loop carries.</summary>
    public static bool IsWanted(in Scan scan, int circuit)
    {
        ref readonly var room = ref scan.Memory.Rooms[scan.House.Circuits[circuit].Room];
        return room.Heats == scan.Memory.Loops[scan.House.Circuits[circuit].Loop].Heats && Demand.WantsSurface(room) && room.DemandW > 0;
    }

    /// <summary>Water with which a cooled circuit gives what is asked of it, °C; its loop's warmest where nothing is.</summary>
    public static double Wanted(in Scan scan, int index)
    {
        var circuit = scan.House.Circuits[index];
        var asked = scan.Memory.Circuits[index].AskedW;
        var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
        return asked > 0 && air.Exists
            ? Emitters.SupplyForOutput(circuit, air.Value, asked, scan.Settings.SupplyFromReturnK, heats: false)
            : scan.House.Loops[circuit.Loop].WarmestC;
    }

    /// <summary>Water at a coil, °C: by its own sensor (<c>water_temperature</c>) once its valve has let the loop's water through to it, else what the loop supplies. Before that the sensor tells of the room.</summary>
    public static double AtCoil(in Scan scan, Coil coil, in CoilMemory m, int loop)
    {
        var own = scan.Reading(coil.WaterTemperature);
        return own.Exists && Flows(scan, loop) && m.ValveOpenForS >= coil.OpeningTimeS + scan.House.Loops[loop].Settings.LagS ? own.Value : Expected(scan, loop);
    }

    /// <summary>Measured supply while it flows, else the coldest (in heating the warmest) this loop is meant to have, °C.</summary>
    public static double Expected(in Scan scan, int loop)
    {
        var supply = scan.Reading(scan.House.Loops[loop].Supply);
        var part = scan.House.Loops[loop];
        return Flows(scan, loop) && supply.Exists ? supply.Value : scan.Memory.Loops[loop].Heats ? part.Settings.HeatingWarmestC(part.Serves) : part.ColdestC;
    }
}
