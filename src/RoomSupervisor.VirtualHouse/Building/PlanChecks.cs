// Refuses plans that cannot be, before a building is made of them.
// Must never correct a value: the text says what, its value, the range, and where.
using System.Globalization;

namespace RoomSupervisor.VirtualHouse;

internal static class PlanChecks
{
    /// <exception cref="ArgumentException">Out of range or no number.</exception>
    internal static void Demand(string what, double value, double lowest, double highest, string unit)
    {
        if (!(value >= lowest && value <= highest))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{what} is {value} {unit}; allowed {lowest} to {highest} {unit}."));
    }

    internal static void All(BuildingPlan plan)
    {
        Demand("number of rooms", plan.Rooms.Length, 1, 64, "");
        Demand("air pressure", plan.PressurePa, 50_000, 110_000, "Pa");
        Demand("ground reflectance", plan.GroundReflectance, 0, 1, "");
        foreach (RoomPlan room in plan.Rooms) Room(room);
        foreach (SurfacePlan surface in plan.Surfaces) Surface(surface, plan.Rooms.Length);
        foreach (WindowPlan window in plan.Windows)
        {
            Index(window.Name, "room", window.Room, plan.Rooms.Length);
            Demand(window.Name + ": area", window.AreaM2, 0.01, 1000, "m²");
            Demand(window.Name + ": shaded", window.Shaded, 0, 1, "");
            Demand(window.Name + ": panes", window.Glass.Panes, 1, 2, "");
            Demand(window.Name + ": gap", window.Glass.GapResistanceM2KPerW, 0, 2, "m²K/W");
        }

        foreach (DoorPlan door in plan.Doors)
        {
            Index(door.Name, "room", door.RoomA, plan.Rooms.Length);
            Index(door.Name, "room", door.RoomB, plan.Rooms.Length);
            Demand(door.Name + ": width", door.WidthM, 0.1, 20, "m");
            Demand(door.Name + ": height", door.HeightM, 0.1, 10, "m");
            Demand(door.Name + ": discharge", door.Discharge, 0.2, 1, "");
            if (door.RoomA == door.RoomB) throw new ArgumentException(door.Name + ": leads from a room into itself.");
        }

        foreach (OpeningPlan opening in plan.Openings)
        {
            Index(opening.Name, "room", opening.Room, plan.Rooms.Length);
            Demand(opening.Name + ": area", opening.AreaM2, 0.01, 100, "m²");
            Demand(opening.Name + ": height", opening.HeightM, 0.1, 10, "m");
        }

        Names([.. plan.Rooms.Select(r => r.Name)]);
        Names([.. plan.Surfaces.Select(s => s.Name), .. plan.Windows.Select(w => w.Name)]);
        Names([.. plan.Doors.Select(d => d.Name), .. plan.Openings.Select(o => o.Name)]);
    }

    private static void Room(RoomPlan room)
    {
        Demand(room.Name + ": floor area", room.FloorAreaM2, 1, 2000, "m²");
        Demand(room.Name + ": volume", room.VolumeM3, 2, 20_000, "m³");
        Demand(room.Name + ": infiltration", room.InfiltrationPerH, 0, 10, "1/h");
        Demand(room.Name + ": leakage area", room.LeakageAreaM2, 0, 1, "m²");
        Demand(room.Name + ": fast furniture", room.FastFurnitureJPerM2K, 0, 200_000, "J/(m²·K)");
        Demand(room.Name + ": slow furniture", room.SlowFurnitureJPerM2K, 0, 500_000, "J/(m²·K)");
        Demand(room.Name + ": fast moisture", room.FastMoistureGPerPercentM2, 0, 10, "g/(%·m²)");
        Demand(room.Name + ": slow moisture", room.SlowMoistureGPerPercentM2, 0, 30, "g/(%·m²)");
        Demand(room.Name + ": fast moisture time", room.FastMoistureS, 60, 1e7, "s");
        Demand(room.Name + ": slow moisture time", room.SlowMoistureS, 60, 1e7, "s");
        if (room.FastFurnitureJPerM2K == 0 && room.FastMoistureGPerPercentM2 + room.SlowMoistureGPerPercentM2 > 0)
            throw new ArgumentException(room.Name + ": what takes up moisture has mass; give fast furniture more than 0 J/(m²·K) or take the moisture buffers to 0.");
        Demand(room.Name + ": start", room.StartC, -30, 60, "°C");
        Demand(room.Name + ": start humidity", room.StartHumidityPercent, 1, 100, "%");
    }

    private static void Surface(SurfacePlan surface, int rooms)
    {
        Index(surface.Name, "room", surface.Room, rooms);
        if (surface.Beyond == Beyond.Room) Index(surface.Name, "room beyond", surface.RoomBeyond, rooms);
        Demand(surface.Name + ": area", surface.AreaM2, 0.01, 10_000, "m²");
        Demand(surface.Name + ": layers", surface.Layers.Length, 1, 12, "");
        Demand(surface.Name + ": emissivity", surface.Emissivity, 0.05, 1, "");
        Demand(surface.Name + ": roughness", surface.Roughness, 1, 2.2, "");
        Demand(surface.Name + ": neighbour's film", surface.NeighbourFilm, 0.1, 1e6, "W/(m²·K)");
        Demand(surface.Name + ": outside absorptance", surface.OutsideSolarAbsorptance, 0, 1, "");
        Demand(surface.Name + ": inside absorptance", surface.InsideSolarAbsorptance, 0.01, 1, "");
        double capacity = 0;
        foreach (Layer layer in surface.Layers)
        {
            Demand(surface.Name + ": layer", layer.ThicknessM, 0.0002, 3, "m");
            Demand(surface.Name + ": conductivity", layer.ConductivityWPerMK, 0.01, 400, "W/(m·K)");
            Demand(surface.Name + ": density", layer.DensityKgPerM3, 0, 9000, "kg/m³");
            Demand(surface.Name + ": specific heat", layer.SpecificHeatJPerKgK, 0, 5000, "J/(kg·K)");
            capacity += layer.ThicknessM * layer.DensityKgPerM3 * layer.SpecificHeatJPerKgK;
        }

        Demand(surface.Name + ": capacity of all layers", capacity, 100, 1e8, "J/(m²·K)");
        if (surface.Water is not { } water) return;
        Demand(surface.Name + ": pipes after layer", water.AfterLayer, 1, surface.Layers.Length, "");
        Demand(surface.Name + ": resistance to water", water.ResistanceM2KPerW, 0.001, 1, "m²K/W");
        Demand(surface.Name + ": water content", water.WaterKgPerM2, 0, 20, "kg/m²");
    }

    private static void Index(string name, string what, int index, int count)
    {
        if (index < 0 || index >= count) throw new ArgumentException($"{name}: {what} {index} is not in the plan; it has rooms 0 to {count - 1}.");
    }

    private static void Names(string[] names)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (string name in names)
            if (!seen.Add(name)) throw new ArgumentException($"Two parts of the plan are called {name}.");
    }
}
