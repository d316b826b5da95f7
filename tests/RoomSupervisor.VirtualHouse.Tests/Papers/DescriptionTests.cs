// The description of a site: its own numbers, changed with their keys; nothing of what it has not; every word for every point.
using System.Globalization;
using System.Text.RegularExpressions;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Site;
using RoomSupervisor.Site.Forms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Papers;

public class DescriptionTests
{
    private static readonly PaperFacts Facts = new("0", "0", "");

    public static TheoryData<string> Examples => PaperSites.Examples;

    private static string Text(SiteFiles files)
    {
        using var text = new StringWriter();
        PaperText.Write(text, Description.Of(files), Facts, 100_000);
        return text.ToString();
    }

    private static string Text(string name, Func<string, string>? change = null, Func<string, string>? household = null) => Text(PaperSites.Read(name, change, household));

    [Fact]
    public void Ferry_House_is_described_with_its_own_numbers()
    {
        var text = Text("ferry-house");
        // From its two files: set points, caps, quiet hours, a weekly period, the draught limit, the tank, the absence.
        Assert.All((string[])["25 °C", "20.5 °C", "20:30 to 07:30: 25 %", "work: mon-fri from 08:00 to 17:30 cooled above 23.5 °C and heated below 21 °C", "draught 60 %", "The tank is wanted at 52 °C",
            "2027-02-06", "Buffer of 200 l", "least output 2000 W", "America/New_York", "The manifold of ceiling-loop stands in kitchen"], part => Assert.Contains(part, text, StringComparison.Ordinal));
        // 32 dB asked at the pillow of a fan of 40 dB at full speed: 10^(-8/50) = 69 % by the fan laws (50·log10, handbook, from memory).
        Assert.Contains("sleeping-loft 32 dB, that is 69 %", text, StringComparison.Ordinal);
        Assert.Contains("Lowest safe supply: the worst-case dew point, 1 K over it", text, StringComparison.Ordinal);
    }

    /// <summary>Every number that stands in a description follows its key: each of them is set to another value, and the words change with it.</summary>
    [Theory]
    [InlineData("ferry-house")]
    [InlineData("floor-only")]
    [InlineData("two-pipe")]
    public void A_changed_key_changes_the_words(string name)
    {
        var files = PaperSites.Read(name);
        var keys = Description.KeysOf(files);
        Assert.True(keys.Count > (name == "ferry-house" ? 100 : 30), $"{name} names {keys.Count} numbers");
        var before = Text(files);
        foreach (var parameter in SequenceSettings.Parameters.Where(parameter => keys.Contains(parameter.Key)))
        {
            var other = Other(parameter);
            var changed = PaperSites.Read(name, text => text + $"\nsequence:\n  {parameter.Key}: {Quantities.ShowExactly(other, parameter.Quantity, UnitSystem.Metric)}\n");
            var shown = SettingWords.Show(parameter, changed.House.Settings, changed.House.Units);
            var prose = Text(changed).Split("NUMBERS")[0];
            Assert.True(prose != before.Split("NUMBERS")[0], $"sequence.{parameter.Key}: the words stay the same");
            Assert.True(prose.Contains(shown, StringComparison.Ordinal), $"sequence.{parameter.Key}: {shown} does not stand there");
        }
    }

    /// <summary>Another allowed value that no text shows by chance.</summary>
    private static double Other(Parameter<SequenceSettings> parameter)
    {
        var odd = parameter.Quantity switch
        {
            Quantity.Duration => Math.Floor(parameter.Lowest) + Math.Min(7 * 7 * 7 * 60 + 60 * 1.37, Math.Floor((parameter.Highest - parameter.Lowest) * 0.37)),
            Quantity.Number => Math.Min(parameter.Highest, parameter.Default + 3),
            _ => Math.Round(parameter.Lowest + (parameter.Highest - parameter.Lowest) * 0.437, 2),
        };
        return odd == parameter.Default ? odd + 1 : odd;
    }

