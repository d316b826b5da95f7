// Slips that are told at one place with one cause: nothing derived from them, nothing twice, and each at the key it is about.
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class SiteSlipTests
{
    private const string Door = "      opening.open: {device: io-1, channel: terrace-door}";
    private const string Quiet = "    quiet:\n      from: 20:30\n      to: 07:30\n      fan_at_most: 20 %\n";

    /// <summary>A slip has one error, on its own line, whatever hangs on the key that was meant.</summary>
    [Theory]
    [InlineData(Door, "      opening.opne: {device: io-1, channel: terrace-door}", "did you mean opening.open?")]
    [InlineData(Door, "      opening.open: {device:io-1, channel: terrace-door}", "no space after the colon", "write device: io-1")]
    [InlineData(Door, "      opening.open: {device: io-1; channel: terrace-door}", "a comma is missing between two keys")]
    [InlineData(Door, "      opening.open: {device: io-1, chanel: terrace-door, channel: terrace-door}", "did you mean channel?")]
    [InlineData(Door, "      opening.open: {device: io-1, channel: terrace-door, inverted: maybe}", "is neither yes nor no")]
    [InlineData(Door, "      opening.open: {device: io-1, channel: terrace-door, offset: 1 K}", "unknown key", "device, inverted, channel")]
    [InlineData(Door, "      opening.open: [io-1, terrace-door]", "group is wanted")]
    [InlineData(Door, "      opening.open:", "group is wanted")]
    [InlineData(Door, "      coil-east.water_temperature: {device: io-1, channel: terrace-door}", "unknown key", "coil.water_temperature")]
    [InlineData(Door, "      floor-2.end_switch: {device: io-1, channel: terrace-door}", "unknown key", "ceiling.end_switch")]
    [InlineData("      loop: coil-loop", "      loop: coil-lop", "did you mean coil-loop?")]
    [InlineData("      loop: coil-loop", "      loop: ceiling-loop", "is a loop for surfaces", "allowed: coil-loop")]
    [InlineData("      kind: channel-coil", "      kind: chanel-coil", "there is no such kind of type fan-coil", "did you mean channel-coil?")]
    [InlineData("      actuator: ball-valve", "      actuator: thin-panel", "is a kind of type panel", "a kind of type modulating")]
    [InlineData("      draught_fan_at_most: 60 %", "      draught_fan_at_most: 5 %", "is out of range", "10 % to 100 %")]
    [InlineData("    output: 2.4 kW ", "    output: 2.4 MW ", "unknown unit \"MW\"")]
    [InlineData("    output: 2.4 kW ", "    output: 2.4 ", "is out of range", "did you mean 2.4 kW (2400 W)?")]
    [InlineData("    start_voltage: 1.8 V ", "    start_voltage: 1800 ", "is out of range", "did you mean 1800 mV (1.8 V)?")]
    [InlineData("      level: 47 dB ", "      level: 47 °C ", "a unit of a temperature; a sound level is wanted")]
    [InlineData("    floor_area: 24 m²", "    floor_area: 24 m", "a unit of a length; an area is wanted")]
    [InlineData("    serves: coils", "    serves: surfaces", "nothing could keep them above the dew point", "allowed: mixed", -1)]
    [InlineData("    type: mixed", "    type: direct", "nothing could keep them above the dew point", "allowed: mixed")]
    [InlineData("    lag: 45 s ", "    lag: 45: s ", "a second colon in a value")]
    [InlineData("    lag: 45 s ", "    lag = 45 s ", "an equals sign stands here", "write lag: 45 s")]
    [InlineData("    lag: 45 s ", "    lag: |\n      45 s ", "runs over several lines")]
    [InlineData("    lag: 45 s ", "    lag: ~ ", "has no value")]
    [InlineData("    lag: 45 s ", "    lag: \"\" ", "has no value")]
    [InlineData("    lag: 45 s ", "    <<: {lag: 45 s} ", "is a merge key of YAML")]
    [InlineData("  type: chiller", "  type: chiler", "did you mean chiller?")]
    [InlineData("  time_zone: America/New_York", "  time_zone: New York", "did you mean America/New_York?")]
    [InlineData("  time_zone: America/New_York", "  time_zone: America/Newyork", "did you mean America/New_York?")]
    [InlineData("  time_zone: America/New_York", "  time_zone: ../../etc/passwd", "is no time zone")]
    [InlineData("  time_zone: America/New_York", "  time_zone: America", "is no time zone")]
    [InlineData("  time_zone: America/New_York", "  time_zone: \"a\\0b\"", "control characters")]
    [InlineData("  name: Ferry House", "  name: ", "has no value")]
    [InlineData("    unit: 1", "    unit: 0x01", "where a plain number is wanted")]
    [InlineData("    host: 192.0.2.10", "    host: {a: b}", "a group or a list stands where one value is wanted")]
    [InlineData("scale: 1 mV}\n      coil-valve", "scale: 1 MV}\n      coil-valve", "has an unknown unit \"MV\"")]
    [InlineData("      terrace-door: {table", "      Terrace_Door: {table", "is no name", "", 0, 2)]
    public void One_slip_is_one_error_on_its_line(string old, string changed, string says, string advises = "", int below = 0, int most = 1)
    {
        var result = ReadSite((old, changed));
        Assert.Null(result.Files);
        Told(result, LineOf(SiteText, old) + below, says, advises);
        Assert.True(Errors(result).Count() <= most, string.Join("\n", result.Problems));
    }

    [Theory]
    [InlineData(Quiet, "    quiet: {from:20:30, to: 07:30}\n", "no space after the colon", "write from: 20:30")]
    [InlineData(Quiet, "    quiet: 20:30\n", "group is wanted", "from, to, fan_at_most")]
    [InlineData("      from: 20:30", "      from: 8:30 pm", "is not a time of day", "write 20:30")]
    [InlineData("      from: 20:30", "      from: 20.30", "is not a time of day", "write 20:30")]
    [InlineData("      to: 07:30", "      to: 24:00", "is not a time of day", "write 00:00")]
    [InlineData("    fan_at_most: 35 % ", "    fan_at_most: 35 %\n    fan_at_most: 40 % ", "is written twice, first in line 5", "", 1)]
    [InlineData("    fan_at_most: 35 % ", "    fan_at_most 35 % ", "a colon is missing", "write key: value")]
    [InlineData("    fan_at_most: 35 % ", "    fan_at_most:35 % ", "no space after the colon", "write fan_at_most: 35 %")]
    [InlineData("    fan_at_most: 35 % ", "\u00A0\u00A0\u00A0\u00A0fan_at_most:\u00A035\u00A0°C ", "a percentage is wanted")]
    [InlineData("    fan_at_most: 35 % ", "    fan_at_most: *35 ", "reference")]
    [InlineData("    cool_above: 24 °C ", "    cool_above: 24 K ", "a temperature is wanted")]
    [InlineData("    cool_above: 24 °C ", "    cool_above: 12 ", "is out of range", "18 °C to 32 °C")]
    [InlineData("    cool_above: 24 °C ", "    cool_above: 24. 5 ", "unknown unit")]
    [InlineData("    cool_above: 24 °C ", "    Cool above: 24 °C ", "unknown key", "did you mean cool_above?")]
    [InlineData("    cool_above: 24 °C ", "   cool_above: 24 °C ", "the indentation is wrong", "", 1)]
    public void One_slip_of_the_household_is_one_error(string old, string changed, string says, string advises = "", int below = 0)
    {
        var result = ReadHousehold((old, changed));
        Assert.Null(result.Files);
        Told(result, LineOf(HouseholdText, old) + below, "household.yaml", says, advises);
        Assert.True(Errors(result).Count() == 1, string.Join("\n", result.Problems));
    }

    [Fact]
    public void The_braces_trap_names_the_decimal_comma()
    {
        var result = Read(SiteText, "rooms:\n  weaving-room: {cool_above: 24,5 °C}\n");
        Told(result, 2, "\"5 °C\" is taken as a key of its own", "inside braces a comma separates keys");
        Assert.Single(Errors(result));
    }

    /// <summary>Wiring is checked with everything else, not only once the rest is right.</summary>
    [Fact]
    public void Mistakes_of_values_wiring_and_household_are_told_together()
    {
        var site = With(SiteText, ("altitude: 12 m", "altitude: 12 s"), ("channel: terrace-door}", "channel: terrace-dor}"), ("pump.run: {device: io-1, channel: coil-pump}", "pump.run: {device: io-7, channel: coil-pump}"));
        var result = Read(site, With(HouseholdText, ("  weaving-room:", "  weaving-rom:")));
        Told(result, LineOf(SiteText, "altitude"), "a length is wanted");
        Told(result, LineOf(SiteText, "terrace-door}"), "io-1 has no such channel", "did you mean terrace-door?");
        Told(result, LineOf(SiteText, "channel: coil-pump}"), "there is no such device", "did you mean io-1?");
        Told(result, 3, "household.yaml", "did you mean weaving-room?");
        Assert.Equal(4, result.Problems.Count);
    }

    [Fact]
    public void The_caret_stands_under_the_place()
    {
        var problem = ReadSite((Door, "      opening.open: {device: io-2, channel: terrace-door}")).Problems[0];
        var lines = problem.ToString().Split('\n');
        Assert.StartsWith("site.yaml:48:30: error: rooms.weaving-room.points.opening.open.device: \"io-2\"", lines[0], StringComparison.Ordinal);
        Assert.Equal("io-2", lines[1].Substring(lines[2].IndexOf('^', StringComparison.Ordinal), 4));
    }

    [Theory]
    [InlineData("\n---\nsite: {}\n")]
    [InlineData("\n...\nsite: {}\n")]
    public void A_second_document_is_refused_not_ignored(string more)
    {
        Assert.Contains("a second document begins here", Assert.Single(Read(SiteText + more, HouseholdText).Problems).Message, StringComparison.Ordinal);
        Assert.Contains("a second document begins here", Assert.Single(Read(SiteText, HouseholdText + more).Problems).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("devices:\n  io-1:", "devices:\n  weaving-room:", "a room or a loop has the same name")]
    [InlineData("devices:\n  io-1:", "devices:\n  coil-loop:", "a room or a loop has the same name")]
    [InlineData("devices:\n  io-1:", "devices:\n  energy:", "is a reserved word")]
    [InlineData("  coil-loop:\n    type", "  heat-source:\n    type", "is a reserved word")]
    [InlineData("  ball-valve:\n    type", "  Ball valve:\n    type", "is no name")]
    public void Names_are_unique_and_plain(string old, string changed, string says)
        => Told(ReadSite((old, changed)), LineOf(SiteText, old) + (old.StartsWith("devices", StringComparison.Ordinal) ? 1 : 0), says);

    [Fact]
    public void Limits_are_told_in_the_site_s_units_and_not_rounded()
    {
        var result = Read(With(SiteText, ("  units: metric", "  units: us"), ("accuracy: 2 %", "accuracy: 0.1 %")), With(HouseholdText, ("24 °C", "40 °F")));
        Told(result, LineOf(SiteText, "accuracy: 2 %"), "0.5 % to 10 %");
        Told(result, 4, "household.yaml", "64.4 °F to 89.6 °F");
    }

    /// <summary>64.4 °F is 18 °C and 89.6 °F is 32 °C: limits that were shown must be accepted when typed.</summary>
    [Theory]
    [InlineData("64.4 °F", 18)]
    [InlineData("89.6 °F", 32)]
    public void A_limit_in_another_unit_is_within_limits(string typed, double celsius)
        => Assert.Equal(celsius, ReadHousehold(("24 °C", typed)).Files!.House.Rooms[0].Household.CoolAboveC, 1e-9);

    [Fact]
    public void A_file_that_is_no_UTF_8_text_is_told_with_the_place_where_it_stops_being_so()
    {
        var folder = Directory.CreateTempSubdirectory("site-test-").FullName;
        File.WriteAllText(Path.Combine(folder, "site.yaml"), SiteText);
        File.WriteAllBytes(Path.Combine(folder, "household.yaml"), Encoding.Latin1.GetBytes(HouseholdText));
        Told(SiteReader.Read(folder, Drivers.All), 1, "household.yaml:1:73", "not UTF-8");
        File.WriteAllText(Path.Combine(folder, "household.yaml"), HouseholdText, Encoding.Unicode);
        Told(SiteReader.Read(folder, Drivers.All), 1, "household.yaml", "UTF-16");
        File.WriteAllText(Path.Combine(folder, "household.yaml"), HouseholdText.Replace("\n", "\r\n", StringComparison.Ordinal), new UTF8Encoding(true));
        Assert.Empty(SiteReader.Read(folder, Drivers.All).Problems);
        File.WriteAllText(Path.Combine(folder, "household.yaml"), "# " + new string('x', 1_100_000));
        Told(SiteReader.Read(folder, Drivers.All), 1, "larger than a megabyte");
        Directory.Delete(folder, true);
    }
}
