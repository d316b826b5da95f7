// One value put into site.yaml: everything else stays to the letter, whatever way the group is written. Every example site is edited and must stay sound.
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.Parts.Tests.Site;

public class SiteEditTests
{
    private const string Text = """
        # head
        site: {name: House, altitude: 12 m}   # one line
        loops:
          # of the ceilings
          ceiling-loop:
            type: mixed
            lag: 45 s   # from valve to ceilings
            stroke: '90 s' # quoted
          floor-loop: {type: mixed, lag: 45 s, stroke: 120 s}  # flow

        """;

    [Theory]
    [InlineData("loops.ceiling-loop.lag", "70 s", "    lag: 45 s   # from", "    lag: 70 s   # from")]
    [InlineData("loops.ceiling-loop.stroke", "100 s", "stroke: '90 s' # quoted", "stroke: 100 s # quoted")]
    [InlineData("loops.floor-loop.lag", "70 s", "{type: mixed, lag: 45 s, stroke: 120 s}  # flow", "{type: mixed, lag: 70 s, stroke: 120 s}  # flow")]
    [InlineData("loops.floor-loop.stroke", "1 s", "stroke: 120 s}  # flow", "stroke: 1 s}  # flow")]
    [InlineData("site.altitude", "620 ft", "altitude: 12 m}   # one line", "altitude: 620 ft}   # one line")]
    public void A_value_that_is_there_is_replaced_and_nothing_else(string path, string value, string before, string after)
    {
        Assert.True(SiteEdit.TrySet(Text, path, value, "remark", out var edited, out var why), why);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edited);
        Assert.Equal(value, SiteEdit.ValueOf(edited, path));
    }

    [Fact]
    public void A_key_that_is_not_there_is_added_in_the_way_its_group_is_written()
    {
        Assert.True(SiteEdit.TrySet(Text, "loops.ceiling-loop.bypass", "true", "found", out var edited, out var why), why);
        Assert.Equal(Text.Replace("    type: mixed\n    lag", "    bypass: true   # found\n    type: mixed\n    lag", StringComparison.Ordinal), edited);
        Assert.True(SiteEdit.TrySet(Text, "loops.floor-loop.bypass", "true", "found", out edited, out why), why);
        Assert.Equal(Text.Replace("{type: mixed, lag", "{bypass: true, type: mixed, lag", StringComparison.Ordinal), edited);
        Assert.True(SiteEdit.TrySet(Text, "sequence.mixing_gain", "0.3", "", out edited, out why), why);
        Assert.Equal(Text + "\nsequence:\n  mixing_gain: 0.3\n", edited);
        Assert.True(SiteEdit.TrySet(edited, "sequence.mixing_integral", "0.03", "", out var again, out why), why);
        Assert.Equal(Text + "\nsequence:\n  mixing_integral: 0.03\n  mixing_gain: 0.3\n", again);
    }

    [Theory]
    [InlineData("loops.attic-loop.lag", "1 s", "attic-loop")]
    [InlineData("loops.ceiling-loop", "1 s", "a group")]
    [InlineData("loops.ceiling-loop.lag", "1 s # x", "quotes")]
    public void What_cannot_be_put_in_is_refused_and_nothing_is_changed(string path, string value, string because)
    {
        Assert.False(SiteEdit.TrySet(Text, path, value, "", out var edited, out var why));
        Assert.Equal(Text, edited);
        Assert.Contains(because, why, StringComparison.Ordinal);
    }

    public static TheoryData<string> Examples => [.. Directory.GetDirectories(Path.Combine(Repository.Root, "config")).Select(folder => Path.GetFileName(folder)!)];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_takes_an_edit_of_each_kind_and_stays_sound(string example)
    {
        var folder = Path.Combine(Repository.Root, "config", example);
        var text = File.ReadAllText(Path.Combine(folder, SiteReader.SiteFile));
        var house = SiteReader.Read(folder, Drivers.All).Files!.House;
        foreach (var path in ((string[])[$"loops.{house.Loops[0].Id}.lag", "sequence.mixing_gain", "sequence.mixing_integral"]))
        {
            var lines = text.Split('\n').Length;
            Assert.True(SiteEdit.TrySet(text, path, path.EndsWith("lag", StringComparison.Ordinal) ? "63 s" : "0.05", "found", out text, out var why), why);
            Assert.InRange(text.Split('\n').Length - lines, 0, 4);
        }
        var read = SiteReader.Read(text, File.ReadAllText(Path.Combine(folder, SiteReader.HouseholdFile)), Drivers.All);
        Assert.NotNull(read.Files);
        Assert.Equal(63, read.Files.House.Loops[0].Settings.LagS);
        Assert.Equal(0.05, read.Files.House.Settings.MixingGainPercentPerK);
    }
}
