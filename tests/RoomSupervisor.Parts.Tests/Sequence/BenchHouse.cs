// Houses of other shapes for tests of the sequence: coils only, surfaces only, several of each, a coil for two rooms, heating. Invented data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal static class BenchHouse
{
    public static CoilKind Kind(double output = 2400)
    {
        var kind = TestHouse.Fill(new CoilKind(), CoilKind.Parameters, ("output", output));
        return TestHouse.Fill(kind, CoilKind.SoundParameters, ("level", 47));
    }

    public static CoilPart Coil(string name = "coil", string loop = "coil-loop", double output = 2400, string heating = "")
        => new(name, loop, Kind(output), new CoilSettings()) { HeatingLoop = heating };

    public static SurfacePart Surface(string name, string loop, double area = 16)
    {
        var floor = name.StartsWith("floor", StringComparison.Ordinal);
        return new SurfacePart(name, loop, floor ? SurfaceKind.Slab() : SurfaceKind.Panel(), TestHouse.Fill(new SurfaceSettings(), SurfaceSettings.Parameters, ("area", area)), ActuatorKind.Modulating())
        {
            Place = floor ? SurfacePlace.Floor : SurfacePlace.Ceiling,
        };
    }

    public static RoomPart Room(string name, CoilPart[] coils, SurfacePart[] surfaces, double area = 24, (string Key, double Value)[]? household = null)
        => new(
            name, TestHouse.Fill(new RoomSettings(), RoomSettings.Parameters, ("number", 1), ("floor_area", area)),
            TestHouse.Fill(new HouseholdRoom(), HouseholdRoom.Parameters, household ?? []), coils, surfaces);

    public static LoopPart Surfaces(string name, Seasons seasons = Seasons.Cooling, string manifold = "")
        => new(name, LoopType.Mixed, LoopServes.Surfaces, new LoopSettings()) { Seasons = seasons, ManifoldRoom = manifold };

    public static LoopPart Coils(string name = "coil-loop", Seasons seasons = Seasons.Cooling) => new(name, LoopType.Direct, LoopServes.Coils, new LoopSettings()) { Seasons = seasons };

    public static House Build(RoomPart[] rooms, LoopPart[] loops, SourceType source = SourceType.Chiller, SharedCoilPart[]? shared = null, SourceType? second = null, string[]? wired = null)
        => new HouseBuilder(_ => new SensorSettings(), id => wired?.Contains(id) ?? false).Build(
            new HouseParts("Bench", 12, UnitSystem.Metric, new SequenceSettings(), rooms, loops)
            {
                SharedCoils = shared ?? [],
                Source = new SourcePart(source, new SourceSettings()),
                HeatSource = second is { } type ? new SourcePart(type, new SourceSettings()) : null,
            });
}
