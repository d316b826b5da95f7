// The end of a report: what nobody set, and what a rehearsal is not. Must never be left out.
using System.Text;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report;

/// <summary>Writes defaults and cautions.</summary>
internal static class Endnotes
{
    private static readonly string[] Cautions =
    [
        "This is a simulation, not a promise. House, weather, people and devices are models; the real house will differ.",
        "The controller is not a safety device. Limits for fire, overheating, pressure and frost belong to devices made for that, which work without it.",
        "Local codes and the design by licensed professionals decide. Where they differ from this report, they are right.",
        "The dew point is counted on the safe side, but sensors age and water finds cold pipes: look at valves, manifolds and pipe insulation on the first humid days.",
        "Sound levels are worked out from fan speeds and hold to about 2 dB; a room, its furniture and the ear decide the rest.",
    ];

    internal static string Write(ReportNotes notes, RunWindow window, ReportUnits units)
    {
        var html = new StringBuilder("<section>\n<h2>What is a default</h2>\n");
        html.Append("<p>Values nobody has set for this house. Each may be right; none was measured here.</p>\n<ul>\n");
        foreach (var line in notes.Defaults)
            Item(html, units.Words(line));
        Item(html, $"Background sound: {XmlText.Number(notes.BackgroundDba)} dB(A), a choice of this project");
        Item(html, $"A room counts as where it is wanted within {units.DifferenceText(Headline.WithinK)} of its band, a choice of this project");
        Item(html, $"Height above the sea: {XmlText.Number(window.Run.AltitudeM, 0)} m, for the pressure of the air in the chart");
        html.Append("</ul>\n</section>\n<section class=\"caution\">\n<h2>What this is not</h2>\n<ul>\n");
        foreach (var line in Cautions)
            Item(html, line);
        html.Append("</ul>\n</section>\n");
        if (notes.Version.Length > 0)
            html.Append("<p class=\"note\">Room Supervisor ").Append(XmlText.Escape(notes.Version)).Append("</p>\n");
        return html.ToString();
    }

    private static void Item(StringBuilder html, string line) => html.Append("<li>").Append(XmlText.Escape(ReportUnits.Kept(line))).Append("</li>\n");
}
