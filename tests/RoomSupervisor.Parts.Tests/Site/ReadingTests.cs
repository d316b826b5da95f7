// Numbers without a unit or in a wrong one: refused with what was probably meant; and everything a person reads of a site in °F is in °F.
using RoomSupervisor.Site;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class ReadingTests
{
    [Theory]
    [InlineData("75", "did you mean 75 °F (23.9 °C)?")]
    [InlineData("75,5", "did you mean 75.5 °F (24.2 °C)?")]
    [InlineData("24 K", "did you mean 24 °C?")]
    [InlineData("75 %", "did you mean 75 °F (23.9 °C)?")]
    [InlineData("35 %", "")]
    [InlineData("24 quux", "")]
    [InlineData("12", "")]
    [InlineData("75 °C", "")]
    public void A_room_temperature(string typed, string advice)
    {
        var problem = Assert.Single(ReadHousehold(("24 °C", typed)).Problems);
        Assert.Equal(advice, problem.WhatToDo);
        Assert.Equal("18 °C to 32 °C", problem.Allowed);
    }

    [Theory]
    [InlineData("altitude: 12 m", "altitude: 12 kW", "did you mean 12 m?")]
    [InlineData("output: 2.4 kW", "output: 2.4", "did you mean 2.4 kW (2400 W)?")]
    [InlineData("stroke: 90 s", "stroke: 1500", "")]
    [InlineData("floor_area: 24 m²", "floor_area: 24 m", "did you mean 24 m²?")]
    public void Of_a_site(string old, string changed, string advice) => Assert.Equal(advice, ReadSite((old, changed)).Problems.First(problem => problem.Severity == Severity.Error).WhatToDo);

    [Theory]
    [InlineData("75", "did you mean 75 °F?")]
    [InlineData("24 K", "did you mean 24 °C (75.2 °F)?")]
    [InlineData("warm", "")]
    public void In_a_house_that_reads_Fahrenheit(string typed, string advice)
    {
        var problem = Assert.Single(Read(Us, With(HouseholdText, ("24 °C", typed))).Problems);
        Assert.Equal(advice, problem.WhatToDo);
        Assert.Equal("64.4 °F to 89.6 °F", problem.Allowed);
        Assert.DoesNotContain("24 °C\"", problem.Message, StringComparison.Ordinal);
    }

    private static string Us => With(SiteText, ("  units: metric", "  units: us"));

    /// <summary>Several rules broken at once; no message may speak of °C, K, m or kW.</summary>
    [Fact]
    public void No_message_of_such_a_house_is_metric()
    {
        var site = With(Us, ("rated_water: 7 °C", "rated_water: 16 °C"), ("rated_room: 27 °C", "rated_room: 20 °C"), ("floor_area: 24 m²", "floor_area: 1 ft2"), ("altitude: 12 m", "altitude: 99999 ft"));
        var household = With(HouseholdText, ("    cool_above: 24 °C", "    heat_below: 69 °F\n    cool_above: 69 °F")) + "absence:\n  from: 2027-02-06\n  to: 2027-02-20\n  cool_above: 65 °F\n  heat_below: 65 °F\n";
        var problems = Read(site, household).Problems;
        Assert.True(problems.Count >= 4, string.Join("\n", problems));
        foreach (var problem in problems)
            Assert.DoesNotMatch(@"\d ?(°C|K|m²|kW|W|m)\b", $"{problem.Message} {problem.Allowed} {problem.WhatToDo}");
        Assert.Contains(problems, problem => problem.Message.Contains("9 °F under rated_room", StringComparison.Ordinal));   // 5 K
    }

    [Fact]
    public void What_was_understood_of_such_a_house_is_in_its_units()
    {
        var files = Read(Us, HouseholdText).Files!;
        Assert.Contains(files.Effective, value => value is { Path: "rooms.weaving-room.floor_area", Shown: "258.334 ft²" });   // 24 m² / 0.3048²
        Assert.Contains(files.Effective, value => value is { Path: "rooms.weaving-room.cool_above", Shown: "75.2 °F" });
        Assert.Contains(files.Effective, value => value is { Path: "sequence.margin", Shown: "1.8 °F" });                       // a difference: 1 K × 1.8
        foreach (var value in files.Effective.Where(value => !value.Path.StartsWith("devices.", StringComparison.Ordinal)))   // a register's scale stays as typed
            Assert.DoesNotMatch(@"\d ?(°C|K|K/min|m²|kW|W|m|W/m²|l|l/m²|kJ/K)$", value.Shown);
    }

    [Fact]
    public void An_edit_is_refused_in_the_house_s_units()
    {
        var house = Read(Us, HouseholdText).Files!.House;
        Assert.False(HouseholdEdits.TryApply(house, "weaving-room.cool_above", "75", out _, out var why));
        Assert.Contains("64.4 °F to 89.6 °F", why, StringComparison.Ordinal);
        Assert.Contains("did you mean 75 °F?", why, StringComparison.Ordinal);
    }
}
