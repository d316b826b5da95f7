// Words in tables stay whole on every page: ids may be broken behind their dots, underscores and strokes, figures stay with their units, and no style lets a browser break a word anywhere.
// Must never be satisfied by one page: the style that all share is read, and what each adds.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Desk.HandOver;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.VirtualHouse.Tests.Estimate;
using RoomSupervisor.VirtualHouse.Tests.Papers;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public class PageBreakTests
{
    [Theory]
    [InlineData("kitchen.coil", "kitchen.<wbr/>coil")]
    [InlineData("landing-hall.coil-north.fan", "landing-hall.<wbr/>coil-north.<wbr/>fan")]
    [InlineData("overshoot_after_pull_down_k", "overshoot_<wbr/>after_<wbr/>pull_<wbr/>down_<wbr/>k")]
    [InlineData("device/io-1", "device/<wbr/>io-1")]
    [InlineData("192.0.2.10, 21.5 °C", "192.0.2.10, 21.5 °C")]
    [InlineData("a & b.c", "a &amp; b.<wbr/>c")]
    [InlineData("Ends. Here", "Ends. Here")]
    public void An_id_may_be_broken_behind_its_dots_and_nowhere_else(string id, string html) => Assert.Equal(html, XmlText.Id(id));

    [Fact]
    public void A_figure_stays_with_its_unit()
        => Assert.Equal("62\u00A0m², 500\u00A0ft², 1200\u00A0W and 0.6\u00A0kW, 35\u00A0kPa, 200\u00A0l; room 3 is", ReportUnits.Kept("62 m², 500 ft², 1200 W and 0.6 kW, 35 kPa, 200 l; room 3 is"));

    [Fact]
    public void No_style_lets_a_word_break_in_its_middle()
    {
        using StringWriter paper = new(), estimate = new();
        PaperHtml.Write(paper, Description.Of(PaperSites.Read("ferry-house")), new PaperFacts("0", "0", ""));
        EstimateReport.Write(estimate, Asked.BoatShed);
        foreach (string style in (string[])[PageStyle.Text, HandOverStyle.Text, Style(paper.ToString()), Style(estimate.ToString())])
        {
            Assert.DoesNotContain("anywhere", style, StringComparison.Ordinal);
            Assert.DoesNotContain("break-word", style, StringComparison.Ordinal);
            Assert.DoesNotContain("break-all", style, StringComparison.Ordinal);
        }

        Assert.Contains("th,td,dt,code{overflow-wrap:normal;word-break:normal;hyphens:manual}", PageStyle.Text, StringComparison.Ordinal);
        Assert.Contains("kitchen.<wbr/>coil", paper.ToString(), StringComparison.Ordinal);
    }

    private static string Style(string page) => page[page.IndexOf("<style>", StringComparison.Ordinal)..page.IndexOf("</style>", StringComparison.Ordinal)];
}
