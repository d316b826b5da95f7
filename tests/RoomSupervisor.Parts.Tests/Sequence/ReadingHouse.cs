// Houses for tests of the readings: one room with further air sensors, sensors described by id, a surface sensor, a room key. Invented data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal static class ReadingHouse
{
    /// <param name="others">Names of further air sensors, each with humidity.</param>
    /// <param name="lags">Lag of sensors by id, s.</param>
    /// <param name="operative">Whether the operative temperature counts.</param>
    /// <param name="cool">Household's cool_above, °C.</param>
    public static House Of(string[]? others = null, (string Id, double LagS)[]? lags = null, bool operative = false, double cool = 24)
    {
        var room = BenchHouse.Room("room", [BenchHouse.Coil()], [BenchHouse.Surface("ceiling", "ceiling-loop")], household: [("cool_above", cool)]);
        if (operative)
            RoomSettings.Parameters.Single(parameter => parameter.Key == "control_by").SetText!(room.Settings, "operative");
        return new HouseBuilder(id => Sensor(lags, id), _ => false).Build(
            new HouseParts(
                "Bench", 12, UnitSystem.Metric, new SequenceSettings(),
                [room with { OtherAir = [.. (others ?? []).Select(name => new AirSensorPart(name, true))] }], [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()]));
    }

    private static SensorSettings Sensor((string Id, double LagS)[]? lags, string id)
    {
        var lag = lags?.FirstOrDefault(lag => lag.Id == id);
        return lag is { Id: not null } said ? TestHouse.Fill(new SensorKind(), SensorKind.Parameters, ("lag", said.LagS)).Settings : new SensorSettings();
    }

    public static void Chip(this Rig rig, string sensor, double temperature, double humidity)
    {
        rig.Set($"room.{sensor}.temperature", temperature);
        rig.Set($"room.{sensor}.humidity", humidity);
    }
}
