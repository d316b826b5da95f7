// A comparison as a page for a designer: who was compared, the table, the squares, and what a comparison is not. Must never name a winner.
using System.Globalization;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Writes the page; the same comparison gives the same bytes.</summary>
internal static class CompareReport
{
    /// <summary>Writes it, self-contained, for UTF-8.</summary>
    public static void Write(TextWriter to, Comparison comparison)
    {
        var house = comparison.Plan.Files.House;
        var units = new ReportUnits(house.Units == Terms.UnitSystem.Us);
        var title = $"Five ways to cool the same house: {house.Name}";
        to.Write("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        to.Write($"<title>{XmlText.Escape(title)}</title>\n<style>\n{PageStyle.Text}</style>\n</head>\n<body>\n<header>\n<p class=\"site\">{XmlText.Escape(house.Name)} · a comparison in a simulated house</p>\n");
        to.Write("<h1>Five ways to cool the same house</h1>\n<p class=\"lead\">The same days, weather, people, sensors, limits of fans, quiet hours, water limits and supply reset for all. What one way gains it pays for elsewhere: this page shows the trade, not a winner.</p>\n");
        to.Write($"<p class=\"note\">{XmlText.Escape($"{comparison.Plan.ScenarioName}; seeds {string.Join(", ", comparison.All[0].Runs.Select(run => run.Seed))}. Comfort, noise and dryness are of the rooms that have both a coil and a cooled surface: {string.Join(", ", comparison.Rooms.Select(i => house.Rooms[i].Id.Replace('-', ' ')))}. Energy is the house's.")}</p>\n</header>\n");
        Section(to, "Who is compared");
        to.Write("<dl class=\"meanings\">\n" + string.Concat(comparison.All.Select(row => $"<dt><b>({row.Contender.Letter})</b> {XmlText.Escape(row.Contender.Title)}</dt><dd>{XmlText.Escape(ReportUnits.Kept(CompareTable.Words(row.Contender, units)))}</dd>\n")) + "</dl>\n</section>\n");
        Section(to, "What each gave");
        Table(to, comparison, units);
        to.Write("</section>\n");
        Section(to, "What is traded for what");
        to.Write("<p>A ring is the mean of one way, a dot one seed. Towards the lower left there is less of both.</p>\n");
        var picture = new TradeOffPicture(comparison, units);
        to.Write($"<figure class=\"wide\">\n{picture.Draw(Sheet.Wide)}</figure>\n<figure class=\"phone\">\n{picture.Draw(Sheet.Phone)}</figure>\n</section>\n");
        Cautions(to, comparison);
        to.Write("</body>\n</html>\n");
    }

    private static void Table(TextWriter to, Comparison comparison, ReportUnits units)
    {
        to.Write("<table class=\"measures even\">\n<thead><tr><th>measure</th>" + string.Concat(comparison.All.Select(row => $"<th>({row.Contender.Letter})</th>")) + "<th>of</th></tr></thead>\n<tbody>\n");
        foreach (var column in CompareTable.Columns)
        {
            var unit = units.Measure(0, column.Unit).Unit;
            to.Write($"<tr><th scope=\"row\">{XmlText.Escape(column.Head)}{(unit.Length > 0 ? $" <span class=\"unit\">{XmlText.Escape(unit)}</span>" : "")}</th>");
            foreach (var row in comparison.All)
                to.Write($"<td data-name=\"({row.Contender.Letter})\">{XmlText.Escape(CompareTable.Text(row, column, units))}</td>");
            to.Write($"<td data-name=\"of\">{column.Group}</td></tr>\n");
        }
        to.Write("</tbody></table>\n");
    }

    private static void Cautions(TextWriter to, Comparison comparison)
    {
        var g = comparison.Gains;
        string[] lines =
        [
            "This is a simulation, not a promise: one house, these days, these seeds. Another house trades differently.",
            "The others were built here for this comparison, as their description says, and are no product. They are held by the same guard, caps and start speeds; loops and source follow them by the same rules.",
            string.Create(CultureInfo.InvariantCulture, $"The separate loops got {g.CoilPerK:0.##} of the coil and {g.SurfacePerK:0.##} of the surface for each kelvin, {g.CoilIntegralS:0} s and {g.SurfaceIntegralS:0} s of integral time: the best of {LoopTuning.Grid.Count} on the first day with a seed not shown. Room Supervisor's parameters are the shipped ones, fixed for all houses."),
            "A fixed cut-off farther from the dew point than the water is reset to is shut most of the time: that is what (b) shows under a reset that goes close to the dew point.",
            CompareTable.Ceiling,
            "Noise is counted whatever a control is doing, openings apart; energy is counted without a value for comfort: who cools less uses less.",
        ];
        to.Write("<section class=\"caution\">\n<h2>What this is not</h2>\n<ul>\n" + string.Concat(lines.Select(line => $"<li>{XmlText.Escape(ReportUnits.Kept(line))}</li>\n")) + "</ul>\n</section>\n");
    }

    private static void Section(TextWriter to, string title) => to.Write($"<section>\n<h2>{XmlText.Escape(title)}</h2>\n");
}
