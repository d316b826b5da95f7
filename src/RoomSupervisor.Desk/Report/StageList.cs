// Lists of stages beside their patterns: how long a room was in each, and what each means. Must never name a stage that did not occur.
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report;

/// <summary>Writes lists of stages.</summary>
internal static class StageList
{
    /// <summary>How long a room was in each stage, longest first.</summary>
    internal static string OfRoom(RoomRecord room, RunWindow window)
    {
        var html = new StringBuilder("<ul class=\"stages\">\n");
        var stages = room.Stages.Skip(window.All.First).Take(window.All.Count).GroupBy(stage => stage).Select(group => (Stage: group.Key, Count: group.Count()));
        foreach (var (stage, count) in stages.OrderByDescending(entry => entry.Count).ThenBy(entry => entry.Stage))
            html.Append("<li>").Append(Swatch(StageWords.Pattern(stage))).Append(Names.Of(stage)).Append(' ').Append(Lasting(window.Hours(count))).Append("</li>\n");
        return html.Append("</ul>\n").ToString();
    }

    /// <summary>What the stages that occurred mean.</summary>
    internal static string Meanings(RunRecord run)
    {
        var html = new StringBuilder("<section class=\"room\">\n<h3>What the ribbon says</h3>\n<dl class=\"meanings\">\n");
        foreach (var stage in run.Rooms.SelectMany(room => room.Stages).Distinct().Order())
            html.Append("<dt>").Append(Swatch(StageWords.Pattern(stage))).Append(Names.Of(stage)).Append("</dt><dd>").Append(XmlText.Escape(StageWords.Meaning(stage))).Append("</dd>\n");
        return html.Append("</dl>\n</section>\n").ToString();
    }

    private static string Swatch(string pattern) => "<svg class=\"swatch\" viewBox=\"0 0 26 13\" aria-hidden=\"true\" xmlns=\"http://www.w3.org/2000/svg\">"
        + $"<rect class=\"stage\" x=\".5\" y=\".5\" width=\"25\" height=\"12\" fill=\"url(#{pattern})\"/></svg>";

    internal static string Lasting(double hours) => hours < 1 ? $"{XmlText.Number(Math.Max(hours * 60, 1), 0)} min" : $"{XmlText.Number(hours)} h";
}
