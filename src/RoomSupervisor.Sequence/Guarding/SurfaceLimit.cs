// Section 5, rules 7 and 9: temperatures that a surface must not pass for the feet, the head or a door that may open, and the supply water that keeps them. Never takes the
// place of the dew point of the room itself: that is the guard's.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

/// <summary>Surface limits as supply water.</summary>
internal static class SurfaceLimit
{
    /// <summary>A measured surface lets the water go this far beyond the estimate at most, K; towards safety it moves it without limit (project choice).</summary>
    private const double BeyondEstimateK = 3;

    /// <summary>
    /// Kelvin of water for each kelvin of measured surface (project choice). A surface follows its water by about half, so the loop of sensor and slab has a
    /// gain of about 1: it closes in on the limit without passing it, twice as fast as the slab alone.
    /// </summary>
    private const double SensorGain = 2;

    /// <summary>Over its limit by this much, by a sensor of its own, a heated surface is shut, K (project choice).</summary>
    public const double ShutOverK = 1;

    /// <summary>A seated head stands this far under the ceiling: 2.4 m of room less 0.6 m, the height at which ISO 7730 judges asymmetry of a seated person (from memory), m.</summary>
    private const double CeilingOverHeadM = 1.8;

    /// <summary>Coldest supply that rules 5.7 and 5.9 allow a cooled circuit, °C; negative infinity: no limit. With the reason.</summary>
    public static double ColdestSupply(in Scan scan, int index, out Reason why)
    {
        var circuit = scan.House.Circuits[index];
        var (limit, cause) = ColdestSurface(scan, circuit, ref scan.Memory.Circuits[index]);
        why = default;
        if (double.IsNaN(limit) || !TrySupply(scan, circuit, limit, heats: false, out var supply))
            return double.NegativeInfinity;
        why = Reason.Of(cause, supply, limit, scan.Memory.OutdoorDewPointC);
        return supply;
    }

    /// <summary>Warmest supply that rule 5.9 allows a heated circuit, °C; positive infinity: its room's air is not known.</summary>
    public static double WarmestSupply(in Scan scan, int index)
    {
        var circuit = scan.House.Circuits[index];
        return TrySupply(scan, circuit, WarmestSurface(scan, circuit), heats: true, out var supply) ? supply : double.PositiveInfinity;
    }

    /// <summary>Warmest surface in heating, °C; NaN where it hangs on an air temperature that is missing.</summary>
    public static double WarmestSurface(in Scan scan, Circuit circuit)
    {
        var s = scan.Settings;
        var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
        return circuit.Place switch
        {
            SurfacePlace.Floor => circuit.Settings.IsEdge ? s.EdgeFloorAtMostC : circuit.Settings.IsBath ? s.BathFloorAtMostC : s.FloorAtMostC,
            SurfacePlace.Ceiling => air.Value + s.CeilingAsymmetryK / ViewOf(circuit.Settings.AreaM2),
            _ => air.Value + s.WallAsymmetryK,   // somebody may sit close to it and see nothing else on that side
        };
    }

    /// <summary>
    /// Share of what a small horizontal plane sees that a square ceiling of this area above it fills: the configuration factor of a plane element to a parallel rectangle,
    /// four times that with the element under a corner (Howell's catalogue of configuration factors, B-4; from memory). Radiant asymmetry is this share of the difference in temperature.
    /// </summary>
    private static double ViewOf(double areaM2)
    {
        var side = Math.Sqrt(areaM2) / 2 / CeilingOverHeadM;
        var root = Math.Sqrt(1 + side * side);
        return 4 / Math.PI * (side / root) * Math.Atan(side / root);
    }

    /// <summary>The coldest the surface may be, °C; NaN: no limit. The floor under people's feet, and the outdoor reserve of a slab.</summary>
    private static (double LimitC, Cause Cause) ColdestSurface(in Scan scan, Circuit circuit, ref CircuitMemory m)
    {
        var reserve = Reserve(scan, circuit, ref m);
        var floor = circuit.Place == SurfacePlace.Floor ? scan.Settings.FloorAtLeastC : double.NaN;
        return reserve > floor || double.IsNaN(floor) ? (reserve, Cause.OutdoorReserve) : (floor, Cause.FloorForFeet);
    }

    /// <summary>
    /// Rule 5.7: a slab cannot be warmed when a door opens, so it is not cooled too far beforehand. Counted from the air outdoors, while that is much more humid than the room
    /// and openings are likely; half a kelvin of hysteresis. NaN: none.
    /// </summary>
    private static double Reserve(in Scan scan, Circuit circuit, ref CircuitMemory m)
    {
        var s = scan.Settings;
        ref readonly var room = ref scan.Memory.Rooms[circuit.Room];
        var outdoors = scan.Memory.OutdoorDewPointC;
        var likely = room.OpeningsLikelyForS > 0 || scan.House.Rooms[circuit.Room].Settings.OpeningsLikely;
        m.Reserves = circuit.Kind.IsSlab && likely && outdoors > room.DewPointC + s.OutdoorReserveFromK - (m.Reserves ? 0.5 : 0);
        return m.Reserves ? outdoors - s.OutdoorReserveUnderK : double.NaN;
    }

    /// <summary>
    /// Supply with which the surface settles at a temperature: what it then exchanges with the room (ISO 11855-2: floor cooling 7, wall 8, ceiling heating 6 W/m²K; floor
    /// heating and ceiling cooling 8.92·dT^1.1), and by its rating the water for that. A sensor on the surface corrects the estimate.
    /// </summary>
    private static bool TrySupply(in Scan scan, Circuit circuit, double surfaceC, bool heats, out double supply)
    {
        supply = double.NaN;
        var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
        if (!air.Exists || double.IsNaN(surfaceC))
            return false;
        var difference = Math.Clamp(heats ? surfaceC - air.Value : air.Value - surfaceC, 0, 40);
        if (!TryExchange(circuit.Place, difference, heats, out var perArea))
            return false;
        supply = Emitters.SupplyForOutput(circuit, air.Value, perArea * circuit.Settings.AreaM2, scan.Settings.SupplyFromReturnK, heats);
        var measured = scan.Reading(circuit.SurfaceTemperature);
        if (!measured.Exists)
            return true;
        var correction = SensorGain * (surfaceC - measured.Value);
        supply += heats ? Math.Min(correction, BeyondEstimateK) : Math.Max(correction, -BeyondEstimateK);
        return true;
    }

    private static bool TryExchange(SurfacePlace place, double differenceK, bool heats, out double wattsPerM2) => place switch
    {
        SurfacePlace.Wall => RadiantSurface.TryWall(differenceK, out wattsPerM2, out _),
        SurfacePlace.Floor when !heats => RadiantSurface.TryFloorCooling(differenceK, out wattsPerM2, out _),
        SurfacePlace.Ceiling when heats => RadiantSurface.TryCeilingHeating(differenceK, out wattsPerM2, out _),
        _ => RadiantSurface.TryFloorHeatingOrCeilingCooling(differenceK, out wattsPerM2, out _),
    };
}
