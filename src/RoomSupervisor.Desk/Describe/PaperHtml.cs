// A paper as one HTML page for screen and printer: well-formed, without scripts, fonts or pictures from elsewhere; light, dark and paper.
// Must never let a word of a site file become mark-up.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Writes papers as pages. The same paper gives the same bytes.</summary>
public static class PaperHtml
{
    private const string Own = """
        body{max-width:1000px}
        body.flat{max-width:1400px}
        table.plain{border-collapse:collapse;width:100%;font-size:13px;margin:8px 0 14px;line-height:1.35}
        .plain caption{text-align:left;color:var(--quiet);font-size:14px;padding:4px 0}
        .plain th,.plain td{border-bottom:1px solid var(--hair);padding:4px 10px 4px 0;text-align:left;vertical-align:top;font-weight:400}
        .plain thead th{border-bottom:1px solid var(--ink);font-weight:600;vertical-align:bottom}
        .box{display:inline-block;width:12px;height:12px;border:1px solid var(--ink)}
        ul.lines{margin:4px 0 12px;padding-left:20px}ul.lines li{margin:3px 0;max-width:96ch}
        dl.blanks{display:grid;grid-template-columns:auto 1fr auto 1fr;gap:16px 14px;margin:16px 0}
        .blanks dt{color:var(--quiet)}.blanks dd{margin:0;border-bottom:1px solid var(--ink);min-height:22px}
        footer{color:var(--quiet);font-size:13px;border-top:1px solid var(--hair);margin-top:32px;padding-top:6px}
        .scroll{overflow-x:auto}.plain td.kept{white-space:nowrap}
        figure.drawing svg{display:block;width:100%;height:auto}
        @media screen and (max-width:776px){dl.blanks{grid-template-columns:auto 1fr}.scroll{margin-right:-10px}table.plain{min-width:640px}figure.drawing{overflow-x:auto}figure.drawing svg{min-width:900px}}
        @media print{table.plain{font-size:8.5pt}dl.blanks{gap:8px 12px}figure.drawing{break-inside:avoid}figure.drawing svg{--paper:#fff}.plain tr,table.whole{break-inside:avoid}p:has(+.scroll){break-after:avoid}.scroll{overflow:visible}thead{display:table-header-group}}

        """;

    /// <summary>A table of no more rows stays on one sheet of paper; a cell of no more letters, such as a label of a cable, in one line.</summary>
    private const int WholeRows = 12, KeptLetters = 9;

    /// <summary>Greatest height of a drawing on paper, so that it stands on one sheet under the head of the page, mm: A4 across is 210 mm high, A3 297 mm.</summary>
    private const int OnA4 = 135, OnA3 = 215;

    /// <summary>Writes the page.</summary>
    /// <param name="to">Where to write, to be encoded as UTF-8.</param>
    /// <param name="paper">The paper.</param>
    /// <param name="facts">For its foot.</param>
    public static void Write(TextWriter to, Paper paper, PaperFacts facts)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(paper);
        ArgumentNullException.ThrowIfNull(facts);
        to.Write("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n");
        to.Write("<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        to.Write($"<title>{XmlText.Escape($"{paper.Title}: {paper.Site}")}</title>\n<style>\n{PageStyle.Text}{Own}{Sheets(paper)}</style>\n</head>\n");
        to.Write(paper.Sheet.Length > 0 ? "<body class=\"flat\">\n" : "<body>\n");
        to.Write($"<header>\n<p class=\"site\">{XmlText.Escape(paper.Site)}</p>\n<h1>{XmlText.Escape(paper.Title)}</h1>\n");
        if (paper.Lead.Length > 0)
            to.Write($"<p class=\"lead\">{Text(paper.Lead)}</p>\n");
        to.Write("</header>\n");
        foreach (var section in paper.Sections)
            Put(to, section);
        to.Write($"<footer>{XmlText.Escape(facts.Line)}</footer>\n</body>\n</html>\n");
    }

    private static string Sheets(Paper paper)
        => (paper.Sheet.Length > 0 ? $"@page{{size:{paper.Sheet}}}\n@media print{{figure.drawing svg{{max-height:{(paper.Sheet.StartsWith("A3", StringComparison.Ordinal) ? OnA3 : OnA4)}mm}}}}\n" : "")
            + (paper.Sections.Any(section => section.IsUpright) ? "@page upright{size:A4 portrait}\n.upright{page:upright}\n@media print{.upright dl.blanks{grid-template-columns:auto 1fr}}\n" : "");

    private static void Put(TextWriter to, Section section)
    {
        string[] classes = [.. new[] { section.OnNewSheet ? "sheet" : "", section.IsFramed ? "caution" : "", section.IsUpright ? "upright" : "" }.Where(name => name.Length > 0)];
        to.Write($"<section{(classes.Length > 0 ? $" class=\"{string.Join(' ', classes)}\"" : "")}>\n<h2>{XmlText.Escape(section.Heading)}</h2>\n");
        foreach (var block in section.Blocks)
            Put(to, block);
        to.Write("</section>\n");
    }

    private static void Put(TextWriter to, Block block)
    {
        switch (block)
        {
            case Words words:
                to.Write($"<p>{Text(words.Text)}</p>\n");
                break;
            case Bullets bullets:
                to.Write("<ul class=\"lines\">\n" + string.Concat(bullets.Lines.Select(line => $"<li>{Text(line)}</li>\n")) + "</ul>\n");
                break;
            case Blanks blanks:
                to.Write("<dl class=\"blanks\">\n" + string.Concat(blanks.Labels.Select(label => $"<dt>{XmlText.Escape(label)}</dt><dd></dd>\n")) + "</dl>\n");
                break;
            case Drawn drawn:
                to.Write($"<figure class=\"drawing\">\n{drawn.Svg}</figure>\n");
                break;
            case Table table:
                Put(to, table);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(block), block, "no page knows such a piece");
        }
    }

    private static void Put(TextWriter to, Table table)
    {
        to.Write($"<div class=\"scroll\"><table class=\"plain{(table.Rows.Count <= WholeRows ? " whole" : "")}\">\n");
        if (table.Caption.Length > 0)
            to.Write($"<caption>{XmlText.Escape(table.Caption)}</caption>\n");
        to.Write("<thead><tr>" + (table.IsTicked ? "<th></th>" : "") + string.Concat(table.Columns.Select(column => $"<th>{XmlText.Escape(column)}</th>")) + "</tr></thead>\n<tbody>\n");
        foreach (var row in table.Rows)
            to.Write("<tr>" + (table.IsTicked ? "<td><span class=\"box\"></span></td>" : "") + string.Concat(row.Select(cell => $"<td{(cell.Length <= KeptLetters ? " class=\"kept\"" : "")}>{XmlText.Id(ReportUnits.Kept(cell))}</td>")) + "</tr>\n");
        to.Write("</tbody>\n</table></div>\n");
    }

    private static string Text(string words) => XmlText.Escape(ReportUnits.Kept(words));
}
