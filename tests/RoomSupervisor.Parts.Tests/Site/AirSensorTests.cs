// Further air sensors of a room in site.yaml: declared by wiring them, with the temperature of their own chip; the keys that came with section 1 of the sequence.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class AirSensorTests
{
    private const string Own = "      air.humidity: {device: io-1, channel: air-humidity, accuracy: 2 %}\n";

    private static (string, string) Registers(params string[] names) => (
        "      terrace-door: {table", string.Concat(names.Select((name, i) => $"      {name}: {{table: holding-register, address: {20 + i}, type: s16, scale: {(name.EndsWith('h') ? "0.1 %" : "0.1 °C")}}}\n")) + "      terrace-door: {table");

    [Fact]
    public void Rule_1_6_a_further_sensor_is_declared_by_wiring_it()
    {
        var result = ReadSite(
            (Own, Own + "      air-desk.temperature: {device: io-1, channel: desk-t, lag: 200 s}\n      air-desk.humidity: {device: io-1, channel: desk-h, resolution: 0.1 %}\n      air-window.temperature: {device: io-1, channel: window-t}\n"),
            Registers("desk-t", "desk-h", "window-t"));
        Assert.DoesNotContain(result.Problems, problem => problem.Severity == Severity.Error);
        var house = result.Files!.House;
        Assert.Equal(["air-desk", "air-window"], house.Rooms[0].OtherAir.Select(sensor => sensor.Name));
        Assert.Equal("weaving-room.air-desk.temperature", house.InputTable[house.Rooms[0].OtherAir[0].Temperature].Id);
        Assert.Equal("weaving-room.air-desk.humidity", house.InputTable[house.Rooms[0].OtherAir[0].Humidity].Id);
        Assert.Equal(-1, house.Rooms[0].OtherAir[1].Humidity);
        Assert.Equal(200, house.Inputs[house.Rooms[0].OtherAir[0].Temperature].Sensor.LagS);
        Assert.Equal(0.1, house.Inputs[house.Rooms[0].OtherAir[0].Humidity].Sensor.ResolutionPercent);
        Assert.True(house.Inputs[house.Rooms[0].OtherAir[0].Humidity].Wired);
    }

    [Fact]
    public void Rule_1_6_a_humidity_without_the_temperature_of_its_chip_is_refused_and_a_slip_is_told()
    {
        var alone = ReadSite((Own, Own + "      air-desk.humidity: {device: io-1, channel: desk-h}\n"), Registers("desk-h"));
        Assert.Contains(alone.Problems, problem => problem.Severity == Severity.Error && problem.Message.Contains("needs that of the same chip", StringComparison.Ordinal));
        var slip = ReadSite((Own, Own + "      air-desk.temprature: {device: io-1, channel: desk-t}\n"), Registers("desk-t"));
        Assert.Contains(slip.Problems, problem => problem.Severity == Severity.Error && problem.KeyPath.EndsWith("air-desk.temprature", StringComparison.Ordinal));
        var many = string.Concat(Enumerable.Range(1, 8).Select(i => $"      air-{i}.temperature: {{device: io-1, channel: t{i}t}}\n"));
        var tooMany = ReadSite((Own, Own + many), Registers([.. Enumerable.Range(1, 8).Select(i => $"t{i}t")]));
        Assert.Contains(tooMany.Problems, problem => problem.Severity == Severity.Error && problem.Message.Contains("one air sensor too many", StringComparison.Ordinal));
    }

    [Fact]
    public void Rule_1_10_operative_without_a_surface_sensor_is_warned_of()
    {
        var result = ReadSite(("    floor_area: 24 m²\n", "    floor_area: 24 m²\n    control_by: operative\n"));
        Assert.Contains(result.Problems, problem => problem.Severity == Severity.Warning && problem.Message.Contains("the air counts alone", StringComparison.Ordinal));
        Assert.True(result.Files!.House.Rooms[0].Settings.IsOperative);
        Assert.False(ReadSite().Files!.House.Rooms[0].Settings.IsOperative);
        var word = ReadSite(("    floor_area: 24 m²\n", "    floor_area: 24 m²\n    control_by: radiant\n"));
        Assert.Contains(word.Problems, problem => problem.Severity == Severity.Error);
    }

    [Fact]
    public void Rule_1_9_return_air_is_acted_on_now()
        => Assert.DoesNotContain(
            ReadSite((Own, Own + "      coil.return_air_temperature: {device: io-1, channel: back-t, lag: 40 s}\n"), Registers("back-t")).Problems,
            problem => problem.Message.Contains("does not act on it yet", StringComparison.Ordinal));
}
