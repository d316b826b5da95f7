// Houses built in code for tests of the sequence: invented data, one room unless said otherwise.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal static class TestHouse
{
    /// <summary>24 m² room, 16 m² ceiling, 2.4 kW coil; household caps by key, sequence settings by key.</summary>
    public static House OneRoom(
        (string Key, double Value)[]? household = null, (string Key, double Value)[]? quiet = null, (string Key, double Value)[]? sequence = null,
        (string Key, double Value)[]? coil = null, string[]? wired = null, int rooms = 1, bool sharedLoop = false)
    {
        var parts = new List<RoomPart>();
        var loops = new List<LoopPart>();
        for (var i = 0; i < rooms; i++)
        {
            var suffix = i == 0 ? "" : $"-{i + 1}";
            var loop = sharedLoop ? "ceiling-loop" : "ceiling-loop" + suffix;
            parts.Add(Part("room" + suffix, loop, household, quiet, coil));
            if (i > 0 && sharedLoop)
                continue;
            loops.Add(new LoopPart(loop, LoopType.Mixed, LoopServes.Surfaces, Fill(new LoopSettings(), LoopSettings.Parameters)));
        }
        loops.Add(new LoopPart("coil-loop", LoopType.Direct, LoopServes.Coils, Fill(new LoopSettings(), LoopSettings.Parameters)));
        var builder = new HouseBuilder(_ => new SensorSettings(), id => wired?.Contains(id) ?? false);
        return builder.Build(new HouseParts("Bench", 12, UnitSystem.Metric, Fill(new SequenceSettings(), SequenceSettings.Parameters, sequence ?? []), parts, loops));
    }

    private static RoomPart Part(
        string name, string loop, (string Key, double Value)[]? household, (string Key, double Value)[]? quiet, (string Key, double Value)[]? coil)
    {
        var asked = Fill(new HouseholdRoom(), HouseholdRoom.Parameters, household ?? []);
        Fill(asked, HouseholdRoom.QuietParameters, quiet ?? []);
        var kind = Fill(new CoilKind(), CoilKind.Parameters, ("output", 2400));
        Fill(kind, CoilKind.SoundParameters, ("level", 47));
        return new RoomPart(
            name,
            Fill(new RoomSettings(), RoomSettings.Parameters, ("number", 1), ("floor_area", 24)),
            asked,
            [new CoilPart("coil", "coil-loop", kind, Fill(new CoilSettings(), CoilSettings.Parameters, coil ?? []))],
            [new SurfacePart("ceiling", loop, SurfaceKind.Panel(), Fill(new SurfaceSettings(), SurfaceSettings.Parameters, ("area", 16)), ActuatorKind.Modulating())]);
    }

    /// <summary>Sets values through the declared parameters, the way a reader does.</summary>
    public static T Fill<T>(T owner, IReadOnlyList<Parameter<T>> parameters, params (string Key, double Value)[] values)
    {
        foreach (var (key, value) in values)
            parameters.Single(parameter => parameter.Key == key).SetNumber!(owner, value);
        return owner;
    }
}
