// The verb estimate: the table, the files it writes, exit codes, and that a file that cannot be is refused with line and range and writes nothing.
using RoomSupervisor.House.Tests.Repository;

namespace RoomSupervisor.House.Tests.Verbs;

public sealed class EstimateVerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("estimate-");

    public void Dispose() => folder.Delete(true);

    private string At(string name) => Path.Combine(folder.FullName, name);

    [Fact]
    public void The_example_becomes_an_estimate_with_all_its_files_and_a_site_that_is_clean()
    {
        var (code, example, _) = TypedHere.Verb("estimate", "--example");
        Assert.Equal(0, code);
        File.WriteAllText(At("shed.yaml"), example);
        var made = TypedHere.Verb("estimate", At("shed.yaml"), "--json", At("e.json"), "--html", At("e.html"), "--quantities", At("e.csv"), "--site", At("site"));
        Assert.True(made.Code is 0 or 1, made.Error);
        Assert.Contains("An estimate, not a design", made.Out, StringComparison.Ordinal);
        Assert.All((string[])["e.json", "e.html", "e.csv"], name => Assert.True(new FileInfo(At(name)).Length > 500));
        Assert.Equal(0, TypedHere.Verb("check", At("site")).Code);
        var again = TypedHere.Verb("estimate", At("shed.yaml"), "--site", At("site"));
        Assert.Equal(2, again.Code);
        Assert.Contains("nothing is overwritten", again.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_house_that_cannot_be_is_refused_with_line_and_range_and_nothing_is_written()
    {
        File.WriteAllText(At("bad.yaml"), TypedHere.Verb("estimate", "--example").Out.Replace("floor_area: 24 m²", "floor_area: 0.5 m²", StringComparison.Ordinal));
        var refused = TypedHere.Verb("estimate", At("bad.yaml"), "--json", At("bad.json"), "--site", At("bad"));
        Assert.Equal(2, refused.Code);
        Assert.Matches(@"bad\.yaml:\d+:\d+: error: rooms\.living-room\.floor_area: ""0\.5 m²"" is out of range; allowed: 2 m² to 2000 m²", refused.Error);
        Assert.False(File.Exists(At("bad.json")) || Directory.Exists(At("bad")));
        File.WriteAllText(At("placeless.yaml"), TypedHere.Verb("estimate", "--example").Out.Replace("weather: new-york", "weather: atlantis", StringComparison.Ordinal));
        Assert.Matches(@"placeless\.yaml:\d+:\d+: error: place\.weather: ""atlantis"" is no weather file: .*allowed: chicago, new-york", TypedHere.Verb("estimate", At("placeless.yaml")).Error);
        Assert.Equal(2, TypedHere.Verb("estimate").Code);
        Assert.Equal(2, TypedHere.Verb("estimate", At("not-there.yaml")).Code);
        Assert.Equal(2, TypedHere.Verb("estimate", At("bad.yaml"), "--json", At("bad.yaml")).Code);
    }

    // Down a pipe, as on a terminal: file, name, units, zone, source, people of hot water, weather, insulation, weight, leakage, rooms; then the room.
    [Fact]
    public void Without_a_file_it_asks_writes_the_answers_down_and_estimates_them()
    {
        string[] answers = [At("shed.yaml"), "Boat shed", "", "America/New_York", "", "", "new-york", "", "", "", "shed", "2 mm", "24 m²", "", "south 14 m²", "south 4 m²", "outside", "ground", "", "", "", "", "coil", "", "south"];
        var made = Typed.With(string.Join('\n', answers) + "\n", "estimate", "--json", At("e.json"));
        Assert.True(made.Code is 0 or 1, made.Error);
        Assert.Contains("shed: floor area (2 m² to 2000 m²): ", made.Out, StringComparison.Ordinal);
        Assert.Contains("\"2 mm\"", made.Out, StringComparison.Ordinal);
        Assert.Contains("shed: heated below (5 °C to 28 °C) [20.5 °C]: ", made.Out, StringComparison.Ordinal);
        Assert.Contains("An estimate, not a design", made.Out, StringComparison.Ordinal);
        Assert.True(new FileInfo(At("e.json")).Length > 500);
        var text = File.ReadAllText(At("shed.yaml"));
        Assert.Contains("floor_area: 24 m²", text, StringComparison.Ordinal);
        Assert.DoesNotContain("heat_below", text, StringComparison.Ordinal);

        // The file is there now: nothing is overwritten, another name is asked for, and then the answers end.
        var again = Typed.With(string.Join('\n', answers) + "\n", "estimate");
        Assert.Equal(2, again.Code);
        Assert.Contains("nothing is overwritten", again.Out, StringComparison.Ordinal);
        Assert.Equal(text, File.ReadAllText(At("shed.yaml")));
        var cut = Typed.With(At("other.yaml") + "\nBoat shed\n", "estimate");
        Assert.Equal(2, cut.Code);
        Assert.Contains("the answers end before the last question: nothing is written", cut.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(At("other.yaml")));
    }

    // One name for the file a page is written to, in every verb that writes one, and no other.
    [Theory]
    [InlineData("estimate")]
    [InlineData("rehearse")]
    [InlineData("describe")]
    [InlineData("draw")]
    [InlineData("wiring")]
    [InlineData("handover")]
    [InlineData("balance")]
    [InlineData("screed")]
    [InlineData("tune")]
    public void A_page_is_written_by_html_in_every_verb(string verb)
    {
        var help = TypedHere.Verb(verb, "--help").Out;
        Assert.Contains("--html <", help, StringComparison.Ordinal);
        Assert.DoesNotContain("--report", help, StringComparison.Ordinal);
        Assert.DoesNotContain("--page", help, StringComparison.Ordinal);
    }
}
