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
        var (code, example, _) = Typed.Verb("estimate", "--example");
        Assert.Equal(0, code);
        File.WriteAllText(At("shed.yaml"), example);
        var made = Typed.Verb("estimate", At("shed.yaml"), "--json", At("e.json"), "--html", At("e.html"), "--quantities", At("e.csv"), "--site", At("site"));
        Assert.True(made.Code is 0 or 1, made.Error);
        Assert.Contains("An estimate, not a design", made.Out, StringComparison.Ordinal);
        Assert.All((string[])["e.json", "e.html", "e.csv"], name => Assert.True(new FileInfo(At(name)).Length > 500));
        Assert.Equal(0, Typed.Verb("check", At("site")).Code);
        var again = Typed.Verb("estimate", At("shed.yaml"), "--site", At("site"));
        Assert.Equal(2, again.Code);
        Assert.Contains("nothing is overwritten", again.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_house_that_cannot_be_is_refused_with_line_and_range_and_nothing_is_written()
    {
        File.WriteAllText(At("bad.yaml"), Typed.Verb("estimate", "--example").Out.Replace("floor_area: 24 m²", "floor_area: 0.5 m²", StringComparison.Ordinal));
        var refused = Typed.Verb("estimate", At("bad.yaml"), "--json", At("bad.json"), "--site", At("bad"));
        Assert.Equal(2, refused.Code);
        Assert.Matches(@"bad\.yaml:\d+:\d+: error: rooms\.living-room\.floor_area: ""0\.5 m²"" is out of range; allowed: 2 m² to 2000 m²", refused.Error);
        Assert.False(File.Exists(At("bad.json")) || Directory.Exists(At("bad")));
        Assert.Equal(2, Typed.Verb("estimate").Code);
        Assert.Equal(2, Typed.Verb("estimate", At("not-there.yaml")).Code);
        Assert.Equal(2, Typed.Verb("estimate", At("bad.yaml"), "--json", At("bad.yaml")).Code);
    }
}
