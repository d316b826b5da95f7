// Estimates that cannot be are told by line with the plausible range; what nobody wrote has a stated default. Must never accept a house that cannot stand.
using RoomSupervisor.Site;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public class EstimateFileTests
{
    [Fact]
    public void What_is_written_holds_and_the_rest_is_a_stated_default()
    {
        EstimateFile file = Asked.Read(Asked.Small).Estimate!;
        Assert.Equal(("Boat shed", "heat-pump", 24.0, 16.0), (file.Name, file.Source.Type, file.Rooms[0].FloorAreaM2, file.Rooms[0].Surfaces[0].Area(24)));
        Assert.Equal((2.6, 14.0), (file.Building.Rooms["shed"].HeightM, file.Building.Rooms["shed"].WallM2(2)));
        Assert.Contains(file.Effective, value => value is { Path: "building.insulation", Shown: "usual", IsDefault: true });
        Assert.Contains(file.Effective, value => value is { Path: "rooms.shed.cool_above", Shown: "24 °C", IsDefault: true });
        Assert.Contains(file.Effective, value => value is { Path: "rooms.shed.floor_area", IsDefault: false });
        Assert.Equal(3, file.Variants.Count);
    }

    [Theory]
    [InlineData("weather: new-york", "wether: new-york", 4, "weather")]
    [InlineData("floor_area: 24 m²", "floor_area: 24 °C", 7, "m²")]
    [InlineData("floor_area: 24 m²", "floor_area: 5000 m²", 7, "2 m² to 2000 m²")]
    [InlineData("    floor_area: 24 m²\n", "", 7, "floor_area")]
    [InlineData("wall_south: 14 m²", "wall_south: 140 m²", 10, "0 m² to 50 m²")]
    [InlineData("glass_south: 4 m²", "glass_south: 20 m²", 11, "larger than the wall")]
    [InlineData("glass_south: 4 m²", "glass_south: 20 m²", 11, "\"20 m²\" is larger than the wall it is in; allowed: 0 m² to 14 m²")]
    [InlineData("    coil: {}\n", "    coil: {}\n  hall:\n    floor_area: 6 m²\n", 15, "nothing heats or cools the room")]
    [InlineData("width: 2 m", "width: 20 m, height: 9 m", 16, "up to 100 m²")]
    [InlineData("coil: {}", "coil: {shared_with: shed}", 14, "there is no other room")]
    [InlineData("ceiling: {area: 16 m²}", "ceiling: {area: 40 m²}", 13, "1 m² to 24 m²")]
    [InlineData("coil: {}", "coil: {shared_with: barn}", 14, "not another room")]
    [InlineData("coil: {}", "coil: {output: 30 kW}", 14, "100 W to 20000 W")]
    [InlineData("noise_at_most: 35 dB", "heat_below: 24 °C", 12, "1 K under cool_above")]
    [InlineData("noise_at_most: 35 dB", "people: 40", 12, "0 to 24")]
    [InlineData("noise_at_most: 35 dB", "devices: 4 kW", 12, "100 W/m²")]
    [InlineData("room: shed", "room: barn", 16, "shed")]
    [InlineData("time_zone: America/New_York", "time_zone: America/Newyork", 2, "time zone")]
    [InlineData("  weather: new-york", "  altitude: 12 m", 4, "no weather file is named")]
    [InlineData("  weather: new-york", "  weather: new-york\n  summer_outdoor: 32 °C", 4, "beside summer_outdoor")]
    public void A_mistake_is_told_with_its_line_and_what_is_allowed(string was, string now, int line, string words)
    {
        EstimateFileResult result = Asked.Read(Asked.Small.Replace(was, now, StringComparison.Ordinal));
        Assert.Null(result.Estimate);
        Assert.Contains(result.Problems, problem => problem.Mark.Line is var at && Math.Abs(at - line) <= 1 && problem.OneLine.Contains(words, StringComparison.Ordinal));
    }

    [Fact]
    public void Rooms_that_lie_over_each_other_are_told()
    {
        EstimateFileResult read = Asked.Read(Asked.Small.Replace("above: outside", "above: loft", StringComparison.Ordinal).Replace("openings:", "  loft: {floor_area: 20 m², above: shed, coil: {}}\nopenings:", StringComparison.Ordinal));
        Assert.Contains(read.Problems, problem => problem.OneLine.Contains("rooms.shed.above: \"loft\" lies over it and under it at once", StringComparison.Ordinal));
    }

    [Fact]
    public void A_place_out_of_range_is_told_as_that_and_not_as_missing()
    {
        EstimateFileResult read = Asked.Read(Asked.Small.Replace("weather: new-york", "{latitude: 91, longitude: 0, winter_outdoor: 0 °C, summer_outdoor: 30 °C, summer_dew_point: 20 °C}", StringComparison.Ordinal).Replace("place:\n  ", "place: ", StringComparison.Ordinal));
        Assert.Contains("-66 to 66", Assert.Single(read.Problems).OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_weather_file_that_is_not_there_is_told_with_its_line()
    {
        EstimateFileResult read = EstimateFileReader.Read("estimate.yaml", System.Text.Encoding.UTF8.GetBytes(Asked.Small.Replace("new-york", "new-yorc", StringComparison.Ordinal)), weather => RoomSupervisor.Desk.Estimate.DesignDays.WeatherFault(weather, Data.Root));
        Problem one = Assert.Single(read.Problems);
        Assert.Equal(4, one.Mark.Line);
        Assert.Contains("place.weather: \"new-yorc\" is no weather file", one.OneLine, StringComparison.Ordinal);
        Assert.Contains("chicago, new-york, or an EPW file", one.OneLine, StringComparison.Ordinal);
        Assert.Contains("did you mean new-york?", one.OneLine, StringComparison.Ordinal);
    }

    /// <summary>Two readers share the keys of a room and of the building; a key that neither knows is told once, with all that may stand there.</summary>
    [Theory]
    [InlineData("noise_at_most: 35 dB", "colour: red")]
    [InlineData("rooms:\n", "building: {colour: red}\nrooms:\n")]
    public void A_key_that_nobody_knows_is_told_once(string was, string now)
    {
        Problem one = Assert.Single(Asked.Read(Asked.Small.Replace(was, now, StringComparison.Ordinal)).Problems);
        Assert.Contains("colour: unknown key", one.OneLine, StringComparison.Ordinal);
        Assert.Contains(was.StartsWith("rooms", StringComparison.Ordinal) ? "thermal_bridges" : "noise_at_most", one.OneLine, StringComparison.Ordinal);
        Assert.Contains("wall_u", one.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void The_example_is_read_and_holds_every_key()
    {
        string text = EstimateExample.Text();
        EstimateFileResult read = Asked.Read(text);
        Assert.True(read.Estimate is not null, string.Join('\n', read.Problems));
        // Every remark with a value, made a line, is understood as well: the example teaches no key the reader refuses.
        string[] lines = text.Split('\n');
        for (int i = 0; i < lines.Length; i++)
        {
            int at = lines[i].IndexOf("# ", StringComparison.Ordinal);
            string key = at < 0 ? "" : lines[i][(at + 2)..].Split(':')[0];
            if (at < 0 || lines[i][..at].Trim().Length > 0 || key.Contains(' ', StringComparison.Ordinal) || lines[i].Contains("shared_with", StringComparison.Ordinal)) continue;
            string[] all = [.. lines];
            all[i] = lines[i][..at] + lines[i][(at + 2)..];
            IEnumerable<Problem> unknown = Asked.Read(string.Join('\n', all)).Problems.Where(problem => problem.Message.Contains("unknown", StringComparison.Ordinal) || problem.Message.Contains("unit", StringComparison.Ordinal));
            Assert.True(!unknown.Any(), all[i] + "\n" + string.Join('\n', unknown));
        }
    }
}
