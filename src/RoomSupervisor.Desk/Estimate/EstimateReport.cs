// An estimate as one page with pictures for a designer and whoever asked. Must never leave out the caution, nor a default nobody wrote.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Writes the page; the same estimate gives the same bytes.</summary>
public static class EstimateReport
{
    /// <summary>Writes it, self-contained, for UTF-8.</summary>
    public static void Write(TextWriter to, EstimateResult result)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(result);
        var units = result.File.Units == "us" ? UnitSystem.Us : UnitSystem.Metric;
        var title = $"Estimate: {result.File.Name}";
        to.Write("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        to.Write($"<title>{XmlText.Escape(title)}</title>\n<style>\n{PageStyle.Text}</style>\n</head>\n<body>\n{Patterns.Definitions()}<header>\n<p class=\"site\">{XmlText.Escape(result.File.Name)}</p>\n<h1>What this house needs</h1>\n<p class=\"lead\">{XmlText.Escape(EstimateResult.Caution)}</p>\n");
        Figures(to, result, units);
        to.Write("</header>\n");
        var pictures = new EstimatePictures(result, units);
        foreach (var block in EstimateBlocks.Of(result, units))
        {
            to.Write($"<section>\n<h2>{XmlText.Escape(block.Title)}</h2>\n");
            if (block.Title == "Loads" && result.File.Source.Cools)
                Picture(to, pictures.Day);
            if (block.Title == "What surfaces give")
                Picture(to, pictures.DewPoint);
            Table(to, block);
            Lines(to, block);
            to.Write("</section>\n");
        }
        Quantities(to, result);
        to.Write("</body>\n</html>\n");
    }

    private static void Figures(TextWriter to, EstimateResult result, UnitSystem units)
    {
        string Show(double watts) => Terms.Quantities.Show(Math.Round(watts), Quantity.Power, units);
        List<(string, string)> all = [];
        if (result.File.Source.Heats)
            all.Add((Show(result.Wish.Source.HeatingPeakW), "of heat on the coldest night"));
        if (result.File.Source.Cools)
        {
            all.Add((Show(result.Wish.Source.CoolingPeakW), "of cold at once on the design day, moisture counted"));
            all.Add((double.IsFinite(result.Wish.MeanDb) ? $"{result.Wish.MeanDb:0} dB(A)" : "silent", "the loudest room while its fan turns"));
            all.Add((double.IsFinite(result.Wish.RecoveryMin) ? result.Wish.RecoveryText + " min" : "–", "back after a door stood open, the slowest room"));
        }
        to.Write("<ul class=\"figures\">\n" + string.Concat(all.Select(one => $"<li><b>{XmlText.Escape(one.Item1)}</b>{XmlText.Escape(one.Item2)}</li>\n")) + "</ul>\n");
    }

    private static void Picture(TextWriter to, Func<Sheet, string> draw)
    {
        var wide = draw(Sheet.Wide);
        if (wide.Length > 0)
            to.Write($"<figure class=\"wide\">\n{wide}</figure>\n<figure class=\"phone\">\n{draw(Sheet.Phone)}</figure>\n");
    }

    private static void Table(TextWriter to, EstimateBlock block)
    {
        if (block.Rows.Count == 0)
            return;
        to.Write("<table class=\"measures even\">\n<thead><tr>" + string.Concat(block.Heads.Select(head => $"<th>{XmlText.Escape(head)}</th>")) + "</tr></thead>\n<tbody>\n");
        foreach (var row in block.Rows)
            to.Write($"<tr><th scope=\"row\">{XmlText.Id(row[0])}</th>" + string.Concat(row.Skip(1).Select((cell, i) => $"<td data-name=\"{XmlText.Escape(block.Heads[i + 1])}\">{XmlText.Escape(cell)}</td>")) + "</tr>\n");
        to.Write("</tbody></table>\n");
    }

    private static void Lines(TextWriter to, EstimateBlock block)
    {
        if (block.Lines.Count == 0)
            return;
        to.Write(block.Rows.Count > 0
            ? string.Concat(block.Lines.Select(line => $"<p class=\"note\">{XmlText.Escape(ReportUnits.Kept(line))}</p>\n"))
            : "<ul>\n" + string.Concat(block.Lines.Select(line => $"<li>{XmlText.Escape(ReportUnits.Kept(line))}</li>\n")) + "</ul>\n");
    }

    private static void Quantities(TextWriter to, EstimateResult result)
    {
        to.Write("<section>\n<h2>List of quantities</h2>\n<table class=\"measures even\">\n<thead><tr><th>where</th><th>what</th><th>count</th><th>unit</th><th>note</th></tr></thead>\n<tbody>\n");
        foreach (var line in QuantityList.Of(result.Wish))
            to.Write($"<tr><th scope=\"row\">{XmlText.Id(line.Where)}</th><td data-name=\"what\">{XmlText.Escape(line.What)}</td><td data-name=\"count\">{ReportUnits.Figure(line.Count)}</td><td data-name=\"unit\">{XmlText.Escape(line.Unit)}</td><td data-name=\"note\" class=\"goal\">{XmlText.Escape(line.Note)}</td></tr>\n");
        to.Write("</tbody></table>\n<p class=\"note\">Without makes and prices. Metric, as parts are sold.</p>\n</section>\n");
    }
}
