// From a site file and its building.yaml to a building: rooms, walls, glass, surfaces with water, doors.
// Must never take a number from the sequence's memory: only what the installer and building.yaml say, and stated defaults.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>A building plan with the surfaces of the site's circuits in it.</summary>
/// <param name="Plan">The plan; its rooms stand in the order of the site.</param>
/// <param name="SurfaceOf">Index of the plan's surface by circuit of the house.</param>
/// <param name="OnGround">Indices of surfaces that lie on the ground.</param>
/// <param name="OpeningsOf">Indices of openings to the outside by room.</param>
public sealed record VirtualBuilding(BuildingPlan Plan, int[] SurfaceOf, int[] OnGround, int[][] OpeningsOf);

/// <summary>Makes a building of a site.</summary>
public sealed class HouseFromSite
{
    private readonly House house;
    private readonly BuildingFile file;
    private readonly ShellLayers[] byRoom;
    private readonly string[] names;
    private readonly List<SurfacePlan> surfaces = [];
    private readonly List<WindowPlan> windows = [];
    private readonly List<int> ground = [];
    private readonly int[] surfaceOf;

    private HouseFromSite(House house, BuildingFile file)
    {
        (this.house, this.file) = (house, file);
        names = [.. house.Rooms.Select(room => room.Id)];
        byRoom = [.. names.Select(name => new ShellLayers(file, file.Rooms[name]))];
        surfaceOf = new int[house.Circuits.Length];
    }

