// The wiring list: every point once, counts against counts made by hand, labels, protections, warnings, and cells that no spreadsheet takes for formulas.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Wiring;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.VirtualHouse.Tests.Papers;

public class WiringTests
{
    private static readonly PaperFacts Facts = new("0", "0", "");

    private static WirePlan Plan(SiteFiles files) => SiteWires.Of(files, Drivers.All);

    private static WirePlan Plan(string name, Func<string, string>? change = null) => Plan(PaperSites.Read(name, change));

    public static TheoryData<string> Examples => PaperSites.Examples;

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_point_of_an_example_stands_once_in_the_schedule_and_every_channel_on_one_terminal(string name)
    {
        var files = PaperSites.Read(name);
        var plan = Plan(files);
        Assert.Equal(plan.Rows.Count, plan.Rows.Select(row => row.Id).Distinct().Count());
        // What the file says, read line by line and not by the reader: an id is its owner's name and its point.
        var written = PaperSites.Text(name).Split('\n').Count(line => line.Contains("{device: ", StringComparison.Ordinal) && !line.TrimStart().StartsWith('#'));
        Assert.Equal(written, plan.Rows.Count);
        var terminals = plan.Rows.SelectMany(row => row.Terminals.Select(terminal => (row.Device.Name, terminal.Channel))).ToList();
        Assert.Equal(terminals.Count, terminals.Distinct().Count());
        Assert.Equal(files.Wiring.Count, terminals.Count);
        Assert.All(plan.Rows.Where(row => row.IsOutput), row => Assert.Contains("If the board dies", row.Safe, StringComparison.Ordinal));
        Assert.All(plan.Rows, row => Assert.NotEmpty(row.Signal));
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_terminal_has_a_cable_and_no_two_cables_one_label(string name)
    {
        var plan = Plan(name);
        Assert.Equal(plan.Cables.Count, plan.Cables.Select(cable => cable.Label).Distinct().Count());
        var labels = plan.Cables.ToDictionary(cable => cable.Label);
        foreach (var row in plan.Rows)
        {
            Assert.NotEmpty(row.Cables);
            Assert.All(row.Cables, label => Assert.Contains(row.Id, labels[label].Points));
        }
    }

    [Fact]
    public void Terminals_of_Ferry_House_are_those_counted_by_hand_in_its_file()
    {
        // Counted with a finger on config/ferry-house/site.yaml: room-sensors 14 values; io-ground 8 voltages, 3 relays, 10 contacts; io-upper 2 voltages, 3 contacts;
        // io-plant one voltage (floor mixing), one set point, 11 values, 16 relays, 7 contacts.
        var plan = Plan("ferry-house");
        Assert.Equal(14, plan.Count(TerminalKind.Measured, "room-sensors"));
        Assert.Equal((8, 3, 10), (plan.Count(TerminalKind.Voltage, "io-ground"), plan.Count(TerminalKind.Relay, "io-ground"), plan.Count(TerminalKind.Contact, "io-ground")));
        Assert.Equal((2, 3), (plan.Count(TerminalKind.Voltage, "io-upper"), plan.Count(TerminalKind.Contact, "io-upper")));
        Assert.Equal((1, 1, 11), (plan.Count(TerminalKind.Voltage, "io-plant"), plan.Count(TerminalKind.Value, "io-plant"), plan.Count(TerminalKind.Measured, "io-plant")));
        Assert.Equal((16, 7), (plan.Count(TerminalKind.Relay, "io-plant"), plan.Count(TerminalKind.Contact, "io-plant")));
        Assert.Equal(76, plan.Rows.Sum(row => row.Terminals.Count));
        // 45 inputs; 27 outputs on 31 terminals: two more for the kitchen's fan, one for the hall's second circuit, one for the mixing valve.
        Assert.Equal((45, 27), (plan.Rows.Count(row => !row.IsOutput), plan.Rows.Count(row => row.IsOutput)));
    }

    [Fact]
    public void Labels_hang_on_the_stable_number_of_a_room_and_on_nothing_else_of_it()
    {
        var plan = Plan("ferry-house");
        string[] Labels(string id) => [.. plan.Rows.First(row => row.Id == id).Cables];
        Assert.Equal(["R2-01"], Labels("weaving-room.air.temperature"));
        Assert.Equal(["R2-01"], Labels("weaving-room.air.humidity"));
        Assert.Equal(["R2-11"], Labels("weaving-room.coil.fan"));
        Assert.Equal(["R1-51a", "R1-51b"], Labels("landing-hall.ceiling.valve"));
        Assert.Equal(["R1-22"], Labels("landing-hall.coil-south.valve"));
        Assert.Equal(["C1-01"], Labels("loft-coil.coil.fan"));
        Assert.Equal(["L1-03"], Labels("ceiling-loop.mixing.valve"));
        // A room moved to the head of the file keeps its labels.
        var moved = Plan("ferry-house", text =>
        {
            var (hall, weaving, kitchen) = (text.IndexOf("  landing-hall:", StringComparison.Ordinal), text.IndexOf("  weaving-room:", StringComparison.Ordinal), text.IndexOf("  kitchen:", StringComparison.Ordinal));
            return text[..hall] + text[weaving..kitchen] + text[hall..weaving] + text[kitchen..];
        });
        Assert.Equal("weaving-room", moved.Rows.First(row => row.Cables.Contains("R2-11")).Id.Split('.')[0]);
        Assert.Equal(plan.Rows.Select(row => (row.Id, string.Join(' ', row.Cables))).Order(), moved.Rows.Select(row => (row.Id, string.Join(' ', row.Cables))).Order());
    }

    [Fact]
    public void Cores_of_a_cable_carry_all_its_signals()
    {
        var cables = Plan("ferry-house").Cables.ToDictionary(cable => cable.Label);
        Assert.Equal(4, cables["R3-11"].Cores);    // three speeds and their common
        Assert.Equal(3, cables["L1-03"].Cores);    // opens, shuts, common
        Assert.Equal(2, cables["R2-06"].Cores);    // a contact
        Assert.Equal(3, cables["R2-12"].Cores);    // supply, common, 0-10 V
        Assert.Equal(2, cables["B-01"].Cores);     // a thermometer
        Assert.Equal(3, Plan("floor-only").Cables.First(cable => cable.Label == "L1-10").Cores);    // a pressure gauge: supply, common, signal
        Assert.Equal(5, cables["S1-02"].Cores);    // four contacts of the heat pump and their common
    }

    [Fact]
    public void A_bus_cable_begins_where_the_device_before_it_stands()
    {
        var cables = Plan("floor-only").Cables.ToDictionary(cable => cable.Label);
        Assert.Equal(("board", "panel", "io-1"), (cables["M1-1"].From, cables["M1-1"].Panel, cables["M1-1"].To));
        Assert.Equal(("io-1", "panel", "changing-sensor, at changing-room"), (cables["M1-2"].From, cables["M1-2"].Panel, cables["M1-2"].To));
        Assert.Equal(("changing-sensor", "at changing-room", "bath-sensor, at bath"), (cables["M1-3"].From, cables["M1-3"].Panel, cables["M1-3"].To));
    }

    [Fact]
    public void A_surface_without_a_switch_is_warned_of_and_one_with_a_switch_is_not()
    {
        var plan = Plan("one-room");
        Assert.Contains(plan.Warnings, warning => warning.StartsWith("weaving-room.ceiling: no condensation switch", StringComparison.Ordinal));
        var fitted = Plan("one-room", text => text.Replace("      ceiling.valve: {", "      ceiling.condensation: {device: io-1, channel: wet}\n      ceiling.valve: {", StringComparison.Ordinal)
            .Replace("      terrace-door: {", "      wet: {table: discrete-input, address: 9}\n      terrace-door: {", StringComparison.Ordinal));
        Assert.DoesNotContain(fitted.Warnings, warning => warning.Contains("condensation", StringComparison.Ordinal));
        Assert.False(fitted.Protections.First(one => one.What == "condensation switch").IsMissing);
    }

    [Fact]
    public void Protections_are_those_the_site_needs()
    {
        string[] Of(string name) => [.. Plan(name).Protections.Select(one => one.What).Distinct()];
        Assert.DoesNotContain("condensation switch", Of("coil-only"));
        Assert.DoesNotContain("high-limit thermostat", Of("coil-only"));
        Assert.Contains("drip-tray switch", Of("coil-only"));
        Assert.DoesNotContain("drip-tray switch", Of("floor-only"));
        Assert.DoesNotContain("condensation switch", Of("floor-only"));
        Assert.Contains("high-limit thermostat", Of("floor-only"));
        Assert.DoesNotContain("mixing valve against scalding", Of("floor-only"));
        Assert.Contains("mixing valve against scalding", Of("ferry-house"));
        Assert.All(PaperSites.Names, name => Assert.Contains("hand–off–auto switch", Of(name)));
        // Six ceilings' worth by hand: hall, weaving room, kitchen and loft are cooled; the drying room's floor never is.
        Assert.Equal(4, Plan("ferry-house").Protections.Count(one => one.What == "condensation switch"));
        Assert.Equal(6, Plan("ferry-house").Protections.Count(one => one.What == "drip-tray switch"));
    }

    [Fact]
    public void Outputs_without_a_safe_state_and_relays_on_one_drive_are_warned_of()
    {
        var studio = Plan("garden-studio").Warnings;
        Assert.Contains(studio, warning => warning.StartsWith("volts: its outputs have no safe state", StringComparison.Ordinal) && warning.Contains("site.health.ok", StringComparison.Ordinal));
        Assert.Contains(studio, warning => warning.StartsWith("ceiling-loop.mixing.valve: 2 relays on one drive", StringComparison.Ordinal));
        Assert.Contains(studio, warning => warning.StartsWith("workshop.coil.fan: 3 relays on one motor", StringComparison.Ordinal));
        Assert.Contains(studio, warning => warning.StartsWith("studio-air: a sensor on a wire bus", StringComparison.Ordinal));
        Assert.DoesNotContain(Plan("one-room").Warnings, warning => warning.Contains("safe state", StringComparison.Ordinal));
        var silent = Plan("one-room", text => text.Replace("    own_time_out: 60 s", "    # none", StringComparison.Ordinal)).Warnings;
        Assert.Contains(silent, warning => warning.StartsWith("io-1: its outputs have no safe state", StringComparison.Ordinal) && warning.Contains("no health relay", StringComparison.Ordinal));
    }

    [Fact]
    public void A_written_length_and_power_count_and_are_told_apart_from_assumed_ones()
    {
        var plan = Plan("garden-studio", text => text.Replace("{driver: sht4x, bus: /dev/i2c-1, address: 0x44}", "{driver: sht4x, bus: /dev/i2c-1, address: 0x44, cable_length: 12 m, power: 0.2 W, panel: at the door}", StringComparison.Ordinal));
        Assert.Contains(plan.Warnings, warning => warning.StartsWith("studio-air: 12 m is long", StringComparison.Ordinal));
        var line = plan.Power.First(one => one.What.StartsWith("studio-air ", StringComparison.Ordinal));
        Assert.Equal((0.2, false, "at the door"), (line.EachW, line.IsAssumed, line.Panel));
        Assert.True(plan.Power.First(one => one.What.StartsWith("workshop-air ", StringComparison.Ordinal)).IsAssumed);
    }

    [Fact]
    public void Panel_power_of_one_room_is_the_sum_made_by_hand()
    {
        // Board 8 W, one module 3 W, three relays (two pumps, the call) 0.5 W each, three actuators on a voltage (coil, ceiling, mixing) 2.5 W each: 20 W, and 30 % in hand. The fan is fed for itself.
        Assert.Equal(20 * 1.3, PanelPower.NeededW(Plan("one-room").Power), 9);
    }

    [Fact]
    public void A_supply_bears_all_wax_actuators_cold_at_once()
    {
        // The bath house: board 8 W, module 3 W, two sensors on the line 0.5 W each, five relays 0.5 W each, the mixing valve 2.5 W, three wax actuators 2 W each: 23 W, 29.9 W with 30 % in hand;
        // while the wax is cold 12 W more: 35 W. The sensors are fed over their line: there is no other panel.
        var power = Plan("floor-only").Power;
        Assert.Equal([SiteWires.ThePanel], power.Select(line => line.Panel).Distinct());
        Assert.Equal(23, power.Sum(line => line.TotalW), 9);
        Assert.Equal(35, PanelPower.NeededW(power), 9);
    }

    [Fact]
    public void What_an_output_does_without_the_controller_is_told_as_it_is_wired()
    {
        var plan = Plan(PaperSites.Of(PaperSites.FourPipeWithCeiling));
        string Dies(string id) => plan.Rows.First(row => row.Id == id).Dies;
        Assert.StartsWith("OPEN: its actuator opens without current", Dies("study.ceiling.valve"), StringComparison.Ordinal);
        Assert.StartsWith("ON: its relay is drawn while it is off", Dies("ceiling-loop.pump.run"), StringComparison.Ordinal);
        Assert.Equal("off by the module itself after 60 s", Dies("cold-loop.pump.run"));
        Assert.Contains(plan.Warnings, warning => warning.StartsWith("ceiling-loop.pump.run: its relay is drawn while it is off", StringComparison.Ordinal));
        Assert.StartsWith("stays where it stands: both relays off", Plan("ferry-house").Rows.First(row => row.Id == "ceiling-loop.mixing.valve").Dies, StringComparison.Ordinal);
        // The sheet for the lid says the same: a relay on a chip does not fall off.
        var studio = PaperSites.Read("garden-studio");
        var lid = WirePaper.Of(Plan(studio), studio, Facts).Sections.First(section => section.IsUpright).Blocks.OfType<Table>().First();
        Assert.StartsWith("stays as it was", lid.Rows.First(row => row[0] == "coil-loop.pump.run")[3], StringComparison.Ordinal);
        Assert.StartsWith("off by the module", lid.Rows.First(row => row[0] == "source.call.enable")[3], StringComparison.Ordinal);
    }

    [Fact]
    public void The_health_relay_supplies_only_what_would_stay_and_nothing_that_keeps_frost_out()
    {
        HardWired Of(WirePlan plan, string what) => plan.Protections.First(one => one.What == what);
        // Modules that let go by themselves: it falls off for a missing reading, in frost too, and must not take pumps with it.
        Assert.StartsWith("not in the supply of pumps and valves", Of(Plan("ferry-house"), "health relay").HowTo, StringComparison.Ordinal);
        Assert.Contains("past the relay of site.health.ok", Of(Plan("ferry-house"), "frost thermostat").HowTo, StringComparison.Ordinal);
        Assert.DoesNotContain("site.health.ok", Of(Plan("one-room"), "frost thermostat").HowTo, StringComparison.Ordinal);
        Assert.Contains("relays", Of(Plan("garden-studio"), "health relay").Where, StringComparison.Ordinal);
        Assert.DoesNotContain("io-1", Of(Plan("garden-studio"), "health relay").Where, StringComparison.Ordinal);
        // Ferry House without its plant module's time-out: pumps that stay on in frost hang on the relay, and the relay itself would stay drawn.
        var plan = Plan("ferry-house", text => text[..text.LastIndexOf("    own_time_out: 60 s", StringComparison.Ordinal)] + text[(text.LastIndexOf("    own_time_out: 60 s", StringComparison.Ordinal) + "    own_time_out: 60 s".Length)..]);
        Assert.Contains(plan.Warnings, warning => warning.StartsWith("site.health.ok: io-plant keeps its outputs when the board dies", StringComparison.Ordinal));
        Assert.Contains(plan.Warnings, warning => warning.StartsWith("site.health.ok falls off in frost too", StringComparison.Ordinal) && warning.Contains("coil-loop.pump.run", StringComparison.Ordinal));
        Assert.DoesNotContain(Plan("ferry-house").Warnings, warning => warning.Contains("health", StringComparison.Ordinal));
        var inverted = Plan("ferry-house", text => text.Replace("health.ok: {device: io-plant, channel: health}", "health.ok: {device: io-plant, channel: health, inverted: true}", StringComparison.Ordinal));
        Assert.Contains(inverted.Warnings, warning => warning.StartsWith("site.health.ok: its relay is drawn while something is wrong", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_pump_and_charge_has_its_hand_switch_and_only_the_interlocks_its_loop_has()
    {
        var hands = Plan(PaperSites.Of(PaperSites.MadeUp(2))).Protections.Where(one => one.What == "hand–off–auto switch").ToDictionary(one => one.Where, one => one.HowTo);
        Assert.Equal(["call of source", "charging of hot-water", "pump of ceiling-loop", "pump of coil-loop", "pump of floor-loop", "stand-by pump of ceiling-loop"], hands.Keys.Order(StringComparer.Ordinal));
        Assert.Contains("condensation switch and high limit in series behind it", hands["stand-by pump of ceiling-loop"], StringComparison.Ordinal);
        Assert.Contains("; high limit in series behind it", hands["pump of floor-loop"], StringComparison.Ordinal);
        Assert.Equal("between output and contactor", hands["pump of coil-loop"]);
        // Wax shuts in minutes: where its switch is in series with such an actuator that is said.
        Assert.EndsWith("that actuator takes 4 min to shut, a pump stops at once", Plan("ferry-house").Protections.First(one => one.Where == "kitchen.ceiling").HowTo, StringComparison.Ordinal);
        Assert.DoesNotContain(Plan("coil-only").Protections, one => one.HowTo.Contains("condensation", StringComparison.Ordinal));
        Assert.Contains("what its surfaces bear", Plan("ferry-house").Protections.First(one => one.What == "high-limit thermostat" && one.Where == "ceiling-loop").HowTo, StringComparison.Ordinal);
    }

    [Fact]
    public void Sensors_on_bus_cables_share_a_sheet_and_the_lid_has_one_of_its_own()
    {
        var studio = PaperSites.Read("garden-studio");
        var sections = WirePaper.Of(Plan(studio), studio, Facts).Sections;
        Assert.Equal([("Points: panel", true), ("Points: at studio", true), ("Points: at workshop", false)],
            sections.Where(section => section.Heading.StartsWith("Points: ", StringComparison.Ordinal)).Select(section => (section.Heading, section.OnNewSheet)));
        using var page = new StringWriter();
        PaperHtml.Write(page, WirePaper.Of(Plan(studio), studio, Facts), Facts);
        Assert.Contains("@page upright{size:A4 portrait}", page.ToString(), StringComparison.Ordinal);
        Assert.Contains("<section class=\"sheet caution upright\">", page.ToString(), StringComparison.Ordinal);
        // A label never falls into two lines, a short table never on two sheets.
        Assert.Contains("<td class=\"kept\">R1-11</td>", page.ToString().Replace("<wbr/>", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("<table class=\"plain whole\">", page.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_name_of_the_site_becomes_a_formula_or_mark_up()
    {
        var files = PaperSites.Read("one-room", text => text.Replace("name: Ferry House", "name: \"=2+5 <b>&amp;\"", StringComparison.Ordinal)
            .Replace("    unit: 1", "    unit: 1\n    panel: \"=HYPERLINK(\\\"http://x\\\")<script>\"", StringComparison.Ordinal));
        var plan = Plan(files);
        using var csv = new StringWriter();
        WireCsv.Write(csv, plan);
        Assert.Contains("\"'=HYPERLINK(\"\"http://x\"\")<script>\",weaving-room.air.temperature", csv.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain(csv.ToString().Split("\r\n"), line => line.StartsWith('='));
        using var cables = new StringWriter();
        WireCsv.WriteCables(cables, plan);
        Assert.Equal(plan.Cables.Count + 1, cables.ToString().Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.DoesNotContain(",=", cables.ToString(), StringComparison.Ordinal);
        using var page = new StringWriter();
        PaperHtml.Write(page, WirePaper.Of(plan, files, Facts), Facts);
        System.Xml.Linq.XDocument.Parse(page.ToString());
        Assert.DoesNotContain("<script", page.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_control_character_reaches_a_terminal_and_no_line_is_wider_than_it()
    {
        using var text = new StringWriter();
        var evil = "a\u001b[31mb\u202Ec\rd " + new string('w', 200);
        PaperText.Write(text, new Paper("t", evil, evil, [new Section(evil, [new Words(evil), new Bullets([evil]), new Table([evil, "b"], [[evil, evil]]), new Blanks(["x"])])]), Facts, 60);
        Assert.DoesNotContain(text.ToString(), letter => letter is '\u001b' or '\u202E' or '\r');
        PaperText.Write(text, WirePaper.Of(Plan("ferry-house"), PaperSites.Read("ferry-house"), Facts), Facts, 60);
        Assert.All(text.ToString().Split('\n'), line => Assert.True(line.Length <= 60, line));
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData(" @x", "' @x")]
    [InlineData("-5", "-5")]
    [InlineData("-5+A1", "'-5+A1")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"x\"", "\"say \"\"x\"\"\"")]
    [InlineData("plain", "plain")]
    public void A_cell_is_text(string text, string cell) => Assert.Equal(cell, CsvText.Cell(text));

    [Fact]
    public void Cautions_and_boxes_to_tick_are_printed()
    {
        var files = PaperSites.Read("ferry-house");
        using var page = new StringWriter();
        PaperHtml.Write(page, WirePaper.Of(Plan(files), files, Facts), Facts);
        Assert.Contains("Not a safety device", page.ToString(), StringComparison.Ordinal);
        Assert.Contains("licensed electrician", page.ToString(), StringComparison.Ordinal);
        // A box for each point, each cable and each protection.
        var plan = Plan(files);
        Assert.Equal(plan.Rows.Count + plan.Cables.Count + plan.Protections.Count, page.ToString().Split("<span class=\"box\">").Length - 1);
    }
}