    [Fact]
    public void Household_wishes_change_the_words()
    {
        Assert.Contains("cooled above", Text("one-room"), StringComparison.Ordinal);
        Assert.Contains("22.75 °C", Text("one-room", household: text => text.Replace("cool_above: 24 °C", "cool_above: 22.75 °C", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Contains("weaving-room 37 %", Text("one-room", household: text => text.Replace("fan_at_most: 35 %", "fan_at_most: 37 %", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("floor-only", "dew point", "condensation", "cooling", "cooled", "coil", "fan ", "drip", "drying", "pull-down", "Hot water", "change-over")]
    [InlineData("coil-only", "condensation", "lowest safe supply", "surface", "radiant", "mixing", "heated", "warm-up", "Hot water", "Buffer", "Change-over")]
    [InlineData("one-room", "hot water", "buffer", "Change-over", "heated", "warm-up", "bypass the", "stand-by", "slab", "Surplus", "coil-hold")]
    [InlineData("two-pipe", "condensation", "surface", "slab", "hot water", "buffer", "radiant-hold", "mixing valve")]
    public void Only_what_the_site_has_is_described(string name, params string[] absent)
    {
        var text = Text(name);
        // Headings are in capitals; device channels and keys of numbers have names of their own.
        var prose = Regex.Replace(text.Split("\nPOINTS")[0], "sequence\\.[a-z_]+", "");
        Assert.All(absent, word => Assert.False(prose.Contains(word, StringComparison.OrdinalIgnoreCase), $"{name} speaks of \"{word}\": {Around(prose, word)}"));
    }

    private static string Around(string text, string word)
    {
        var at = text.IndexOf(word, StringComparison.OrdinalIgnoreCase);
        return at < 0 ? "" : text[Math.Max(0, at - 60)..Math.Min(text.Length, at + 60)];
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_room_loop_coil_surface_and_point_is_named(string name)
    {
        var files = PaperSites.Read(name);
        var text = Text(files);
        Assert.All(files.House.Rooms, room => Assert.Contains(room.Id, text, StringComparison.Ordinal));
        Assert.All(files.House.Loops, loop => Assert.Contains(loop.Id, text, StringComparison.Ordinal));
        Assert.All(files.House.Coils, coil => Assert.Contains(coil.Id, text, StringComparison.Ordinal));
        Assert.All(files.House.Circuits, circuit => Assert.Contains(circuit.Id, text, StringComparison.Ordinal));
        Assert.All(files.Wiring, wire => Assert.Contains(wire.PointId, text, StringComparison.Ordinal));
        Assert.DoesNotContain("{", text, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_page_is_well_formed_and_says_what_it_is_not(string name)
    {
        using var page = new StringWriter();
        PaperHtml.Write(page, Description.Of(PaperSites.Read(name)), Facts);
        System.Xml.Linq.XDocument.Parse(page.ToString());
        Assert.Contains("Not a safety device", page.ToString(), StringComparison.Ordinal);
        Assert.Contains("signature", page.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_four_pipe_house_is_described_with_both_its_sources()
    {
        var text = Text(PaperSites.Of(PaperSites.FourPipe));
        Assert.Contains("source: chiller, for cold-loop.", text, StringComparison.Ordinal);
        Assert.Contains("heat-source: boiler, for warm-loop.", text, StringComparison.Ordinal);
        Assert.Contains("cold-loop cold, warm-loop warm", text, StringComparison.Ordinal);
        // Nothing changes over, and no loop carries the other season's water.
        Assert.DoesNotContain("Change-over", text, StringComparison.Ordinal);
        Assert.DoesNotContain("other season", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_boiler_with_floors_only_is_not_told_of_a_pull_down_by_its_buffer()
    {
        var text = Text("floor-only", site => site.Replace("\noutdoor:", "\nbuffer: {volume: 300 l, points: {top.temperature: {device: io-1, channel: top}}}\n\noutdoor:", StringComparison.Ordinal)
            .Replace("      water-pressure: {", "      top: {table: input-register, address: 3, type: s16, scale: 0.1 °C}\n      water-pressure: {", StringComparison.Ordinal));
        Assert.Contains("Buffer of 300 l. It calls the source while somebody asks and swings by 4 K about what the most demanding loop wants. One that", text, StringComparison.Ordinal);
        Assert.DoesNotContain("pull-down", text.Split("NUMBERS")[0], StringComparison.Ordinal);
        // A chiller's buffer warms nobody up, and a machine that is neither told its set point nor read goes on past nothing.
        var four = Text(PaperSites.Of(PaperSites.FourPipeWithCeiling.Replace("\nrooms:", "\nbuffer: {volume: 100 l, points: {top.temperature: {device: io, channel: t2}}}\nrooms:", StringComparison.Ordinal)
            + "      t2: {table: input-register, address: 1, type: s16, scale: 0.1 °C}\n"));
        Assert.Contains("half of that in a pull-down. One that", four, StringComparison.Ordinal);
        // Where coils heat and cool, and doors are read, both directions and the door are told.
        Assert.Contains("half of that in a pull-down or warm-up; while one lasts or is to come when an open door shuts, a machine that runs goes on past the full buffer until that is as cold or warm as", Text("ferry-house"), StringComparison.Ordinal);
    }

    [Fact]
    public void An_open_door_asks_for_cold_water_where_somebody_can_be_told()
    {
        Assert.Contains("keeps the source ready for 60 min, and its water as cold as a pull-down takes it.", Text("ferry-house"), StringComparison.Ordinal);
        // Neither set point nor buffer: nobody can be told.
        Assert.Contains("keeps the source ready for 60 min.", Text("two-pipe"), StringComparison.Ordinal);
        // No set point, but a buffer that is filled colder.
        Assert.Contains("its water as cold as a pull-down takes it", Text("garden-studio"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_ceiling_that_only_cools_warms_nobody_up()
    {
        Assert.Contains("warm-up: the coils heat with their fans at their limits, the surface with them.", Text("ferry-house"), StringComparison.Ordinal);
        var four = Text(PaperSites.Of(PaperSites.FourPipeWithCeiling));
        Assert.Contains("warm-up: the coils heat with their fans at their limits.", four, StringComparison.Ordinal);
        Assert.Contains("the surface stays shut, and helps", four, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wet_coil_is_told_of_where_humidity_is_read()
    {
        Assert.Contains("Of several rooms the mean of their dew points counts.", Text("ferry-house"), StringComparison.Ordinal);
        Assert.DoesNotContain("Of several rooms the mean", Text("one-room"), StringComparison.Ordinal);
        Assert.Contains("stays wet for at most", Text("one-room"), StringComparison.Ordinal);
        Assert.DoesNotContain("stays wet for at most", Text("two-pipe"), StringComparison.Ordinal);
        // A limit of several rooms' coils is told where there is such a coil.
        Assert.DoesNotContain("coil of several rooms", Text("two-pipe"), StringComparison.Ordinal);
    }

    [Fact]
    public void What_becomes_of_outputs_when_the_board_dies_is_told_device_by_device()
    {
        Assert.Contains("When the board dies io-ground (after 60 s), io-upper (after 60 s) and io-plant (after 60 s) let go of outputs by themselves", Text("ferry-house"), StringComparison.Ordinal);
        var studio = Text("garden-studio");
        Assert.Contains("When the board dies io-1 (after 60 s) lets go of outputs by itself. Outputs of ", studio, StringComparison.Ordinal);
        Assert.Contains("stay as they were when the board dies", studio, StringComparison.Ordinal);
        Assert.DoesNotContain("stay as they were when the board dies", Text("ferry-house"), StringComparison.Ordinal);
    }

    [Fact]
    public void Units_are_the_readers()
    {
        var text = Text("two-pipe");
        Assert.Contains("76 °F", text, StringComparison.Ordinal);
        Assert.DoesNotMatch(new Regex("\\d °C"), text);
        Assert.DoesNotMatch(new Regex("\\d K\\b"), text);
        Assert.Contains("its warmest at 10.4 °F (floor-loop)", Text("floor-only", site => site.Replace("units: metric", "units: us", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.DoesNotContain("kelvin", Text("brick-row").Split("NUMBERS")[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Every_point_that_a_site_may_have_has_words_and_letters()
    {
        var missing = new List<string>();
        void Walk(FormGroup group, string path)
        {
            if (group.Point is { Length: > 0 } point && PointWords.All.All(kind => $"{kind.Part}.{kind.Point}" != Regex.Replace(point, "^(ceiling|floor|wall)\\.", "surface.")))
                missing.Add($"{path}: {point}");
            foreach (var part in group.Parts)
                Walk(part.Group, $"{path}.{part.Key}");
            foreach (var alternative in group.Choice?.Alternatives ?? [])
                Walk(alternative.Group, path);
        }
        Walk(SiteForm.Of(Drivers.All), "");
        Assert.Empty(missing);
        Assert.All(PointWords.All, kind => Assert.NotEmpty(PointWords.Meaning(kind.Letters)));
    }

    [Fact]
    public void The_fingerprint_tells_another_file_and_nothing_moves_between_the_two()
    {
        byte[] Bytes(string text) => System.Text.Encoding.UTF8.GetBytes(text);
        Assert.NotEqual(PaperFacts.Of(Bytes("a"), Bytes("b")), PaperFacts.Of(Bytes("ab"), Bytes("")));
        Assert.NotEqual(PaperFacts.Of(Bytes("a"), Bytes("b")), PaperFacts.Of(Bytes("a"), Bytes("c")));
        Assert.Equal(12, PaperFacts.Of(Bytes("a"), Bytes("b")).Length);
    }
}
