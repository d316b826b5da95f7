// The house the controller is told of: rated figures and defaults, nothing of what the room really is. Built anew for each case.
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Closed;

internal static class ClosedHouse
{
    public const double WantedC = 24;

    public static House Of(ClosedCase one) => Of(one, Math.Round(one.LagS * new TruthOfRoom(one.Seed).LagToldFactor));

    /// <summary>The same with another lag told of the wall sensor, s.</summary>
    public static House Of(ClosedCase one, double lag)
    {
        var surface = one.Floor ? "floor" : "ceiling";
        var wall = new SensorKind();
        TestHouse.Fill(wall, SensorKind.Parameters, ("lag", lag));
        var room = BenchHouse.Room(
            "room", [BenchHouse.Coil(output: TruthOfRoom.RatedCoilW * one.CoilSize)], [BenchHouse.Surface(surface, "surface-loop", one.Floor ? 20 : 16)],
            TruthOfRoom.FloorAreaM2, [("fan_at_most", one.CapPercent), ("cool_above", WantedC)]);
        return new HouseBuilder(id => id == "room.air.temperature" ? wall.Settings : new SensorSettings(), _ => false).Build(
            new HouseParts("Closed", 12, UnitSystem.Metric, new SequenceSettings(), [room], [BenchHouse.Surfaces("surface-loop"), BenchHouse.Coils()]));
    }
}
