// Files saved while a site runs, judged one after the other: what is taken over, what stays, what waits for a restart, and the answer.
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Reload;

public sealed class SiteJudgeTests : IDisposable
{
    private static readonly DateTime Now = new(2026, 11, 25, 12, 0, 0, DateTimeKind.Utc);
    private readonly SiteFolder folder = new();
    private readonly SiteJudge judge;
    private string site = SiteFolder.SiteText;
    private string? household = SiteFolder.HouseholdText;

    public SiteJudgeTests()
    {
        folder.Put("site.yaml", site);
        folder.Put("household.yaml", household);
        judge = new SiteJudge(SiteStart.Read(folder.Path, StartVerb.Run, Drivers.All, TimeProvider.System, folder.State), Drivers.All);
    }

    public void Dispose() => folder.Dispose();

    private Judgement Judge() => judge.Judge(SiteFolder.Bytes(site), household is null ? null : SiteFolder.Bytes(household), Now);

    private static string Says(Judgement judgement) => string.Join('\n', judgement.Lines.Select(line => $"{line.Event.Name}: {line.Text}"));

    [Fact]
    public void A_saved_limit_is_taken_over_with_its_price()
    {
        household = SiteFolder.With(household!, "fan_at_most: 35 %", "fan_at_most: 30 %");
        var judgement = Judge();
        Assert.Equal(30, judgement.House!.Rooms[0].Household.FanAtMostPercent);
        Assert.Equal("reload-accepted: household.yaml: weaving-room.fan_at_most: 35 % → 30 %", Says(judgement));
        // C/K·ln((28 − 7)/(24.5 − 7)): C = 360 kJ/K, K = 120 W/K · 0.30^0.7 = 51.66 (0.35^0.7: 57.55): 21.2 and 19.0 min, worked by hand; 50·log10(30/35) = −3.3 dB.
        Assert.Contains("weaving-room.fan_at_most: 35 % → 30 %", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("weaving-room fan 35 % → 30 %: after the door stood open about 21 min instead of 19; about 3 dB quieter (21 dB at the ear)", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("default room data in site.yaml", judgement.Answer, StringComparison.Ordinal);
        // Noon UTC is 07:00 in New York: quiet hours until 07:30.
        Assert.Contains("weaving-room: cooled above 24 °C, heated below 20.5 °C, fan at most 20 % (quiet hours); next change 2026-11-25 07:30", judgement.Answer, StringComparison.Ordinal);
        Assert.True(judgement.IsVersion);
    }

    [Fact]
    public void The_answer_names_line_what_was_kept_and_what_was_meant()
    {
        household = SiteFolder.With(SiteFolder.With(household!, "fan_at_most: 35 %", "fan_at_mst: 30 %"), "cool_above: 24 °C ", "cool_above: 75 ");
        var judgement = Judge();
        Assert.Null(judgement.House);
        Assert.Contains("line 4: weaving-room.cool_above: \"75\" is out of range; allowed: 18 °C to 32 °C; did you mean 75 °F (23.9 °C)?", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("line 5: weaving-room.fan_at_mst: unknown key", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("did you mean fan_at_most?", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("weaving-room: cool_above and heat_below (line 4): cool_above 24 °C", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("fan_at_most 35 %", judgement.Answer, StringComparison.Ordinal);
        Assert.StartsWith("reload-kept: ", Says(judgement), StringComparison.Ordinal);
        Assert.False(judgement.IsVersion);
    }

    [Theory]
    [InlineData("", "The file is empty. Everything stays as it was.")]
    [InlineData("rooms: [", "could not be read as a whole. Everything stays as it was.")]
    [InlineData(null, "There is no household.yaml. Everything stays as it was.")]
    public void Without_structure_everything_stays(string? text, string says)
    {
        household = text;
        var judgement = Judge();
        Assert.Null(judgement.House);
        Assert.Contains(says, judgement.Answer, StringComparison.Ordinal);
        household = SiteFolder.With(SiteFolder.HouseholdText, "24 °C", "25 °C");
        Assert.Equal(25, Judge().House!.Rooms[0].Household.CoolAboveC);
    }

    [Fact]
    public void A_site_with_a_mistake_is_refused_whole_and_the_household_goes_on()
    {
        site = SiteFolder.With(SiteFolder.With(site, "floor_area: 24 m²", "floor_area: 24 °C"), "altitude: 12 m", "altitude: 100 m");
        household = SiteFolder.With(household!, "24 °C", "25 °C");
        var judgement = Judge();
        Assert.Contains("reload-refused: site.yaml:35:17: error: rooms.weaving-room.floor_area", Says(judgement), StringComparison.Ordinal);
        Assert.Equal(25, judgement.House!.Rooms[0].Household.CoolAboveC);
        Assert.Equal(24, judgement.House.Rooms[0].Settings.FloorAreaM2);
        Assert.Empty(Judge().Lines);   // told once, not at every look
    }

    [Theory]
    [InlineData("floor_area: 24 m²", "floor_area: 30 m²", "rooms.weaving-room.floor_area: 24 m² → 30 m²")]
    [InlineData("accuracy: 0.3 K, lag: 120 s", "accuracy: 0.5 K, lag: 60 s", "lag")]
    [InlineData("name: Ferry House", "name: Boat House", "site.name: Ferry House → Boat House")]
    [InlineData("    unit: 1\n", "    unit: 1\n    panel: plant room\n    power: 4 W\n", "devices.io-1.power")]   // for wiring lists: no device hears of it
    public void A_sound_change_takes_effect_between_two_scans(string old, string changed, string says)
    {
        site = SiteFolder.With(site, old, changed);
        var judgement = Judge();
        Assert.NotNull(judgement.House);
        Assert.Contains(says, Says(judgement), StringComparison.Ordinal);
        Assert.Null(judgement.Answer);
        Assert.Equal(35, judgement.House.Rooms[0].Household.FanAtMostPercent);
        _ = new Memory(judgement.House);
    }

    [Theory]
    [InlineData("host: 192.0.2.10", "host: 192.0.2.11", "devices.io-1.host")]
    [InlineData("address: 10, type: s16", "address: 20, type: s16", "devices.io-1")]
    [InlineData("time_zone: America/New_York", "time_zone: Europe/Brussels", "site.time_zone")]
    [InlineData("units: metric", "units: us", "site.units")]
    [InlineData("    number: 1 ", "    number: 2 ", "rooms.weaving-room.number")]
    [InlineData("      opening.open: {device: io-1, channel: terrace-door}\n", "", "wiring")]
    [InlineData("start_voltage: 1.8 V", "start_voltage: 1.9 V", "wiring")]
    public void A_change_that_needs_a_restart_says_so_and_waits(string old, string changed, string says)
    {
        site = SiteFolder.With(site, old, changed);
        var judgement = Judge();
        Assert.Null(judgement.House);
        Assert.StartsWith("reload-waiting: ", Says(judgement), StringComparison.Ordinal);
        Assert.Contains(says, Says(judgement), StringComparison.Ordinal);
        site = SiteFolder.SiteText;
        Assert.Contains("nothing but its text", Says(Judge()), StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_had_together_stays_and_nothing_is_a_version_that_changed_nothing()
    {
        household = SiteFolder.HouseholdText + "    week:\n      evening: {from: 18:00, to: 22:00, cool_above: 20 °C}\n    heat_below: 20 °C\n";
        var judgement = Judge();
        Assert.Contains("less than 1 K apart", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("both stay as they were", judgement.Answer, StringComparison.Ordinal);
        Assert.Null(judgement.House);
        Assert.False(judgement.IsVersion);
    }

    [Fact]
    public void A_file_that_may_not_be_read_is_told_as_that()
    {
        var judgement = judge.Judge(SiteFolder.Bytes(site), null, Now, "cannot be read: permission denied");
        Assert.Null(judgement.House);
        Assert.Contains("could not be read as a whole. Everything stays as it was.", judgement.Answer, StringComparison.Ordinal);
        Assert.Contains("permission denied; look at its owner and permissions", judgement.Answer, StringComparison.Ordinal);
    }
}
