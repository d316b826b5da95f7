// Whether values lie where the axis says, lines break at gaps and labels keep clear of each other.
using System.Globalization;
using System.Xml.Linq;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public sealed class PictureTests
{
    private static readonly XNamespace Html = "http://www.w3.org/1999/xhtml";

    private static XElement RoomDay(RoomSupervisor.Desk.Rehearsal.RunRecord run, int room, bool phone = false, int panel = 0)
        => XElement.Parse(new RoomDayPicture(new RunWindow(run), new ReportUnits(run.InUsUnits)).Draw(room, phone ? Sheet.Phone : Sheet.Wide).ElementAt(panel));

    [Theory]
    [InlineData(24.5, false)]
    [InlineData(19.37, false)]
    [InlineData(29.95, true)]
    public void A_temperature_lies_at_its_place_within_half_a_pixel(double celsius, bool us)
    {
        var run = MadeUpRun.Make(us: us);
        Array.Fill(run.Rooms[2].TrueAirC, (float)celsius);
        var picture = RoomDay(run, 2);
        var up = Drawn.Axis(Drawn.Marks(picture, isUpright: true));
        var line = Drawn.Pieces(Drawn.Of(picture, "path", "air").Single().Attribute("d")!.Value).Single();
        Assert.All(line, point => Data.Near(up(us ? celsius * 1.8 + 32 : celsius), point.Y, 0.5));
    }

    [Fact]
    public void At_14_10_the_door_opens_where_the_hours_say()
    {
        var picture = RoomDay(MadeUpRun.Make(), 4);
        var hours = picture.Descendants().Where(element => element.Name.LocalName == "text" && element.Value.Length == 5 && element.Value[2] == ':').ToArray();
        double at12 = Drawn.Number(hours.First(text => text.Value == "12:00"), "x"), at16 = Drawn.Number(hours.First(text => text.Value == "16:00"), "x");
        var door = Drawn.Of(picture, "rect", "open").Skip(1).First();
        Data.Near(at12 + (at16 - at12) * (14 + 10 / 60.0 - 12) / 4, Drawn.Number(door, "x"), 0.5, "opens");
        Data.Near((at16 - at12) * 40 / 240, Drawn.Number(door, "width"), 0.5, "stays open");
        Assert.Contains(picture.Descendants(), element => element.Value == "open 14:10–14:50");
    }

    [Fact]
    public void Gaps_break_lines_and_a_peak_of_one_minute_is_not_lost()
    {
        var run = MadeUpRun.Make(days: 3);
        Array.Fill(run.Rooms[0].TrueAirC, 24f);
        Array.Fill(run.Rooms[0].TrueAirC, float.NaN, 600, 120);
        run.Rooms[0].TrueAirC[2001] = 30f;
        var picture = RoomDay(run, 0);
        var up = Drawn.Axis(Drawn.Marks(picture, isUpright: true));
        var pieces = Drawn.Pieces(Drawn.Of(picture, "path", "air").Single().Attribute("d")!.Value);
        Assert.Equal(2, pieces.Count);
        var perSample = (pieces[1][^1].X - pieces[0][0].X) / (3 * 1440 - 1);
        Data.Near(120 * perSample, pieces[1][0].X - pieces[0][^1].X, 1.5, "gap");
        Data.Near(up(30), pieces[1].Min(point => point.Y), 0.5, "peak");
    }

    [Fact]
    public void A_value_between_two_gaps_is_a_dot()
    {
        double[] values = [double.NaN, 5, double.NaN, 7, 8];
        Assert.Equal("M10 50h0M30 30l10-10", Decimate.Line(values, new Scale(0, 10, 0, 100), new Scale(0, 10, 100, 0)));
    }

    [Fact]
    public void Every_stage_has_a_pattern_of_its_own()
    {
        var definitions = XElement.Parse(Patterns.Definitions()).Descendants().Where(element => element.Name.LocalName == "pattern").ToArray();
        var stages = definitions.Where(pattern => pattern.Attribute("id")!.Value.StartsWith("stage-", StringComparison.Ordinal)).ToArray();
        Assert.Equal(Enum.GetValues<RoomSupervisor.Terms.Stage>().Length, stages.Length);
        Assert.Equal(stages.Length, stages.Select(pattern => string.Concat(pattern.Elements()) + pattern.Attribute("width")).Distinct().Count());
    }

    [Theory]
    [InlineData(false, 7)]
    [InlineData(true, 7)]
    [InlineData(false, 8)]
    [InlineData(true, 9)]
    public void Labels_do_not_overlap(bool us, int seed)
    {
        var page = XDocument.Parse(Page.Text(MadeUpRun.Make(us: us, seed: seed)));
        var pictures = page.Descendants().Where(element => element.Name.LocalName == "svg" && Drawn.Class(element).StartsWith("picture", StringComparison.Ordinal)).ToArray();
        Assert.InRange(pictures.Length, 25, 60);
        var clashes = pictures.SelectMany(Clashes).ToList();
        Assert.True(clashes.Count == 0, string.Join('\n', clashes));
    }

    /// <summary>Texts of a picture that leave it or stand on each other, in words.</summary>
    private static IEnumerable<string> Clashes(XElement picture)
    {
        var size = picture.Attribute("viewBox")!.Value.Split(' ').Select(part => double.Parse(part, CultureInfo.InvariantCulture)).ToArray();
        var texts = picture.Descendants().Where(element => element.Name.LocalName == "text").Select(text => (text.Value, Box: Drawn.Box(text))).ToArray();
        for (var a = 0; a < texts.Length; a++)
        {
            var box = texts[a].Box;
            if (!(box.Left > -8 && box.Right < size[2] + 8 && box.Top > -1 && box.Bottom < size[3] + 1))
                yield return $"{picture.Attribute("aria-label")!.Value} ({size[2]}): \"{texts[a].Value}\" leaves the picture";
            for (var b = a + 1; b < texts.Length; b++)
            {
                var other = texts[b].Box;
                if (box.Left < other.Right && other.Left < box.Right && box.Top < other.Bottom && other.Top < box.Bottom)
                    yield return $"{picture.Attribute("aria-label")!.Value} ({size[2]}): \"{texts[a].Value}\" on \"{texts[b].Value}\"";
            }
        }
    }

    [Fact]
    public void Letters_are_eleven_pixels_or_more_where_they_are_shown()
    {
        // A phone of 360 px leaves 340 px beside the margins of 10: one pixel of a drawing is one of the phone. The wide drawing is shown from 777 px on, with margins of 24.
        var page = XDocument.Parse(Page.Text(MadeUpRun.Make()));
        foreach (var text in page.Descendants().Where(element => element.Name.LocalName == "text"))
        {
            var width = double.Parse(text.Ancestors().First(element => element.Name.LocalName == "svg").Attribute("viewBox")!.Value.Split(' ')[2], CultureInfo.InvariantCulture);
            Assert.True(Drawn.Number(text, "font-size") * (width > 400 ? 729 / width : 340 / width) >= 10.99, $"\"{text.Value}\" is too small");
        }
    }

    [Theory]
    [InlineData("a<b & \"c\" 'd'", "a&lt;b &amp; &quot;c&quot; &#39;d&#39;")]
    [InlineData("bell\u0007", "bell\uFFFD")]
    [InlineData("boat ⛵🚤", "boat ⛵🚤")]
    public void Text_is_escaped(string text, string safe) => Assert.Equal(safe, XmlText.Escape(text));

    [Fact]
    public void Half_a_letter_of_two_halves_is_replaced() => Assert.Equal("half\uFFFD", XmlText.Escape("half" + (char)0xD83D));   // XML 1.0, section 2.2

    [Fact]
    public void Numbers_that_are_none_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => XmlText.Number(double.NaN));

    [Fact]
    public void Energies_are_added_not_levels()
    {
        Data.Near(28.0103, FanLevelPicture.Heard(25, 25), 0.001, "two equal levels: 3.01 dB more, definition of the level");
        Data.Near(25.4139, FanLevelPicture.Heard(15, 25), 0.001, "10 dB below: 10·lg(1.1) = 0.4139 dB");
        Assert.Equal(25, FanLevelPicture.Heard(double.NaN, 25));
    }

    [Fact]
    public void Units_on_the_page_are_the_owners()
    {
        var page = XDocument.Parse(Page.Text(MadeUpRun.Make(us: true)));
        var words = string.Join('\n', page.Descendants().Where(element => !element.HasElements && element.Name != Html + "style").Select(element => element.Value));
        Assert.Contains("°F", words, StringComparison.Ordinal);
        Assert.DoesNotContain("°C", words, StringComparison.Ordinal);
        Assert.DoesNotContain("\u00A0K", words, StringComparison.Ordinal);
    }
}
