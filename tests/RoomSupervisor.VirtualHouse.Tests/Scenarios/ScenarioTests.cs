// Scenario files: read, played, and refused with line, key and what was probably meant.
// Must never accept a file that would quietly do nothing.
using System.Text;

namespace RoomSupervisor.VirtualHouse.Tests;

public class ScenarioTests
{
    private static readonly ScenarioNames Names = new(
        [.. Enumerable.Range(0, 6).Select(i => "room " + i)], ["slipway", "back window", "door 0"], ["room-0.air.humidity", "ceiling-loop.supply.temperature"], ["ceiling-loop.pump", "source"]);

    private const string Good = """
        weather: new-york
        from: 2026-07-12
        days: 2
        seed: 7
        happenings:
          slipway doors:
            what: open
            where: slipway
            at: 14:10
            for: 40 min
            day: 1
          night: {what: people, where: room 3, at: 22:30, for: 8 h, count: 2, activity: 0.7}
          shower: {what: shower, where: room 5, at: 07:00, for: 10 min}
          taps: {what: taps, where: hot-water, at: 07:00, for: 10 min, count: 8}
        faults:
          humid sensor: {what: stuck, where: room-0.air.humidity, day: 2, at: 15:00, for: 2 h}
          pump: {what: seized, where: ceiling-loop.pump, at: 03:00, for: 1 h}
          clock: {what: clock-jump, where: site, at: 12:00, for: 1 s, time: 1 h}
        """;

    private static ScenarioResult Read(string text) => ScenarioReader.Read("two-days.yaml", Encoding.UTF8.GetBytes(text), Names);

    private static void Refused(string from, string to, int line, string says)
    {
        Assert.Contains(from, Good, StringComparison.Ordinal);
        ScenarioResult result = Read(Good.Replace(from, to, StringComparison.Ordinal));
        Assert.Null(result.Scenario);
        Assert.Contains(result.Problems, p => p.Mark.Line == line && p.OneLine.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public void A_scenario_is_read_whole()
    {
        ScenarioResult result = Read(Good);
        Assert.Empty(result.Problems);
        Scenario scenario = result.Scenario!;
        Assert.Equal(("new-york", 2, 7UL, 4, 3), (scenario.Weather, scenario.Days, scenario.Seed, scenario.Happenings.Count, scenario.Breakages.Count));
        Happening doors = scenario.Happenings[0];
        double noon = 12 * 3600;
        Assert.False(doors.IsOn(noon + 2 * 3600));
        Assert.True(doors.IsOn(noon + 2.25 * 3600));
        Assert.False(doors.IsOn(86_400 + noon + 2.25 * 3600));
        // Over midnight, on every day; before the first evening nobody is asleep.
        Happening night = scenario.Happenings[1];
        Assert.False(night.IsOn(3 * 3600));
        Assert.True(night.IsOn(23 * 3600));
        Assert.True(night.IsOn(86_400 + 3 * 3600));
        PointFaultPlan stuck = scenario.Breakages[0].PointFault(1)!;
        Assert.Equal((PointFaultKind.Stuck, 86_400 + 15 * 3600.0, 86_400 + 17 * 3600.0), (stuck.Kind, stuck.FromS, stuck.ToS));
        Assert.Null(scenario.Breakages[1].PointFault(1));
    }

    [Fact]
    public void It_is_played_on_the_building()
    {
        BuildingModel building = new(Samples.SixRooms(), 1);
        HouseholdPlay play = new(Read(Good).Scenario!, building);
        play.Set(14.5 * 3600);
        Assert.Equal((1, 0), (building.OpeningOpen[0], building.OpeningOpen[1]));
        play.Set(7 * 3600 + 60);
        Assert.Equal(0, building.OpeningOpen[0]);
        Data.Near(2.6 / 3600, building.VapourKgPerS[5], 1e-12);
        Data.Near(8 / 60.0, play.TapKgPerS, 1e-12);
        Assert.Equal(0, building.ConvectiveW[3]);
        play.Set(23 * 3600);
        Assert.InRange(building.ConvectiveW[3] + building.RadiantW[3], 60, 130);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1000; i++) play.Set(i * 86.4);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void What_is_wrong_is_told_with_its_line()
    {
        Refused("days: 2", "days: two", 3, "is not a number");
        Refused("days: 2", "days: 0", 3, "out of range");
        Refused("from: 2026-07-12", "from: 12/07/2026", 2, "from");
        Refused("weather: new-york", "wheather: new-york", 1, "did you mean weather");
        Refused("    what: open", "    what: opened", 7, "open, people");
        Refused("    where: slipway", "    where: slipwai", 8, "did you mean slipway");
        Refused("    at: 14:10", "    at: 25:10", 9, "at");
        Refused("    for: 40 min", "    for: 40 °C", 10, "for");
        Refused("what: stuck", "what: delayed", 16, "would do nothing");
        Refused("where: ceiling-loop.pump", "where: ceiling-loop.pomp", 17, "did you mean ceiling-loop.pump");
        Refused("day: 2, at", "day: 3, at", 3, "ends before");
        Refused("count: 8", "count: 8, cuont: 9", 14, "unknown key");
    }

    [Fact]
    public void Broken_files_are_told_and_never_play()
    {
        Assert.Null(Read("").Scenario);
        Assert.Null(Read("happenings: 3").Scenario);
        Assert.Null(Read(Good.Replace("  shower: {", "  shower: ", StringComparison.Ordinal)).Scenario);
        Assert.Null(ScenarioReader.Read("x.yaml", [0xFF, 0xFE, 0x41, 0], Names).Scenario);
        Assert.NotEmpty(Read("").Problems);
    }
}
