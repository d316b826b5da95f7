// Houses for tests of section 5: rooms that share one loop, floors and ceilings with numbers of their own, and water that stands and flows. Invented data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal static class GuardHouse
{
    public const string Loop = "ceiling-loop";

    public const string Supply = "ceiling-loop.supply.temperature";

    public static SurfacePart Surface(
        string name, double area = 16, (string Key, double Value)[]? kind = null, (string Key, double Value)[]? settings = null, ActuatorKind? actuator = null, string loop = Loop)
    {
        var floor = name.StartsWith("floor", StringComparison.Ordinal);
        var part = BenchHouse.Surface(name, loop, area) with { Actuator = actuator ?? ActuatorKind.Modulating() };
        TestHouse.Fill(part.Kind, floor ? SurfaceKind.SlabParameters : SurfaceKind.Parameters, kind ?? []);
        TestHouse.Fill(part.Settings, SurfaceSettings.FloorParameters, settings ?? []);
        return part with { Place = floor ? SurfacePlace.Floor : name.StartsWith("wall", StringComparison.Ordinal) ? SurfacePlace.Wall : SurfacePlace.Ceiling };
    }

    public static RoomPart Room(string name, SurfacePart surface, bool coil = false, (string Key, double Value)[]? settings = null)
    {
        var room = BenchHouse.Room(name, coil ? [BenchHouse.Coil()] : [], [surface]);
        TestHouse.Fill(room.Settings, RoomSettings.Parameters, settings ?? []);
        return room;
    }

    public static House Build(
        RoomPart[] rooms, Seasons seasons = Seasons.Cooling, bool bypass = false, string manifold = "", (string Key, double Value)[]? sequence = null)
    {
        var loop = BenchHouse.Surfaces(Loop, seasons, manifold) with { Settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("bypass", bypass ? 1 : 0)) };
        var settings = TestHouse.Fill(new SequenceSettings(), SequenceSettings.Parameters, sequence ?? []);
        var source = seasons == Seasons.Heating ? SourceType.Boiler : SourceType.Chiller;
        return new HouseBuilder(_ => new SensorSettings(), _ => false).Build(
            new HouseParts("Bench", 12, UnitSystem.Metric, settings, rooms, [loop, BenchHouse.Coils()]) { Source = new SourcePart(source, new SourceSettings()) });
    }

    /// <summary>A rig whose supply follows its set point as a mixing valve would have it, with a minute's time constant, and stands still without a pump.</summary>
    public static Rig Follow(House house, double supply = 18)
    {
        var rig = new Rig(house);
        rig.Set(Supply, supply);
        rig.EachScan = r =>
        {
            if (r.CeilingPump)
                r.Set(Supply, r.Get(Supply) + (r.Image.Loops[0].SetPointC - r.Get(Supply)) / 60);
        };
        return rig;
    }

    public static void Air(this Rig rig, string room, double temperature, double humidity)
    {
        rig.Set($"{room}.air.temperature", temperature);
        rig.Set($"{room}.air.humidity", humidity);
    }

    public static double Valve(this Rig rig, string room, string surface = "ceiling") => rig.Output($"{room}.{surface}.valve").Value;

    public static bool Has(this Rig rig, EventDefinition what) => rig.Happened.Exists(h => h.EventId == what.Id);
}
