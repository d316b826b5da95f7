// What somebody asks for on the command line is told as such, days nobody wrote fit the house, and a story has no number that is none. Must never need a long run.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Measures;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public class WishTests
{
    private static IReadOnlyList<string> Problems(RehearsalWish wish)
    {
        Assert.Null(RehearsalReader.Read(wish, out var problems));
        return problems;
    }

    [Theory]
    [InlineData(400, null, "--days 400: error: is out of range; allowed: 1 to 366")]
    [InlineData(-3, null, "--days -3: error: is out of range; allowed: 1 to 366")]
    [InlineData(0, "nonsense", "--from nonsense: error: is not a date")]
    [InlineData(0, "2026-02-30", "--from 2026-02-30: error: is no day of the calendar")]
    public void A_wrong_wish_is_told_by_its_option(int days, string? from, string told)
        => Assert.Contains(Problems(new RehearsalWish(HouseFromSiteTests.Site("one-room")) { Days = days, From = from }), problem => problem.StartsWith(told, StringComparison.Ordinal));

    [Fact]
    public void Messages_name_the_lines_of_the_file_as_it_was_written()
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("wish").FullName, "x.yaml");
        File.WriteAllText(file, "weather: new-york\nfrom: 2026-07-08\ndays: 3\nhappenings:\n  a: {what: people, where: nursery, at: 12:00, for: 1 h}\n");
        try
        {
            var problems = Problems(new RehearsalWish(HouseFromSiteTests.Site("one-room")) { Scenario = file, Days = 2, From = "2026-07-01" });
            Assert.StartsWith("x.yaml:5:28: error: happenings.a.where: \"nursery\"", Assert.Single(problems), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(file)!, true);
        }
    }

    [Fact]
    public void A_scenario_that_is_not_there_is_told_with_those_that_are()
        => Assert.Contains("or campaign, faults, two-summer-days, winter", Assert.Single(Problems(new RehearsalWish(HouseFromSiteTests.Site("ferry-house")) { Scenario = "nope" })), StringComparison.Ordinal);

    [Fact]
    public void A_directory_in_the_place_of_a_file_is_told_as_one()
    {
        string site = Directory.CreateTempSubdirectory("wish").FullName;
        try
        {
            foreach (string file in Directory.GetFiles(HouseFromSiteTests.Site("one-room"))) File.Copy(file, Path.Combine(site, Path.GetFileName(file)));
            Directory.CreateDirectory(Path.Combine(site, "scenarios", "hot"));
            string told = Assert.Single(Problems(new RehearsalWish(site) { Scenario = "hot" }));
            Assert.StartsWith("--scenario hot: error: ", told, StringComparison.Ordinal);
            Assert.Contains("hot is a directory; allowed: a scenario file", told, StringComparison.Ordinal);
            Directory.CreateDirectory(Path.Combine(site, "building.yaml"));
            Assert.Contains("building.yaml: error: is a directory; allowed: a file", Assert.Single(Problems(new RehearsalWish(site))), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(site, true);
        }
    }

    [Fact]
    public void A_boiler_s_fuel_is_told_as_fuel()
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("floor-only")) { Days = 1 }, out _)!;
        using Rehearsal run = new(plan);
        while (run.ElapsedS < 6 * 3600) run.Step();
        run.Recorder.Finish();
        var measures = MeasureList.Of(run.Recorder).ToDictionary(one => one.Name, one => one.Value);
        Assert.InRange(measures["fuel_kwh"], 1, 20);
        Assert.InRange(measures["electric_kwh"], 0.01, 0.2 * measures["fuel_kwh"]);
        Assert.Contains(Story.Of(plan, run), line => line.Contains("kWh of fuel", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("one-room", 7)]
    [InlineData("floor-only", 2)]
    public void Days_nobody_wrote_are_cold_where_nothing_can_cool_and_one_is_enough(string site, int month)
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site(site)) { Days = 1 }, out _)!;
        using Rehearsal run = new(plan);
        Assert.Equal((1, month), (plan.Scenario.Days, TimeZoneInfo.ConvertTime(run.Run.Start, plan.Files.Site.TimeZone).Month));
    }

    [Fact]
    public void A_story_of_a_house_that_cannot_cool_has_no_number_that_is_none()
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("floor-only")) { From = "2026-07-08" }, out _)!;
        using Rehearsal run = new(plan);
        while (run.ElapsedS < 41 * 3600) run.Step();
        run.Recorder.Finish();
        string told = string.Join('\n', [.. Story.Of(plan, run), Story.Numbers(run)]);
        Assert.Contains("was not back within", told, StringComparison.Ordinal);
        Assert.Contains("No room was cooled.", told, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", told, StringComparison.Ordinal);
        Assert.DoesNotContain("–", told, StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_says_that_a_recovery_was_not_reached_and_how_many_goals_arose()
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("floor-only")) { From = "2026-07-08", Days = 1 }, out _)!;
        using Rehearsal run = new(plan);
        while (run.ElapsedS < 16 * 3600) run.Step();
        run.Recorder.Finish();
        using StringWriter table = new();
        RehearsalTable.Write(table, plan, run);
        Assert.Contains("  >", table.ToString(), StringComparison.Ordinal);
        Assert.Contains("every goal that arose is met: ", table.ToString(), StringComparison.Ordinal);
    }
}
