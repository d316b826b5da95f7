// The schematic as a person with a ruler sees it: every wired point once, no two texts over each other, none outside the frame, no pipe through a word. For houses of one to twelve rooms.
using System.Globalization;
using System.Xml.Linq;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Drawing;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Site;

namespace RoomSupervisor.VirtualHouse.Tests.Papers;

public class SchematicTests
{
    private static readonly PaperFacts Facts = new("0.0", "0123456789ab", "2026-01-01 00:00");

    public static TheoryData<string> Examples => PaperSites.Examples;

    private sealed record Box(string Text, double Left, double Top, double Right, double Bottom)
    {
        public bool Hits(Box other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;
    }

    private static double Number(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static string Class(XElement element) => element.Attribute("class")?.Value ?? "";

    /// <summary>Boxes of all texts by the width model of the pictures (0.32 to 1.05 of the letter height a letter: as wide as DejaVu Sans), 0.8 of it over the base line and 0.25 under it.</summary>
    private static List<Box> Boxes(XElement picture) => [.. picture.Descendants().Where(element => element.Name.LocalName == "text").Select(element =>
    {
        var (x, y, letters) = (Number(element, "x"), Number(element, "y"), Number(element, "font-size"));
        var width = TextWidth.Of(element.Value, letters, Class(element) == "strong");
        var left = element.Attribute("text-anchor")?.Value switch { "end" => x - width, "middle" => x - width / 2, _ => x };
        return new Box(element.Value, left, y - 0.8 * letters, left + width, y + 0.25 * letters);
    })];

    private static XElement Look(SiteFiles files, string name) => Look(Schematic.Draw(files, Facts), name);

    private static XElement Look(string svg, string name)
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_REPORTS") is { Length: > 0 } folder)
            File.WriteAllText(Path.Combine(folder, $"schematic-{name}.svg"), svg);
        return XDocument.Parse(svg).Root!;
    }

    private static void Check(SiteFiles files, string name)
    {
        var picture = Look(files, name);
        IsLegible(picture, name);
        Assert.Equal(files.Wiring.Select(wire => wire.PointId).Distinct().Order(), PointsOn(picture).Order());
        // On paper a sheet a row of rooms: each is legible, and together they hold every point once.
        var sheets = Schematic.Sheets(files, Facts).Select((sheet, i) => Look(Schematic.End(sheet, files), $"{name}-sheet-{i + 1}")).ToList();
        Assert.All(sheets, sheet => IsLegible(sheet, name));
        Assert.Equal(PointsOn(picture).Order(), sheets.SelectMany(PointsOn).Order());
    }

    private static List<string> PointsOn(XElement picture) => [.. picture.Descendants().Select(element => element.Attribute("data-point")?.Value).OfType<string>()];

