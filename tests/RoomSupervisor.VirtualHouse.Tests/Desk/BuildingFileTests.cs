// Broken building.yaml files are told by line, never half taken. Must never accept what the reader cannot place.
using System.Text;
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public class BuildingFileTests
{
    private const string Good = """
        insulation: old
        source_cooling_output: 5 kW
        rooms:
          hall:
            height: 3 m
            wall_south: 20 m²
            glass_south: 6 m²
            above: loft
        doors:
          stairs: {from: hall, to: loft, usually_open: 50 %}
        openings:
          gate: {room: hall, width: 3 m, height: 2.4 m, faces: west}
        """;

    private static BuildingFileResult Read(string text) => BuildingFileReader.Read("building.yaml", Encoding.UTF8.GetBytes(text), ["hall", "loft"]);

    [Fact]
    public void What_is_written_holds_and_the_rest_has_defaults()
    {
        BuildingFile building = Read(Good).Building!;
        Assert.Equal(("old", 5000, 3, 20, 6, "loft"), (building.Insulation, building.CoolingOutputW, building.Rooms["hall"].HeightM, building.Rooms["hall"].WallM2(2), building.Rooms["hall"].GlassM2(2), building.Rooms["hall"].Above));
        Assert.Equal((2.6, "nothing", false), (building.Rooms["loft"].HeightM, building.Rooms["loft"].Below, building.Rooms["loft"].SaysOutside));
        Assert.Equal((50, "gate", "west"), (building.Doors[0].UsuallyPercent, building.Openings[0].Name, building.Openings[0].Faces));
    }

    [Theory]
    [InlineData("insulation: old", "insulation: goud", 1)]
    [InlineData("  hall:", "  hal:", 4)]
    [InlineData("hall:\n    height", "hal:\n    hieght", 4)]
    [InlineData("above: loft", "above: lift", 8)]
    [InlineData("glass_south: 6 m²", "glass_south: 26 m²", 7)]
    [InlineData("height: 3 m", "height: 30 m", 5)]
    [InlineData("to: loft", "to: hall", 10)]
    [InlineData("faces: west", "faces: up", 12)]
    [InlineData("gate: {", "stairs: {", 12)]
    [InlineData("source_cooling_output: 5 kW", "cooling_output: 5 kW", 2)]
    [InlineData("wall_south: 20 m²", "wall_south: 20 °C", 6)]
    public void A_mistake_is_told_with_its_line(string was, string now, int line)
    {
        BuildingFileResult result = Read(Good.Replace(was, now, StringComparison.Ordinal));
        Assert.Null(result.Building);
        Assert.Contains(result.Problems, problem => problem.Mark.Line == line && problem.Mark.File == "building.yaml");
    }

    [Fact]
    public void A_scenario_that_is_not_there_is_told_with_where_it_was_looked_for()
    {
        Assert.Null(RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("ferry-house")) { Scenario = "no-such" }, out var problems));
        Assert.Contains("scenarios", Assert.Single(problems), StringComparison.Ordinal);
    }
}
