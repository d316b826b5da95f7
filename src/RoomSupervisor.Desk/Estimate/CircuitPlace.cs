// Where each cooled surface of a house lies in its building and plant, and how cold the water of its loop may be at a moment.
// Must never let one wet room stop a whole loop: a room that alone asks for water 1.5 K warmer is shut, as the sequence shuts it.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A cooled circuit.</summary>
/// <param name="Circuit">Index in the house.</param>
/// <param name="Loop">Index of its loop.</param>
/// <param name="Room">Index of its room.</param>
/// <param name="Surface">Index in the building.</param>
/// <param name="AreaM2">m².</param>
/// <param name="RatedWPerM2">At 8 K, W/m².</param>
/// <param name="RatedKgPerS">Its flow, kg/s.</param>
internal sealed record CircuitPlace(int Circuit, int Loop, int Room, int Surface, double AreaM2, double RatedWPerM2, double RatedKgPerS)
{
    private const double AloneK = 1.5;

    /// <summary>All cooled circuits of a drafted house.</summary>
    public static CircuitPlace[] Of(Drafted drafted)
    {
        var house = drafted.Files.House;
        List<CircuitPlace> all = [];
        for (var l = 0; l < house.Loops.Length; l++)
        {
            if (!house.Loops[l].Cools || !house.Sources[0].Cools)
                continue;
            foreach (var circuit in house.Loops[l].Circuits)
            {
                var plan = drafted.Plant.Loops[l].Circuits.First(one => one.Surface == drafted.Building.SurfaceOf[circuit]);
                var part = house.Circuits[circuit];
                all.Add(new CircuitPlace(circuit, l, part.Room, plan.Surface, part.Settings.AreaM2, part.Kind.OutputWPerM2, plan.Flow.RatedKgPerS));
            }
        }
        return [.. all];
    }

    /// <summary>Coldest water a loop may have now, °C.</summary>
    public static double SupplyC(CircuitPlace[] all, int loop, BuildingModel building, Drafted drafted)
    {
        double first = double.NegativeInfinity, second = double.NegativeInfinity;
        foreach (var place in all)
        {
            if (place.Loop != loop)
                continue;
            var safe = SurfaceGives.LowestSafeC(building.AirC[place.Room], building.DewPointC[place.Room]);
            (first, second) = safe > first ? (safe, first) : (first, Math.Max(second, safe));
        }
        var manifold = drafted.Files.House.Loops[loop].ManifoldRoom;
        var counts = double.IsFinite(second) && first - second > AloneK ? second : first;
        if (manifold >= 0)
            counts = Math.Max(counts, SurfaceGives.LowestSafeC(building.AirC[manifold], building.DewPointC[manifold]));
        return Math.Max(counts, SurfaceGives.ColdestC);
    }
}
