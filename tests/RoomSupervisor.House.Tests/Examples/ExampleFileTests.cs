// Every example is read from disk by the strict reader: no error, and no warning but what this version does not act on yet and what a chip cannot do.
namespace RoomSupervisor.House.Tests.Examples;

public class ExampleFileTests
{
    private const string NotYet = "is understood, but this version does not act on it yet";

    /// <summary>An honest chip: the example says with it what such an output needs.</summary>
    private const string OutlivesTheBoard = "has no time-out of its own";

    /// <summary>Exactly these, and no others.</summary>
    private static readonly Dictionary<string, string[]> Warnings = new()
    {
        ["brick-row"] = ["devices.converter"],
        ["coil-only"] = [],
        ["ferry-house"] = [],
        ["floor-only"] = [],
        ["garden-studio"] = ["devices.volts", "devices.converter", "devices.pulses", "devices.relays", "devices.small-relays", "devices.board", "devices.board-pulses"],
        ["harbour-flat"] = [],
        ["one-room"] = [],
        ["two-pipe"] = [],
    };

    [Fact]
    public void Every_folder_under_config_is_an_example_that_is_tested() => Assert.Equal(Warnings.Keys.Order(StringComparer.Ordinal), Example.Names);

    [Theory]
    [InlineData("brick-row")]
    [InlineData("coil-only")]
    [InlineData("ferry-house")]
    [InlineData("floor-only")]
    [InlineData("garden-studio")]
    [InlineData("harbour-flat")]
    [InlineData("one-room")]
    [InlineData("two-pipe")]
    public void An_example_is_read_without_errors_and_warns_only_of_what_is_not_acted_on_yet(string name)
    {
        var result = Example.Read(name);
        Assert.NotNull(result.Files);
        Assert.All(result.Problems, problem => Assert.True(problem.ToString().Contains(NotYet, StringComparison.Ordinal) || problem.ToString().Contains(OutlivesTheBoard, StringComparison.Ordinal), problem.ToString()));
        Assert.Equal(Warnings[name], result.Problems.Select(problem => problem.KeyPath));
    }

    [Fact]
    public void Ferry_House_shows_what_a_site_may_hold()
    {
        var files = Example.Files("ferry-house");
        Assert.Equal(6, files.House.Rooms.Length);
        Assert.Equal(2, files.House.Rooms[0].Coils.Length);
        Assert.Contains(files.House.Coils, coil => coil.Rooms.Length == 2);
        Assert.Equal(["0", "1", "2", "3"], files.Wiring.Select(wire => wire.Step.ToString(System.Globalization.CultureInfo.InvariantCulture)).Distinct().Order(StringComparer.Ordinal));
        Assert.Contains(files.Wiring.GroupBy(wire => wire.PointId), wires => wires.Count(wire => wire.Role == Terms.ChannelRole.Value) == 2);
        Assert.Equal([Terms.ChannelRole.Opens, Terms.ChannelRole.Shuts], files.Wiring.Where(wire => wire.PointId == "ceiling-loop.mixing.valve").Select(wire => wire.Role));
        Assert.Equal(140, files.House.Inputs[files.House.Rooms[1].AirTemperature].Sensor.LagS);
        Assert.All(files.House.Rooms, room => Assert.Equal(new DateTime(2027, 2, 6), new DateTime(1970, 1, 1).AddMinutes(room.Household.Absence!.FromMinutes)));
        Assert.True(files.Devices.Count >= 3);
    }
}
