// The hand-over report: one HTML file for printing and signing: rooms, settings, circuits, calibration, tests, trends, room data, open points, cautions, signatures; then the owner's page. Must never look finished
// while something failed or was not done: open points come before everything else.
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.HandOver;

/// <summary>Writes hand-over reports. The same facts give the same bytes.</summary>
public sealed class HandOverReport
{
    private const int MostToDo = 40;

    private readonly TextWriter to;
    private readonly HandOverFacts facts;
    private readonly House house;
    private readonly UnitSystem units;

    private HandOverReport(TextWriter to, HandOverFacts facts) => (this.to, this.facts, house, units) = (to, facts, facts.Files.House, facts.Files.House.Units);

    /// <summary>Writes the page: well-formed, nothing from elsewhere; light, dark and paper.</summary>
    public static void Write(TextWriter to, HandOverFacts facts)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(facts);
        new HandOverReport(to, facts).Page();
    }

    private void Page()
    {
        var title = $"Hand-over of {facts.Files.Site.Name}{(facts.IsVirtual ? ", rehearsed" : "")}";
        Put("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        Put($"<title>{XmlText.Escape(title)}</title>\n<style>\n{PageStyle.Text}{HandOverStyle.Text}</style>\n</head>\n<body>\n");
        Head(title);
        OpenPoints();
        new HandOverTables(to, facts).Write();
        Tests();
        Trends();
        RoomData();
        Cautions();
        Signatures();
        OwnerPage.Write(to, facts);
        Put($"<p class=\"note\">Room Supervisor {XmlText.Escape(SiteRun.Version)}, {Stamp(facts.Utc)} (local time of the site)</p>\n</body>\n</html>\n");
    }

    private void Head(string title)
    {
        var current = facts.Current.Where(entry => !entry.Kind.Equals("self-test", StringComparison.Ordinal)).ToList();
        int Of(Verdict verdict) => current.Count(entry => entry.Verdict == verdict);
        Put($"<header>\n<p class=\"site\">{XmlText.Escape(facts.Files.Site.Name)} · {Stamp(facts.Utc)}</p>\n<h1>{XmlText.Escape(title)}</h1>\n");
        if (facts.IsVirtual)
            Put("<p class=\"lead\"><strong>A rehearsal in a simulated house.</strong> Nothing of it was measured in the house itself; it shows what the walk does and what the report looks like.</p>\n");
        Put("<ul class=\"figures\">\n");
        foreach (var (value, words) in (ReadOnlySpan<(int, string)>)[(Of(Verdict.Pass), "steps passed"), (Of(Verdict.Fail), "failed"), (Of(Verdict.Skip), "left out, with a reason"), (facts.ToDo.Count, "not done yet")])
            Put($"<li><b>{value.ToString(CultureInfo.InvariantCulture)}</b>{words}</li>\n");
        Put("</ul>\n</header>\n");
    }

    private void OpenPoints()
    {
        Section("Open points", "");
        var findings = Findings.Of(facts.Current);
        var skipped = facts.Current.Where(entry => entry.Verdict == Verdict.Skip).ToList();
        var proposals = Proposals.Of(facts.Current).Where(one => Site.SitePartEdits.ValueOf(facts.SiteText, one.Key) != one.Value).ToList();
        if (findings.Count + skipped.Count + proposals.Count + facts.ToDo.Count + facts.Warnings.Count == 0 && facts.Book.Problems.Count == 0)
            Put("<p>None.</p>\n");
        List("Wrong", findings, "bad");
        List("For site.yaml, found and not written there yet", [.. proposals.Select(one => $"{one.Key}: {one.Value}")]);
        List("Warnings of the site's files", facts.Warnings);
        List("Results that could not be read", facts.Book.Problems);
        List("Left out", [.. skipped.GroupBy(entry => entry.Why).Select(group => $"{group.Key}: {string.Join(", ", group.Select(entry => entry.Id))}")]);
        List("Not done yet", [.. facts.ToDo.Take(MostToDo).Select(step => step.Title), .. facts.ToDo.Count > MostToDo ? new[] { $"and {facts.ToDo.Count - MostToDo} more: room-supervisor checkout --list" } : []]);
        Put("</section>\n");
    }

    private void List(string title, IReadOnlyList<string> lines, string className = "")
    {
        if (lines.Count == 0)
            return;
        Put($"<h3{(className.Length > 0 ? $" class=\"{className}\"" : "")}>{XmlText.Escape(title)} ({lines.Count})</h3>\n<ul>\n");
        foreach (var line in lines)
            Put($"<li>{Words(line)}</li>\n");
        Put("</ul>\n");
    }

    private void Tests()
    {
        Section("Tests", "Each step with what was expected and what was found. A result stands until the part is replaced or the step is done again.", "sheet");
        foreach (var (kind, words) in CheckPlan.Kinds.Where(one => one.Kind != CalibrationSteps.Kind).Append(("self-test", "Self-tests of the seasons")).Concat(facts.Current.Select(entry => entry.Kind).Distinct().Where(kind => kind != "self-test" && CheckPlan.Kinds.All(one => one.Kind != kind)).Select(kind => (kind, char.ToUpperInvariant(kind[0]) + kind[1..]))))
        {
            var entries = facts.Current.Where(entry => entry.Kind == kind).ToList();
            if (entries.Count == 0)
                continue;
            Put($"<h3>{XmlText.Escape(words)}</h3>\n<table class=\"list\">\n<thead><tr><th>What</th><th>Expected</th><th>Found</th><th>Verdict</th><th>Who, when</th></tr></thead>\n<tbody>\n");
            foreach (var entry in entries)
                Put(Row(entry, kind));
            Put("</tbody>\n</table>\n");
        }
        Put("</section>\n");
    }

    private string Row(CheckEntry entry, string kind)
    {
        var found = entry.Found + (entry.Why.Length > 0 ? (entry.Found.Length > 0 ? ": " : "") + entry.Why : "");
        return $"<tr><td>{HandOverTables.Cell(entry.Id[(kind.Length + 1)..])}</td><td>{Words(entry.Expected)}</td><td>{Words(found)}</td><td class=\"{Class(entry.Verdict)}\">{CheckEntry.Word(entry.Verdict)}</td><td>{XmlText.Escape(entry.Who)}, {Stamp(entry.Utc)}</td></tr>\n";
    }

    internal static string Class(Verdict verdict) => verdict switch { Verdict.Pass => "met", Verdict.Fail => "missed", _ => "quiet" };

    private void Trends()
    {
        Section("Trends", "What the controller has recorded, newest last. Lines differ by dash as well as by colour.", "sheet");
        if (facts.Trends.Count == 0)
            Put($"<p>No pictures: {XmlText.Escape(facts.NoTrends)}.</p>\n");
        foreach (var picture in facts.Trends)
            Picture(picture, "");
        Put("</section>\n");
    }

    private void RoomData()
    {
        Section("What was measured of the rooms", "By the controller itself, from pull-downs with doors shut. Told, not used.");
        if (facts.RoomData.Count == 0)
            Put("<p>Nothing yet: it takes pull-downs of five minutes and more with doors shut.</p>\n");
        foreach (var (room, lines) in facts.RoomData)
        {
            Put($"<h3>{XmlText.Escape(room)}</h3>\n<ul>\n");
            foreach (var line in lines)
                Put($"<li>{Words(line)}</li>\n");
            Put("</ul>\n");
        }
        foreach (var picture in facts.PullDowns)
            Picture(picture, "the last pull-down as foreseen and as it came");
        Put("</section>\n");
    }

    /// <summary>As an image of its own: its style must not touch the page's.</summary>
    private void Picture(HandOverPicture picture, string words)
        => Put($"<figure><img alt=\"{XmlText.Escape($"{picture.Title} {words}".Trim())}\" src=\"data:image/svg+xml;base64,{Convert.ToBase64String(Encoding.UTF8.GetBytes(picture.Svg))}\"/><figcaption>{XmlText.Escape(words.Length > 0 ? $"{picture.Title}: {words}" : picture.Title)}</figcaption></figure>\n");

    private void Cautions()
    {
        Put("<section class=\"caution\">\n<h2>Cautions</h2>\n<ul>\n");
        foreach (var line in HandOverWords.Cautions)
            Put($"<li>{Words(line)}</li>\n");
        Put("</ul>\n</section>\n");
    }

    private void Signatures()
    {
        var open = Findings.Of(facts.Current).Count;
        Section("Signatures", open + facts.ToDo.Count == 0 ? "Everything in this report was done and seen as it says."
            : $"Signed with {open} point(s) that are wrong and {facts.ToDo.Count} step(s) not done; each must have a name and a date here before the house is handed over.");
        Put("<div class=\"sign\">\n");
        foreach (var (who, what) in (ReadOnlySpan<(string, string)>)[("Installer", "wired, tested and put right as this report says"), ("Engineer", "plan and results looked at; open points accepted as listed"), ("Owner", "shown how limits are changed and what to do when something is wet, cold or loud; this report received")])
            Put($"<p><b>{who}</b><span>{what}</span><i>Name</i><i>Date</i><i>Signature</i></p>\n");
        Put("</div>\n</section>\n");
    }

    private string Stamp(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), facts.Files.Site.TimeZone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    private string Words(string line) => XmlText.Escape(ReportUnits.Kept(UnitWords.In(line, units)));

    private void Section(string title, string words, string className = "")
        => Put($"<section{(className.Length > 0 ? $" class=\"{className}\"" : "")}>\n<h2>{XmlText.Escape(title)}</h2>\n{(words.Length > 0 ? $"<p>{Words(words)}</p>\n" : "")}");

    private void Put(string text) => to.Write(text);
}
