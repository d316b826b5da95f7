// describe, draw and wiring as a person types them: what they print, what they write, what they refuse.
using System.Text;
using System.Xml.Linq;
using RoomSupervisor.House.Tests.Repository;

namespace RoomSupervisor.House.Tests.Verbs;

public sealed class PaperVerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("papers-");

    public void Dispose() => folder.Delete(true);

    private string Copy(string site)
    {
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", site, file), Path.Combine(folder.FullName, file));
        return folder.FullName;
    }

    private string In(string file) => Path.Combine(folder.FullName, file);

    [Fact]
    public void The_terminal_gets_text_and_files_get_pages()
    {
        var site = Copy("ferry-house");
        var (code, text, _) = TypedHere.Verb("describe", site);
        Assert.Equal(0, code);
        Assert.Contains("CONDENSATION GUARD", text, StringComparison.Ordinal);
        Assert.Contains("site files ", text, StringComparison.Ordinal);
        Assert.Equal(0, TypedHere.Verb("describe", site, "--html", In("d.html")).Code);
        Assert.Equal(0, TypedHere.Verb("draw", site, "--svg", In("d.svg"), "--html", In("s.html")).Code);
        Assert.Equal(1, TypedHere.Verb("wiring", site, "--csv", In("w.csv"), "--cables", In("l.csv"), "--html", In("w.html")).Code);   // the loft's ceiling and others hang on one manifold switch; relays on one drive are to be interlocked
        Assert.All((string[])["d.html", "d.svg", "s.html", "w.html"], file => XDocument.Load(In(file)));
        Assert.Equal(72 + 1, File.ReadAllLines(In("w.csv")).Length);   // 72 points and the heads
        // Both tables are opened in spreadsheets: without the mark "mm²" would be read as "mmÂ²".
        Assert.All((string[])["w.csv", "l.csv"], file => Assert.Equal(Encoding.UTF8.GetPreamble(), File.ReadAllBytes(In(file))[..3]));
        Assert.Contains(File.ReadLines(In("l.csv")), line => line.StartsWith("R2-11,io-ground,panel,weaving-room coil: fan,2,", StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_of_the_site_is_never_written_over_nor_one_file_twice()
    {
        var site = Copy("one-room");
        var before = File.ReadAllText(In("site.yaml"));
        foreach (var verb in (string[])["describe", "draw", "wiring"])
        {
            var (code, _, error) = TypedHere.Verb(verb, site, "--html", In("site.yaml"));
            Assert.Equal(2, code);
            Assert.Contains("would write over a file of the site", error, StringComparison.Ordinal);
        }
        Assert.Equal(before, File.ReadAllText(In("site.yaml")));
        var (twice, _, why) = TypedHere.Verb("wiring", site, "--html", In("x"), "--csv", In("x"));
        Assert.Equal(2, twice);
        Assert.Contains("names the same file", why, StringComparison.Ordinal);
        Assert.False(File.Exists(In("x")));
    }

    [Fact]
    public void A_site_that_cannot_be_read_and_a_place_that_cannot_be_written_are_named()
    {
        var site = Copy("one-room");
        var (code, _, error) = TypedHere.Verb("wiring", site, "--csv", In("no-such-folder/w.csv"));
        Assert.Equal(2, code);
        Assert.Contains("--csv", error, StringComparison.Ordinal);
        File.AppendAllText(In("site.yaml"), "\nnonsense: 1\n");
        Assert.All((string[])["describe", "draw", "wiring"], verb => Assert.Equal(2, TypedHere.Verb(verb, site).Code));
    }
}
