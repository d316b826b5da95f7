// A test as a page for printing: what was done, model, proposal, pictures before and after. Must never call a proposal more than that.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>Writes the page; self-contained, for UTF-8.</summary>
public static class TunePage
{
    /// <summary>Writes it.</summary>
    /// <param name="to">Where.</param>
    /// <param name="house">The house.</param>
    /// <param name="tuned">The outcome.</param>
    /// <param name="isVirtual">True when it was the virtual house.</param>
    /// <param name="trial">What a trial on other seeds gave, a line each; empty: none was made.</param>
    public static void Write(TextWriter to, House house, Tuned tuned, bool isVirtual, IReadOnlyList<string> trial)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(tuned);
        Head(to, $"{tuned.What.Replace('-', ' ')}: tuned", house.Name, isVirtual ? "a test in the virtual house" : "a test in the house");
        to.Write("<p class=\"lead\">One output was moved by hand for some minutes within guard rails, and what came of it was fitted by a small model. The old values were back at the end.</p>\n</header>\n");
        to.Write("<section>\n<h2>What was found</h2>\n<ul>\n" + string.Concat(tuned.Lines.Select(line => $"<li>{XmlText.Escape(line)}</li>\n")) + "</ul>\n");
        to.Write($"<figure>\n{TunePictures.Test(tuned)}<figcaption>The test. Lower line: what was set. Upper lines: what was measured, and the model through it.</figcaption></figure>\n</section>\n");
        Proposal(to, tuned);
        if (TunePictures.Answers(tuned) is { } answers)
            to.Write($"<section>\n<h2>How the loop would answer</h2>\n<figure>\n{answers}<figcaption>Played with the model, dead band and stroke included, not measured.</figcaption></figure>\n{Answer("as it is", tuned.Before!)}{Answer("as proposed", tuned.After!)}</section>\n");
        if (trial.Count > 0)
            to.Write("<section>\n<h2>Tried on days it was not made from</h2>\n<ul>\n" + string.Concat(trial.Select(line => $"<li>{XmlText.Escape(line)}</li>\n")) + "</ul>\n</section>\n");
        to.Write("</body>\n</html>\n");
    }

    /// <summary>The beginning of a page of the desk.</summary>
    internal static void Head(TextWriter to, string title, string site, string what)
    {
        to.Write("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        to.Write($"<title>{XmlText.Escape(title)}</title>\n<style>\n{PageStyle.Text}</style>\n</head>\n<body>\n<header>\n<p class=\"site\">{XmlText.Escape(site)} · {XmlText.Escape(what)}</p>\n<h1>{XmlText.Escape(title)}</h1>\n");
    }

    private static void Proposal(TextWriter to, Tuned tuned)
    {
        to.Write("<section>\n<h2>What is proposed</h2>\n");
        if (tuned.Values.Count == 0)
        {
            to.Write("<p>Nothing: what holds is as good.</p>\n</section>\n");
            return;
        }
        to.Write("<table class=\"measures\">\n<thead><tr><th>site.yaml</th><th>proposed</th><th>now</th><th>why</th></tr></thead>\n<tbody>\n");
        foreach (var value in tuned.Values)
            to.Write($"<tr><th scope=\"row\"><code>{XmlText.Id(value.Path)}</code></th><td data-name=\"proposed\">{XmlText.Escape(value.After)}</td><td data-name=\"now\">{XmlText.Escape(value.Before)}</td><td class=\"goal\">{XmlText.Escape(value.Why)}</td></tr>\n");
        to.Write("</tbody></table>\n<p class=\"note\">Written into site.yaml only where asked for; comments stay.</p>\n</section>\n");
    }

    private static string Answer(string name, LoopAnswer answer) => FormattableString.Invariant(
        $"<p class=\"note\">{name}: within a tenth after {(double.IsFinite(answer.SettlesS) ? $"{answer.SettlesS:0} s" : "no time it was played for")}, passes to the other side by {answer.OvershootK:0.00} K.</p>\n");
}
