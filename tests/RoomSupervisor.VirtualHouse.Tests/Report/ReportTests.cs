// Reports as a whole: well-formed, escaped, bounded, the same every time; and written to a folder to be looked at when asked for.
using System.Globalization;
using System.Text;
using System.Xml.Linq;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public sealed class ReportTests
{
    private static readonly Lazy<string> TwoDays = new(() => Page.Text(MadeUpRun.Make()));

    [Fact]
    public void A_page_is_well_formed_and_needs_nothing_from_elsewhere()
    {
        var page = XDocument.Parse(TwoDays.Value);
        Assert.Equal("html", page.Root!.Name.LocalName);
        Assert.DoesNotContain(page.Descendants(), element => element.Name.LocalName is "script" or "link" or "img" or "iframe" or "object");
        Assert.DoesNotContain("@import", TwoDays.Value, StringComparison.Ordinal);
        Assert.DoesNotContain("src=", TwoDays.Value, StringComparison.Ordinal);
        Assert.DoesNotContain(page.Descendants().Attributes(), attribute => attribute.Name.LocalName == "href");
        var names = page.Descendants().Attributes("id").Select(id => id.Value).ToList();
        Assert.Equal(names.Count, names.Distinct().Count());
        foreach (var fill in page.Descendants().Attributes("fill"))
            Assert.Contains(fill.Value[5..^1], names);
    }

    [Fact]
    public void A_page_ends_with_cautions_and_says_what_is_a_default()
    {
        Assert.Contains("a simulation, not a promise", TwoDays.Value, StringComparison.Ordinal);
        Assert.Contains("not a safety device", TwoDays.Value, StringComparison.Ordinal);
        Assert.Contains("Local codes and the design by licensed professionals decide", TwoDays.Value, StringComparison.Ordinal);
        Assert.Contains("margin to the dew point 1\u00A0K", TwoDays.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_with_mark_up_in_them_stay_names()
    {
        var page = XDocument.Parse(TwoDays.Value);
        Assert.Contains(page.Descendants().Where(element => element.Name.LocalName == "h3"), head => head.Value == "Bedroom <east>");
        Assert.Contains(page.Descendants().Attributes("aria-label"), label => label.Value.StartsWith("Studio \"north\"", StringComparison.Ordinal));
        Assert.DoesNotContain("<east>", TwoDays.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_days_of_six_rooms_stay_under_a_megabyte_and_a_month_is_not_much_more()
    {
        Assert.InRange(Encoding.UTF8.GetByteCount(TwoDays.Value), 50_000, 1_000_000);
        var month = Page.Text(MadeUpRun.Make(days: 30));
        Assert.InRange(Encoding.UTF8.GetByteCount(month), 50_000, 1_500_000);
        Assert.Contains("Pictures show 3 days around the hottest", month, StringComparison.Ordinal);
        var seconds = Page.Text(MadeUpRun.Make(days: 1, everyS: 5));
        Assert.InRange(Encoding.UTF8.GetByteCount(seconds), 50_000, 1_000_000);
    }

    [Fact]
    public void The_same_run_gives_the_same_bytes_whatever_the_country()
    {
        var before = CultureInfo.CurrentCulture;
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        commas.NumberFormat.NegativeSign = "minus";
        CultureInfo.CurrentCulture = commas;
        try
        {
            Assert.Equal(TwoDays.Value, Page.Text(MadeUpRun.Make()));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void A_run_without_samples_and_one_with_short_arrays_are_refused()
    {
        var run = MadeUpRun.Make();
        Assert.Throws<ArgumentException>(() => Page.Text(run with { Outdoor = new OutdoorRecord([], [], []) }));
        Assert.Throws<ArgumentException>(() => Page.Text(run with { Rooms = [run.Rooms[0] with { WorstDewC = [1] }] }));
        Assert.Throws<ArgumentException>(() => Page.Text(run with { Rooms = [run.Rooms[0] with { SurfaceLoops = [9] }] }));
    }

    [Fact]
    public void A_house_without_rooms_or_loops_still_makes_a_page()
    {
        var run = MadeUpRun.Make(days: 1);
        XDocument.Parse(Page.Text(run with { Rooms = [] }));
        XDocument.Parse(Page.Text(run with { Loops = [], Rooms = [.. run.Rooms.Select(room => room with { SurfaceLoops = [] })] }));
        XDocument.Parse(Page.Text(run with { Hours = [] }));
    }

    [Fact]
    public void Pages_to_look_at_are_written_when_a_folder_is_named()
    {
        var folder = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_REPORTS");
        if (string.IsNullOrEmpty(folder))
            return;
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "report.html"), TwoDays.Value);
        File.WriteAllText(Path.Combine(folder, "report-us.html"), Page.Text(MadeUpRun.Make(us: true, altitudeM: 1600)));
        using var terminal = new StringWriter(CultureInfo.InvariantCulture);
        foreach (var (width, plain) in (ReadOnlySpan<(int, bool)>)[(80, false), (80, true), (120, false)])
            TerminalDay.Write(terminal, MadeUpRun.Make(), 4, width, plain);
        File.WriteAllText(Path.Combine(folder, "terminal.txt"), terminal.ToString());
        File.WriteAllText(Path.Combine(folder, "report-month.html"), Page.Text(MadeUpRun.Make(days: 30)));
    }
}

/// <summary>Writes pages of made-up runs.</summary>
internal static class Page
{
    internal static string Text(RunRecord run)
    {
        using var to = new StringWriter(CultureInfo.InvariantCulture);
        RehearsalReport.Write(to, run, MadeUpRun.Measures(run.Rooms.Length), MadeUpRun.Notes);
        return to.ToString();
    }
}
