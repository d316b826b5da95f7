// Every declared setting: a key of its own, help in one line, a default within its limits; and what drivers with channels of their own
// and sites without devices come to.
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class DeclarationTests
{
    public static TheoryData<string> Lists() => [.. All().Keys];

    private static Dictionary<string, IReadOnlyList<Parameter>> All()
    {
        var lists = new Dictionary<string, IReadOnlyList<Parameter>>
        {
            ["site"] = SiteSettings.Parameters,
            ["sequence"] = SequenceSettings.Parameters,
            ["room"] = RoomSettings.Parameters,
            ["coil"] = CoilSettings.Parameters,
            ["surface"] = SurfaceSettings.Parameters,
            ["floor"] = SurfaceSettings.FloorParameters,
            ["source"] = SourceSettings.Parameters,
            ["buffer"] = BufferSettings.Parameters,
            ["hot water"] = HotWaterSettings.Parameters,
            ["loop"] = LoopSettings.Parameters,
            ["coil kind"] = CoilKind.Parameters,
            ["sound"] = CoilKind.SoundParameters,
            ["steps"] = CoilKind.StepParameters,
            ["panel kind"] = SurfaceKind.Parameters,
            ["slab kind"] = SurfaceKind.SlabParameters,
            ["on-off kind"] = ActuatorKind.OnOffParameters,
            ["three-point kind"] = ActuatorKind.ThreePointParameters,
            ["sensor kind"] = SensorKind.Parameters,
            ["actuator kind"] = ActuatorKind.Parameters,
            ["temperature sensor"] = SensorSettings.TemperatureParameters,
            ["humidity sensor"] = SensorSettings.HumidityParameters,
            ["household"] = HouseholdRoom.Parameters,
            ["quiet"] = HouseholdRoom.QuietParameters,
            ["noise allowance"] = HouseholdRoom.AllowanceParameters,
            ["week"] = WeekPeriod.Parameters,
            ["once"] = OnceWish.Parameters,
            ["absence"] = Absence.Parameters,
        };
        foreach (var driver in Drivers.All)
        {
            lists[driver.Name] = driver.Parameters;
            lists[driver.Name + " channel"] = driver.ChannelParameters;
        }
        return lists;
    }

    [Theory]
    [MemberData(nameof(Lists))]
    public void A_list_of_settings_is_consistent(string name)
    {
        var list = All()[name];
        Assert.Equal(list.Count, list.Select(parameter => parameter.Key).Distinct().Count());
        foreach (var parameter in list)
        {
            Assert.Matches("^[a-z][a-z0-9_]*$", parameter.Key);
            Assert.True(parameter.Help.Length is > 5 and < 160 && !parameter.Help.Contains('\n', StringComparison.Ordinal), $"{parameter.Key}: help");
            Assert.True(parameter.Lowest <= parameter.Highest, $"{parameter.Key}: limits");
            Assert.True(double.IsNaN(parameter.Default) || (parameter.Default >= parameter.Lowest && parameter.Default <= parameter.Highest), $"{parameter.Key}: default");
            Assert.True(parameter.DefaultText is null || parameter.Choices.Count == 0 || parameter.Choices.Contains(parameter.DefaultText), $"{parameter.Key}: default word");
            if (parameter.Quantity is not (Quantity.Text or Quantity.Switch))
                Assert.True(double.IsFinite(parameter.Lowest) && double.IsFinite(parameter.Highest), $"{parameter.Key}: a number without limits");
        }
    }

    /// <summary>What is shown as a limit can be typed: no limit is hidden by rounding.</summary>
    [Theory]
    [InlineData(UnitSystem.Metric)]
    [InlineData(UnitSystem.Us)]
    public void A_limit_as_shown_reads_back_as_the_limit(UnitSystem units)
    {
        foreach (var parameter in All().Values.SelectMany(list => list).Where(p => double.IsFinite(p.Lowest) && p.Quantity is not (Quantity.Text or Quantity.Switch)))
        {
            foreach (var limit in new[] { parameter.Lowest, parameter.Highest })
            {
                var shown = Quantities.ShowExactly(limit, parameter.Quantity, units);
                Assert.True(QuantityText.TryRead(shown, parameter.Quantity, out var value, out var problem), $"{parameter.Key} {shown}: {problem}");
                Assert.Equal(limit, value, Math.Max(units == UnitSystem.Metric ? 1e-9 : 0.002, Math.Abs(limit) * (units == UnitSystem.Metric ? 1e-9 : 2e-3)));
            }
        }
    }

    [Fact]
    public void The_version_in_messages_is_the_program_s()
        => Assert.Contains($"({typeof(SiteReader).Assembly.GetName().Version!.ToString(3)})", ReadSite(("    driver: modbus-tcp", "    driver: no-such-chip")).Problems[0].Message, StringComparison.Ordinal);

    /// <summary>A driver whose chip has its own channels lists none; a point names them, and an output cannot hang there.</summary>
    [Fact]
    public void A_device_with_channels_of_its_own_needs_no_list()
    {
        var chip = new DriverDeclaration("test-chip", "A chip of these tests.", [], null, [], [new Point("temperature", Quantity.Temperature), new Point("humidity", Quantity.Percent)]);
        var site = With(
            SiteText, ("{device: io-1, channel: air-temperature, ", "{device: hall-air, channel: temperature, "),
            ("      air-temperature: {table: holding-register, address: 10, type: s16, scale: 0.1 °C}\n", ""), ("\ndevices:\n", "\ndevices:\n  hall-air: {driver: test-chip}\n"));
        var result = SiteReader.Read(site, HouseholdText, [.. Drivers.All, chip]);
        Assert.Empty(result.Problems);
        Assert.Contains(result.Files!.Wiring, wire => wire is { PointId: "weaving-room.air.temperature", Device: "hall-air", Channel: "temperature" });
        var wrong = SiteReader.Read(With(site, ("device: hall-air, channel: temperature", "device: hall-air, channel: humidity")), HouseholdText, [.. Drivers.All, chip]);
        Told(wrong, LineOf(site, "air.temperature:"), "carries a percentage, the point is a temperature");
        var slip = SiteReader.Read(With(site, ("device: hall-air, channel: temperature", "device: hall-air, channel: temprature")), HouseholdText, [.. Drivers.All, chip]);
        Told(slip, LineOf(site, "air.temperature:"), "did you mean temperature?");
        var output = SiteReader.Read(With(site, ("coil.fan: {device: io-1, channel: fan}", "coil.fan: {device: hall-air, channel: humidity}")), HouseholdText, [.. Drivers.All, chip]);
        Told(output, LineOf(site, "coil.fan:"), "an output hangs on a channel that can only be read");
    }

    /// <summary>A site for lockstep has no devices and no points; it is one warning, not a row of missing wires.</summary>
    [Fact]
    public void A_site_without_devices_is_one_warning()
    {
        var site = SiteText[..SiteText.IndexOf("\ndevices:", StringComparison.Ordinal)] + "\n";
        site = string.Join('\n', site.Split('\n').Where(line => !line.Contains("{device:", StringComparison.Ordinal) && line.Trim() != "points:"));
        var result = Read(site, HouseholdText);
        Assert.NotNull(result.Files);
        Assert.Contains("nothing is wired", Assert.Single(result.Problems).Message, StringComparison.Ordinal);
        Assert.All(result.Files.House.Inputs, input => Assert.False(input.Wired));
        Assert.Empty(result.Files.Wiring);
    }

    [Fact]
    public void Consequences_are_told_where_the_key_stands()
    {
        Told(ReadHousehold(("    fan_at_most: 35 % ", "    fan_at_most: 0.35 ")), 5, "warning", "slowest speed 20 %", "did you mean 35 %?");
        Told(ReadHousehold(("      fan_at_most: 20 %", "      fan_at_most: 0 %")), 9, "warning", "does not run in quiet hours");
        Told(ReadHousehold(("      fan_at_most: 20 %", "      fan_at_most: 0 %")), 9, "warning", "in the hour before they begin the air is dried to a dew point 1 K lower");
        Assert.Empty(ReadHousehold(("    fan_at_most: 35 % ", "    fan_at_most: 0 % ")).Problems);
        var silent = With(SiteText, ("    sound:\n      at: 100 %\n      level: 47 dB           # at the ear, not at the coil\n", ""));
        Told(Read(silent, With(HouseholdText, ("fan_at_most: 35 % ", "noise_at_most: 30 dB "))), 5, "error", "no sound data");
        Told(ReadSite(("    drip_tray_switch: true", "    drip_tray_switch: false")), 33, "warning", "a blocked drain floods the room");
        Told(ReadSite(("      opening.open: {device: io-1, channel: terrace-door}\n", "")), 33, "warning", "no opening contact");
        Told(ReadSite(("      terrace-door: {table", "      spare: {table: coil, address: 9}\n      terrace-door: {table")), 91, "warning", "no point is on this channel");
        Told(ReadSite(("devices:\n", "devices:\n  io-2: {driver: modbus-tcp, host: h, registers: {a: {table: coil, address: 0}}}\n")), 77, "warning", "no point is on this device");
        Told(ReadSite(("loops:\n", "loops:\n  spare-loop: {type: direct, serves: coils, points: {pump.run: {device: io-1, channel: spare}}}\n"), ("      coil-pump: {t", "      spare: {table: coil, address: 9}\n      coil-pump: {t")), 55, "warning", "nothing hangs on this loop");
    }

    /// <summary>Two rooms on the same loops: points, indices and lines are each their own.</summary>
    [Fact]
    public void Two_rooms_on_the_same_loops_are_read()
    {
        var start = SiteText.IndexOf("  weaving-room:", StringComparison.Ordinal);
        var room = SiteText[start..SiteText.IndexOf("\nloops:", StringComparison.Ordinal)];
        var second = room.Replace("weaving-room", "kitchen", StringComparison.Ordinal).Replace("number: 1 ", "number: 2 ", StringComparison.Ordinal).Replace("io-1", "io-2", StringComparison.Ordinal);
        var device = SiteText[SiteText.IndexOf("  io-1:", StringComparison.Ordinal)..];
        var more = string.Join('\n', device.Replace("io-1", "io-2", StringComparison.Ordinal).Split('\n').Where(line => !line.Contains("mixing", StringComparison.Ordinal)
            && !line.Contains("pump", StringComparison.Ordinal) && !line.Contains("supply", StringComparison.Ordinal) && !line.Contains("source", StringComparison.Ordinal)));
        var result = Read(SiteText.Insert(start, second) + more, HouseholdText);
        Assert.Equal("is not said: the pipes at the manifold get wet first where its room is the most humid", Assert.Single(result.Problems).Message);
        var house = result.Files!.House;
        Assert.Equal(["kitchen", "weaving-room"], house.Rooms.Select(r => r.Id));
        Assert.Equal(100, house.Rooms[0].Household.FanAtMostPercent);
        foreach (var wire in result.Files.Wiring)
            Assert.Equal(wire.PointId, (wire.IsOutput ? house.OutputTable : house.InputTable)[wire.Index].Id);
        Assert.Equal(2, result.Files.Wiring.Count(wire => wire.Line == house.Coils[0].Kind.Line));
        Told(Read(SiteText.Insert(start, second.Replace("number: 2", "number: 1", StringComparison.Ordinal)) + more, HouseholdText), 54, "has the same number");
    }

    /// <summary>Seeded mutations of the household's file: refused with a line in that file, or every room within its limits.</summary>
    [Fact]
    public void Mutations_of_the_household_file_are_refused_with_a_line_or_within_limits()
    {
        var random = new Random(7);
        const string Characters = ":{}[]&*!|>%@`'\"#-?,.0123456789 \n\tabF°\u00A0“";
        var accepted = 0;
        for (var i = 0; i < 1000; i++)
        {
            var text = HouseholdText.ToCharArray();
            for (var edits = random.Next(1, 4); edits > 0; edits--)
                text[random.Next(text.Length)] = Characters[random.Next(Characters.Length)];
            var result = Read(SiteText, new string(text));
            Assert.All(result.Problems, problem => Assert.InRange(problem.Mark.Line, 1, text.Length));
            Assert.Equal(result.Files is null, Errors(result).Any());
            if (result.Files is null)
                continue;
            accepted++;
            foreach (var parameter in HouseholdRoom.Parameters.Concat(HouseholdRoom.QuietParameters))
            {
                var value = parameter.GetNumber!(result.Files.House.Rooms[0].Household);
                Assert.True(double.IsNaN(value) || (value >= parameter.Lowest && value <= parameter.Highest) || parameter.Quantity == Quantity.Switch, $"{parameter.Key} = {value}");
            }
        }
        Assert.InRange(accepted, 100, 900);
    }
}
