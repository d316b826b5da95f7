// The questions of an estimate: what is answered becomes a file that the strict reader takes, what cannot be is told with its range and asked again, and an empty line stays a default.
// Must never need a terminal: answers come from a text.
namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public class EstimateQuestionTests
{
    private static (string? Text, string Asked) Ask(params string[] answers)
    {
        using StringReader input = new(string.Join('\n', answers) + "\n");
        using StringWriter output = new();
        return (EstimateQuestions.Ask(input, output, name => name is "new-york" or "chicago" ? "" : $"{name}: no such weather"), output.ToString());
    }

    // name, units, zone, source, people of hot water, weather, insulation, weight, leakage, rooms.
    private static readonly string[] House = ["Boat shed", "", "America/New_York", "", "", "new-york", "", "", "", "shed"];

    // floor, height, walls, glass, above, below, people, devices, cool, heat, emitters, noise, opening.
    private static readonly string[] Shed = ["24 m²", "", "south 14 m²", "south 4 m²", "outside", "ground", "", "", "", "", "ceiling coil", "35 dB", "south"];

    [Fact]
    public void The_answers_become_a_file_and_what_an_empty_line_confirmed_stays_a_default()
    {
        (string? text, string asked) = Ask([.. House, .. Shed]);
        EstimateFile file = Asked.Read(text!).Estimate!;
        EstimateFile written = Asked.Read(Asked.Small).Estimate!;
        Assert.Equal(("Boat shed", "new-york", 24.0, 35.0), (file.Name, file.Place.Weather, file.Rooms[0].FloorAreaM2, file.Rooms[0].NoiseAtMostDb));
        Assert.Equal((written.Building.Rooms["shed"].WallM2(2), written.Building.Rooms["shed"].GlassM2(2)), (file.Building.Rooms["shed"].WallM2(2), file.Building.Rooms["shed"].GlassM2(2)));
        Assert.Equal(("shed", "south"), (file.Building.Openings[0].Room, file.Building.Openings[0].Faces));
        Assert.Equal(["ceiling"], file.Rooms[0].Surfaces.Select(one => one.Key));
        Assert.Equal(["coil"], file.Rooms[0].Coils.Select(one => one.Key));
        Assert.Contains(file.Effective, value => value is { Path: "rooms.shed.cool_above", Shown: "24 °C", IsDefault: true });
        Assert.Contains(file.Effective, value => value is { Path: "building.insulation", IsDefault: true });
        // Every question shows its default, and the range it must lie in.
        Assert.Contains("shed: cooled above (18 °C to 32 °C) [24 °C]: ", asked, StringComparison.Ordinal);
        Assert.Contains("shed: floor area (2 m² to 2000 m²): ", asked, StringComparison.Ordinal);
        Assert.Contains("What makes the water (heat-pump, chiller, boiler, four-pipe) [heat-pump]: ", asked, StringComparison.Ordinal);
    }

    // The answer that cannot be, what is told of it, and a sound one at its place: with it the file is the same as without the slip.
    [Theory]
    [InlineData(1, "imperial", "metric, us")]
    [InlineData(2, "America/Newyork", "America/New_York")]
    [InlineData(3, "oven", "heat-pump, chiller, boiler, four-pipe")]
    [InlineData(4, "2.5", "no whole number")]
    [InlineData(5, "new-yorc", "no such weather")]
    [InlineData(6, "none", "old, usual, good")]
    [InlineData(9, "source", "is a reserved word")]
    [InlineData(9, "coil-loop", "is the name of something else")]
    [InlineData(10, "5000 m²", "allowed: 2 m² to 2000 m²")]
    [InlineData(10, "24 °C", "m²")]
    [InlineData(10, "", "wanted: 2 m² to 2000 m²")]
    [InlineData(12, "south 140 m²", "0 m² to 50 m²")]
    [InlineData(12, "14 m²", "is not understood")]
    [InlineData(13, "south 20 m²", "larger than the wall")]
    [InlineData(13, "north 2 m²", "larger than the wall")]
    [InlineData(14, "attic", "outside, neighbour, nothing")]
    [InlineData(16, "40", "0 to 24")]
    [InlineData(17, "4 kW", "100 W/m²")]
    [InlineData(19, "24 °C", "1 K under cool_above")]
    [InlineData(20, "ceeling", "unknown key")]
    [InlineData(20, "coil coil", "twice")]
    [InlineData(20, "none", "a room with nothing in it")]
    [InlineData(21, "35 W", "dB")]
    [InlineData(22, "up", "north, east, south, west")]
    public void An_answer_that_cannot_be_is_told_why_and_asked_again(int at, string wrong, string words)
    {
        string[] sound = [.. House, .. Shed];
        (string? text, string asked) = Ask([.. sound[..at], wrong, .. sound[at..]]);
        Assert.Equal(Ask(sound).Text, text);
        // Nothing is told in a run without a slip.
        Assert.DoesNotContain(":   ", Ask(sound).Asked, StringComparison.Ordinal);
        string told = asked[(asked.IndexOf(":   ", StringComparison.Ordinal) + 4)..];
        Assert.Contains(words, told[..told.IndexOf('\n', StringComparison.Ordinal)], StringComparison.Ordinal);
    }

    [Fact]
    public void Conditions_values_and_fahrenheit_can_be_typed_in()
    {
        (string? text, string asked) = Ask(
            "Old \"mill\": #1", "us", "America/Chicago", "four-pipe", "boiler", "4", "conditions", "41.9", "-87.9", "", "0 °F", "91 °F", "74 °F", "", "", "u", "0.6 W/m²K", "", "", "", "heavy", "5",
            "Mill hall, store", "500 ft2", "", "", "", "store", "ground", "3", "", "", "", "floor coil-north coil-south", "wood", "", "none",
            "200 ft2", "", "", "", "outside", "", "", "", "", "", "coil", "", "none");
        EstimateFileResult read = Asked.Read(text!);
        Assert.True(read.Estimate is not null, string.Join('\n', read.Problems) + "\n" + text + asked);
        EstimateFile file = read.Estimate;
        Assert.Equal(("Old \"mill\": #1", "four-pipe", "boiler", 4.0), (file.Name, file.Source.Type, file.Source.HeatBy, file.Source.HotWaterPeople));
        Data.Near((91 - 32) / 1.8, file.Place.SummerC, 1e-9, "summer");
        Assert.Equal(0.6, file.Building.WallU, 1e-9);
        Assert.True(double.IsNaN(file.Building.RoofU));
        Assert.Equal(("store", 2, "wood"), (file.Building.Rooms["mill-hall"].Above, file.Rooms[0].Coils.Count, file.Rooms[0].Surfaces[0].Covering));
        Assert.Contains("mill-hall: cooled above (64.4 °F to 89.6 °F) [75.2 °F]: ", asked, StringComparison.Ordinal);
        Assert.DoesNotContain(" m²", asked, StringComparison.Ordinal);
        Assert.DoesNotContain("W/m²", asked, StringComparison.Ordinal);
    }

    [Fact]
    public void Answers_that_end_give_nothing()
    {
        string[] sound = [.. House, .. Shed];
        for (int i = 0; i < sound.Length; i++) Assert.Null(Ask(sound[..i]).Text);
        Assert.NotNull(Ask(sound).Text);
    }
}
