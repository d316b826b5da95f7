// What the water of a loop is really like: a supply sensor on a pipe that does not flow tells of the pipe, not of the water that will come.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Supply water of a loop.</summary>
internal static class LoopWater
{
    /// <summary>True when the loop has flowed for longer than its lag, so that its supply sensor sees the water.</summary>
    public static bool Flows(in Scan scan, int loop)
    {
        ref readonly var memory = ref scan.Memory.Loops[loop];
        return memory.PumpOn && memory.PumpForS >= scan.House.Loops[loop].Settings.LagS;
    }

    /// <summary>True when a loop works in this direction and its source makes such water now.</summary>
    public static bool InSeason(in Scan scan, int loop, bool heats)
        => scan.Memory.Loops[loop].Heats == heats && scan.Memory.Sources[scan.House.Loops[loop].Source].Heats == heats;

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
            if (Demand.WantsSurface(scan.Memory.Rooms[circuit.Room]))
                warmest = Math.Max(warmest, WarmestUsefulFor(scan, circuit));
        }
        return warmest;
    }

    /// <summary>Measured supply while it flows, else the coldest (in heating the warmest) this loop is meant to have, °C.</summary>
    public static double Expected(in Scan scan, int loop)
    {
        var supply = scan.Reading(scan.House.Loops[loop].Supply);
        var part = scan.House.Loops[loop];
        return Flows(scan, loop) && supply.Exists ? supply.Value : scan.Memory.Loops[loop].Heats ? part.Settings.HeatingWarmestC(part.Serves) : part.ColdestC;
    }
}
