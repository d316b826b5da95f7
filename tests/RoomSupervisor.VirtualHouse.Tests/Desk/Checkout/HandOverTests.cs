// The hand-over report: well-formed, open points first, everything found in it, nothing of a site's names taken for mark-up; made of a real walk through the virtual house where somebody wants to look at it.
using System.Xml.Linq;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.HandOver;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public sealed class HandOverTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("hand-over-");

    public void Dispose() => folder.Delete(true);

    private HandOverFacts Facts(string site, params CheckEntry[] entries)
    {
        var book = CheckoutBook.Open(Path.Combine(folder.FullName, "book.jsonl"));
        foreach (var entry in entries)
            book.Add(entry);
        var files = HouseFromSiteTests.Plan(site).Files;
        return HandOverFacts.Of(files, book, new RoomSupervisor.Runtime.State.StateFolder(folder.FullName), folder.FullName, new DateTime(2027, 4, 13, 12, 0, 0, DateTimeKind.Utc), TimeSpan.FromDays(7), false) with
        {
            SiteText = File.ReadAllText(Path.Combine(HouseFromSiteTests.Site(site), "site.yaml")),
        };
    }

    private static string Page(HandOverFacts facts)
    {
        using var text = new StringWriter();
        HandOverReport.Write(text, facts);
        return text.ToString();
    }

    [Fact]
    public void It_is_well_formed_and_open_points_stand_first()
    {
        var facts = Facts("ferry-house", BookTests.Entry("input/kitchen.air.temperature", Verdict.Fail, "weaving-room.air.temperature moved"), BookTests.Entry("input/weaving-room.air.temperature", Verdict.Fail, "kitchen.air.temperature moved"),
            BookTests.Entry("pump/ceiling-loop", Verdict.Pass, "by ear <b>&"), BookTests.Entry("guard/kitchen", Verdict.Skip) with { Why = "no cold water today" }, BookTests.Entry("balance/kitchen.ceiling", Verdict.Pass, "2.4 l/min at 3 turns"),
            BookTests.Entry("calibration/office.air.temperature") with { Values = new Dictionary<string, double> { ["gain"] = 1.01, ["off_now"] = 0.4, ["off_then"] = 0.1, ["offset"] = -0.3 }, Proposals = new Dictionary<string, string> { ["office.air.temperature/offset"] = "-0.3 K" } });
        var page = Page(facts);
        var xml = XDocument.Parse(page.Replace("<!DOCTYPE html>\n", "", StringComparison.Ordinal));
        XNamespace html = "http://www.w3.org/1999/xhtml";
        var sections = xml.Descendants(html + "h2").Select(head => head.Value).ToList();
        Assert.Equal(["Open points", "Rooms", "Settings of the site", "Circuits", "Water", "Calibration", "Tests", "Trends", "What was measured of the rooms", "Cautions", "Signatures", "The owner's page"], sections);
        var words = xml.Root!.Value;
        Assert.Contains("kitchen.air.temperature and weaving-room.air.temperature are exchanged", words, StringComparison.Ordinal);
        Assert.Contains("no cold water today: guard/kitchen", words, StringComparison.Ordinal);
        Assert.Contains("office.air.temperature/offset: -0.3", words, StringComparison.Ordinal);
        Assert.Contains("by ear <b>&", words, StringComparison.Ordinal);
        Assert.Contains("2.4", words, StringComparison.Ordinal);
        Assert.Contains("How far temperature sensors are off", words, StringComparison.Ordinal);
        Assert.Contains("Something is wet", words, StringComparison.Ordinal);
        Assert.Contains("Signed with 1 point(s) that are wrong", words, StringComparison.Ordinal);
        Assert.Equal(page, Page(facts));
        Assert.DoesNotContain("http://", page.Replace("http://www.w3.org", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public void A_house_without_fans_has_an_owners_page_without_fans_and_a_rehearsed_one_says_so()
    {
        var floors = Page(Facts("floor-only"));
        Assert.DoesNotContain("fan_at_most", floors, StringComparison.Ordinal);
        Assert.DoesNotContain("Water under a fan coil", floors, StringComparison.Ordinal);
        Assert.Contains("A rehearsal in a simulated house", Page(Facts("floor-only") with { IsVirtual = true }), StringComparison.Ordinal);
    }
}