    private static void IsLegible(XElement picture, string name)
    {
        var boxes = Boxes(picture);
        var view = picture.Attribute("viewBox")!.Value.Split(' ').Select(number => double.Parse(number, CultureInfo.InvariantCulture)).ToArray();
        Assert.All(boxes, box => Assert.True(box.Left >= 0 && box.Top >= 0 && box.Right <= view[2] && box.Bottom <= view[3], $"{name}: \"{box.Text}\" leaves the frame"));
        for (var i = 0; i < boxes.Count; i++)
            for (var j = i + 1; j < boxes.Count; j++)
                Assert.False(boxes[i].Hits(boxes[j]), $"{name}: \"{boxes[i].Text}\" over \"{boxes[j].Text}\"");
        foreach (var line in picture.Descendants().Where(element => element.Name.LocalName == "line" && (Class(element).StartsWith("pipe", StringComparison.Ordinal) || Class(element) == "room")))
        {
            var pipe = new Box("", Math.Min(Number(line, "x1"), Number(line, "x2")), Math.Min(Number(line, "y1"), Number(line, "y2")), Math.Max(Number(line, "x1"), Number(line, "x2")) + 0.1, Math.Max(Number(line, "y1"), Number(line, "y2")) + 0.1);
            Assert.All(boxes, box => Assert.False(box.Hits(pipe), $"{name}: a {Class(line)} through \"{box.Text}\""));
        }
        // What stands there is the end of the id, in full: nothing is cut.
        Assert.All(picture.Descendants().Where(element => element.Attribute("data-point") is not null), element => Assert.EndsWith(element.Value, element.Attribute("data-point")!.Value, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void An_example_is_legible_and_whole(string name) => Check(PaperSites.Read(name), name);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(12)]
    public void A_house_of_any_size_is_legible_and_whole(int rooms) => Check(PaperSites.Of(PaperSites.MadeUp(rooms)), $"made-up-{rooms}");

    [Fact]
    public void The_longest_names_are_not_cut() => Check(PaperSites.Of(PaperSites.MadeUp(4, "a-room-with-the-longest-name-possible")), "made-up-long");

    [Fact]
    public void A_house_with_two_sources_is_legible_and_whole()
    {
        Check(PaperSites.Of(PaperSites.FourPipe), "four-pipe");
        // Its one coil stands on both loops: nobody must take it for two.
        Assert.Contains(Look(PaperSites.Of(PaperSites.FourPipe), "four-pipe").Descendants(), element => element.Value == "coil, its warm side");
    }

    [Fact]
    public void A_dozen_rooms_take_several_sheets_and_letters_stay_readable()
    {
        var sheets = Schematic.Sheets(PaperSites.Of(PaperSites.MadeUp(12)), Facts);
        Assert.True(sheets.Count > 1);
        // Letters of 10 pixels on A3, 396 mm within its margins: 1.8 mm and more, the least that ISO 3098 knows (from memory).
        Assert.All(sheets, sheet => Assert.True(10 * 396 / sheet.Right >= 1.8, $"{sheet.Right} pixels across"));
        // Letters in circles, whose words stand beside them: 1.2 mm at least on the widest sheet (0.9 mm as they were).
        var smallest = sheets.SelectMany(sheet => Look(Schematic.End(sheet, PaperSites.Of(PaperSites.MadeUp(12))), "letters").Descendants()).Where(element => element.Name.LocalName == "text").Min(element => Number(element, "font-size"));
        Assert.True(smallest * 396 / sheets.Max(sheet => sheet.Right) >= 1.2, $"{smallest} pixels high");
    }

    [Fact]
    public void Nothing_is_drawn_that_is_not_there()
    {
        string[] Texts(string name) => [.. Look(PaperSites.Read(name), name).Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value)];
        Assert.DoesNotContain("buffer", Texts("one-room"));
        Assert.DoesNotContain("hot water", Texts("one-room"));
        Assert.Contains("buffer", Texts("ferry-house"));
        Assert.Contains("hot water", Texts("ferry-house"));
        Assert.DoesNotContain("mixing valve", Texts("coil-only"));
        Assert.Contains("mixing valve", Texts("one-room"));
    }

    [Fact]
    public void Light_dark_and_paper_by_the_readers_wish_and_no_colour_alone()
    {
        var svg = Schematic.Draw(PaperSites.Read("ferry-house"), Facts);
        Assert.Contains("@media screen and (prefers-color-scheme:dark)", svg, StringComparison.Ordinal);
        Assert.Contains(".back{stroke:var(--return);stroke-dasharray", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_of_the_site_cannot_become_mark_up()
    {
        var svg = Schematic.Draw(PaperSites.Read("one-room", text => text.Replace("name: Ferry House", "name: \"<script>alert(1)</script>\"", StringComparison.Ordinal)), Facts);
        Assert.DoesNotContain("<script", svg, StringComparison.Ordinal);
        XDocument.Parse(svg);
    }

    [Fact]
    public void The_page_holds_the_drawing_and_the_list()
    {
        var files = PaperSites.Read("ferry-house");
        using var page = new StringWriter();
        PaperHtml.Write(page, Schematic.Page(files, Facts), Facts);
        var document = XDocument.Parse(page.ToString());
        Assert.Single(document.Descendants(), element => element.Name.LocalName == "svg");
        Assert.Contains("@page{size:A3 landscape}", page.ToString(), StringComparison.Ordinal);
        // A drawing higher than the sheet, as of few rooms, would be cut in two: it is made smaller.
        Assert.Contains("figure.drawing svg{max-height:215mm}", page.ToString(), StringComparison.Ordinal);
        using var small = new StringWriter();
        PaperHtml.Write(small, Schematic.Page(PaperSites.Read("one-room"), Facts), Facts);
        Assert.Contains("figure.drawing svg{max-height:135mm}", small.ToString(), StringComparison.Ordinal);
        Assert.All(files.Wiring, wire => Assert.Contains(document.Descendants(), element => element.Name.LocalName == "td" && element.Value == wire.PointId));
    }
}
