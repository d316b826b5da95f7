// Small buildings several tests use.
// Must never be a real client's house.
namespace RoomSupervisor.VirtualHouse.Tests;

internal static class Samples
{
    internal static readonly Layer Plaster = new(0.015, 0.5, 1200, 1000), Brick = new(0.15, 0.6, 1400, 900), Insulation = new(0.16, 0.035, 30, 1030),
        Board = new(0.0125, 0.2, 800, 1000), Screed = new(0.045, 1.2, 2000, 1000), Concrete = new(0.2, 2.0, 2300, 1000), Wood = new(0.02, 0.14, 500, 1600);

    /// <summary>A closed box with nothing behind its walls and one active surface, furniture and buffers as asked.</summary>
    internal static BuildingPlan Box(SurfacePlan? active = null, double volume = 75, double infiltration = 0, double buffers = 0, OpeningPlan? opening = null, double furniture = 10_000) =>
        new(
            [
                new RoomPlan("room", 30, volume)
                {
                    InfiltrationPerH = infiltration, FastMoistureGPerPercentM2 = 0.3 * buffers, SlowMoistureGPerPercentM2 = 1.5 * buffers,
                    FastFurnitureJPerM2K = furniture, SlowFurnitureJPerM2K = furniture, StartC = 24, StartHumidityPercent = 50,
                },
            ],
            [
                new("walls", 0, 55, Lie.Wall, Beyond.Nothing, Plaster, Brick),
                .. active is null ? new SurfacePlan[] { new("ceiling", 0, 30, Lie.Ceiling, Beyond.Nothing, Plaster), new("floor", 0, 30, Lie.Floor, Beyond.Nothing, Wood) } : [active],
            ],
            [], [], opening is null ? [] : [opening]);

    /// <summary>
    /// Six rooms on two floors: outside walls, windows to all sides, partitions, an intermediate floor with water in it above and ceilings with panels below,
    /// doors between all neighbours, one wide door to the outside.
    /// </summary>
    internal static BuildingPlan SixRooms()
    {
        GlassPlan glass = GlassPlan.FromUg(1.1, 0.55);
        RoomPlan[] rooms = [.. Enumerable.Range(0, 6).Select(i => new RoomPlan("room " + i, 25 + 3 * i, (25 + 3 * i) * 2.6) { LeakageAreaM2 = 0.005 })];
        List<SurfacePlan> surfaces = [];
        List<WindowPlan> windows = [];
        List<DoorPlan> doors = [];
        for (int i = 0; i < 6; i++)
        {
            double area = rooms[i].FloorAreaM2, azimuth = 60 * i;
            surfaces.Add(new($"wall {i}", i, 20, Lie.Wall, Beyond.Outside, Plaster, Brick, Insulation, Plaster) { AzimuthDegrees = azimuth });
            surfaces.Add(new($"partition {i}", i, 15, Lie.Wall, Beyond.Room, Board, new Layer(0.07, 0.05, 40, 1000), Board) { RoomBeyond = i / 3 * 3 + (i + 1) % 3 });
            windows.Add(new($"window {i}", i, 4, azimuth, glass));
            doors.Add(new($"door {i}", i, i / 3 * 3 + (i + 1) % 3, 0.9, 2.05));
            if (i < 3)
            {
                surfaces.Add(new($"ground floor {i}", i, area, Lie.Floor, Beyond.Neighbour, Wood, Screed, Insulation) { NeighbourFilm = 1000, Water = new(1, 0.05, 1.5) });
                surfaces.Add(new($"upper floor {i}", i + 3, area, Lie.Floor, Beyond.Room, Wood, Concrete, Plaster) { RoomBeyond = i });
            }
            else
            {
                surfaces.Add(new($"roof {i}", i, area, Lie.Ceiling, Beyond.Outside, Board, Insulation, Insulation, Wood) { TiltDegrees = 30, AzimuthDegrees = 180 });
            }

            surfaces.Add(Panel($"panel {i}", i, 0.6 * area));
        }

        return new BuildingPlan(rooms, [.. surfaces], [.. windows], [.. doors], [new("slipway", 0, 6, 2.4) { AzimuthDegrees = 200 }, new("back window", 4, 0.8, 1.1) { AzimuthDegrees = 20 }]);
    }

    /// <summary>A metal ceiling panel: 1 mm of aluminium on pipes, wool on its back; 0.01 m²K/W from water to metal gives 78 W/m² at 8 K with a film of 10.8.</summary>
    internal static SurfacePlan Panel(string name, int room, double area) =>
        new(name, room, area, Lie.Ceiling, Beyond.Nothing, new Layer(0.001, 200, 2700, 900), new Layer(0.03, 0.035, 30, 1030)) { Water = new(1, 0.01, 1.2) };
}