    /// <summary>Makes the building.</summary>
    /// <param name="house">The site's house.</param>
    /// <param name="file">Its building.yaml, or defaults.</param>
    public static VirtualBuilding Make(House house, BuildingFile file)
    {
        var maker = new HouseFromSite(house, file);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            maker.Outside(i);
            maker.Top(i);
            maker.Bottom(i);
            maker.Inner(i);
        }
        DoorPlan[] doors = [.. file.Doors.Select(door => new DoorPlan(door.Name, maker.Room(door.From), maker.Room(door.To), door.WidthM, door.HeightM) { UsuallyOpen = door.UsuallyPercent / 100 })];
        OpeningPlan[] openings = maker.Openings();
        var plan = new BuildingPlan([.. house.Rooms.Select(maker.Plan)], [.. maker.surfaces], [.. maker.windows], doors, openings)
        {
            PressurePa = house.PressurePa,
            WindFactor = file.WindShare,
        };
        int[][] openingsOf = [.. house.Rooms.Select((_, i) => openings.Index().Where(o => o.Item.Room == i).Select(o => o.Index).ToArray())];
        return new VirtualBuilding(plan, maker.surfaceOf, [.. maker.ground], openingsOf);
    }

    /// <summary>Every room whose contact is wired has something to open, or its contact could never be tried.</summary>
    private OpeningPlan[] Openings()
    {
        List<OpeningPlan> all = [.. file.Openings.Select(o => new OpeningPlan(o.Name, Room(o.Room), o.WidthM * o.HeightM, o.HeightM) { AzimuthDegrees = 90 * BuildingFile.Directions.ToList().IndexOf(o.Faces) })];
        for (var i = 0; i < names.Length; i++)
        {
            if (all.All(o => o.Room != i))
                all.Add(new OpeningPlan(names[i] + "-window", i, 1.0, 1.2) { AzimuthDegrees = 90 * FacesOf(i) });
        }
        return [.. all];
    }

    private int Room(string name) => Array.IndexOf(names, name);

    private double Floor(int room) => house.Rooms[room].Settings.FloorAreaM2;

    private RoomShell Shell(int room) => file.Rooms[names[room]];

    // Where nobody says more: rooms take turns, south first.
    private static int FacesOf(int room) => (2 + room) % 4;

    private RoomPlan Plan(Room room, int index)
    {
        var volume = Floor(index) * Shell(index).HeightM;
        // n50 to effective leakage area at 4 Pa, discharge 1: Q50·(4/50)^0.65/√(2·4/1.2) (Sherman and Grimsrud 1980 in form, exponent 0.65 usual).
        var leakage = file.AirChangesAt50Pa * volume / 3600 * Math.Pow(4.0 / 50, 0.65) / Math.Sqrt(2 * 4 / 1.2);
        return new RoomPlan(room.Id, Floor(index), volume) { InfiltrationPerH = file.VentilationPerH, LeakageAreaM2 = Math.Min(leakage, 1), StartC = 23, StartHumidityPercent = 50 };
    }

    private void Outside(int room)
    {
        var (shell, layers) = (Shell(room), byRoom[room]);
        for (var i = 0; i < 4; i++)
        {
            // Default: one outer wall as long as a square room's side, a fifth of the floor in glass.
            var isDefault = !shell.SaysOutside && i == FacesOf(room);
            var wall = isDefault ? Math.Sqrt(Floor(room)) * shell.HeightM : Said(shell.WallM2(i));
            var glass = isDefault ? Math.Min(0.2 * Floor(room), 0.7 * wall) : Said(shell.GlassM2(i));
            if (wall - glass > 0.05)
                surfaces.Add(new SurfacePlan($"{names[room]} wall {BuildingFile.Directions[i]}", room, wall - glass, Lie.Wall, Beyond.Outside, layers.Wall()) { AzimuthDegrees = 90 * i });
            if (glass > 0.05)
                windows.Add(new WindowPlan($"{names[room]} glass {BuildingFile.Directions[i]}", room, glass, 90 * i, layers.Glass) { Shaded = shell.ShadingPercent / 100 });
        }
    }

    private static double Said(double value) => double.IsNaN(value) ? 0 : value;

    private void Top(int room)
    {
        var above = Shell(room).Above;
        var behind = above == "outside" ? byRoom[room].Roof() : byRoom[room].Storey();
        var left = Floor(room);
        foreach (var index in house.Rooms[room].Circuits.Where(c => house.Circuits[c].Place == SurfacePlace.Ceiling))
            left -= Surface(room, index, Lie.Ceiling, above, behind);
        if (left > 0.1)
            Add(new SurfacePlan(names[room] + " ceiling", room, left, Lie.Ceiling, Beyond.Nothing, behind), above);
    }

    private void Bottom(int room)
    {
        // A room below that names this one as above has already given it its floor.
        var under = Enumerable.Range(0, names.Length).Where(i => i != room && Shell(i).Above == names[room]).Sum(Floor);
        var below = Shell(room).Below;
        Layer[] behind = below == "ground" ? byRoom[room].GroundFloor() : below == "outside" ? byRoom[room].Roof() : byRoom[room].Storey();
        var left = Floor(room) - Math.Min(under, Floor(room));
        foreach (var index in house.Rooms[room].Circuits.Where(c => house.Circuits[c].Place == SurfacePlace.Floor))
            left -= Surface(room, index, Lie.Floor, below, behind);
        if (left > 0.1)
            Add(new SurfacePlan(names[room] + " floor", room, left, Lie.Floor, Beyond.Nothing, behind), below);
    }

    private void Inner(int room)
    {
        // Inner walls and both sides of them: 2.2 sides of a square room (common practice, no published source).
        var area = 2.2 * Math.Sqrt(Floor(room)) * Shell(room).HeightM;
        foreach (var index in house.Rooms[room].Circuits.Where(c => house.Circuits[c].Place == SurfacePlace.Wall))
            area -= Surface(room, index, Lie.Wall, "nothing", byRoom[room].InnerWall());
        if (area > 0.1)
            surfaces.Add(new SurfacePlan(names[room] + " inner walls", room, area, Lie.Wall, Beyond.Nothing, byRoom[room].InnerWall()));
        // Doors and thin partitions to neighbouring rooms: where a door is, a wall stands beside it.
        foreach (var door in file.Doors.Where(door => door.From == names[room]))
        {
            var shared = 0.9 * Math.Sqrt(Math.Min(Floor(room), Floor(Room(door.To)))) * Shell(room).HeightM;
            var name = $"{door.Name} partition";
            surfaces.Add(new SurfacePlan(name, room, shared, Lie.Wall, Beyond.Room, byRoom[room].InnerWall()) { RoomBeyond = Room(door.To) });
        }
    }

    private double Surface(int room, int index, Lie lie, string beyond, Layer[] behind)
    {
        var circuit = house.Circuits[index];
        var kind = circuit.Kind;
        var (all, water) = kind.IsSlab
            ? ShellLayers.Slab(double.IsNaN(kind.HeatingOutputWPerM2) ? kind.OutputWPerM2 : kind.HeatingOutputWPerM2, kind.WaterContentLPerM2, behind)
            : ShellLayers.Panel(kind.OutputWPerM2, kind.ResponseS, kind.WaterContentLPerM2, behind);
        surfaceOf[index] = surfaces.Count;
        Add(new SurfacePlan(circuit.Id, room, circuit.Settings.AreaM2, lie, Beyond.Nothing, all) { Water = water }, beyond);
        return circuit.Settings.AreaM2;
    }

    private void Add(SurfacePlan surface, string beyond)
    {
        if (beyond == "ground")
            ground.Add(surfaces.Count);
        surfaces.Add(beyond switch
        {
            "outside" => surface with { Beyond = Beyond.Outside, TiltDegrees = surface.Lie == Lie.Floor ? 180 : 0, Exposed = surface.Lie != Lie.Floor },
            "ground" => surface with { Beyond = Beyond.Neighbour, NeighbourFilm = 1000 },
            "neighbour" => surface with { Beyond = Beyond.Neighbour },
            "nothing" => surface,
            _ => surface with { Beyond = Beyond.Room, RoomBeyond = Room(beyond) },
        });
    }
}
