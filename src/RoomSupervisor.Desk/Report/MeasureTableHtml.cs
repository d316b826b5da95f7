// The table of measures as HTML that folds into blocks on a phone. Must never show a goal as met without saying so in words.
using System.Text;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report;

/// <summary>Writes the table.</summary>
internal static class MeasureTableHtml
{
    /// <summary>Rooms for which a page has columns.</summary>
    private const int MostColumns = 7;

    internal static string Write(MeasureTable table, ReportUnits units)
    {
        if (table.Rows.Count == 0)
            return "<p>No measures were taken in this run.</p>\n";
        var html = new StringBuilder($"<table class=\"measures{(table.Rooms.Count > MostColumns ? " many" : "")}\">\n<thead><tr><th>measure</th><th>house</th>");
        foreach (var room in table.Rooms)
            html.Append("<th>").Append(XmlText.Escape(room)).Append("</th>");
        html.Append("<th>goal</th></tr></thead>\n<tbody>\n");
        foreach (var row in table.Rows)
            Row(html, table, row, units);
        return html.Append("</tbody></table>\n").ToString();
    }

    private static void Row(StringBuilder html, MeasureTable table, MeasureRow row, ReportUnits units)
    {
        var unit = units.Measure(0, row.Unit).Unit;
        html.Append("<tr><th scope=\"row\">").Append(XmlText.Escape(units.Words(row.Label)));
        if (unit.Length > 0)
            html.Append(" <span class=\"unit\">").Append(XmlText.Escape(unit)).Append("</span>");
        html.Append("<code>").Append(XmlText.Id(row.Name)).Append("</code></th>");
        Cell(html, "house", row.House, row.IsMet, row.Unit, units);
        for (var n = 0; n < table.Rooms.Count; n++)
            Cell(html, table.Rooms[n], n < row.ByRoom.Count ? row.ByRoom[n] : double.NaN, n < row.IsMetByRoom.Count ? row.IsMetByRoom[n] : null, row.Unit, units);
        html.Append(row.Goal.Length == 0 && row.IsMet is null ? "<td class=\"goal none\"" : "<td class=\"goal\"").Append(" data-name=\"goal\">").Append(XmlText.Escape(units.Words(row.Goal)));
        if (row.IsMet is { } isMet)
            html.Append(isMet ? " <b class=\"met\">✓ met</b>" : " <b class=\"missed\">✗ missed</b>");
        if (row.Why.Length > 0)
            html.Append(" <span class=\"why\">").Append(XmlText.Escape(units.Words(row.Why))).Append("</span>");
        html.Append("</td></tr>\n");
    }

    private static void Cell(StringBuilder html, string name, double value, bool? isMet, string unit, ReportUnits units)
    {
        html.Append("<td").Append(double.IsNaN(value) ? " class=\"none\"" : "").Append(" data-name=\"").Append(XmlText.Escape(name)).Append("\">")
            .Append(ReportUnits.Figure(units.Measure(value, unit).Value));
        if (isMet == false)
            html.Append(" <b class=\"missed\" title=\"goal missed\">✗</b>");
        html.Append("</td>");
    }
}
