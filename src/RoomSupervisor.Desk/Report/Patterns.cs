// The hatchings of a page: one for each stage, one for open doors and so on, drawn once. Must never rely on colour.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report;

/// <summary>Definitions of patterns, to be put into the page once.</summary>
internal static class Patterns
{
    /// <summary>Hatching of an open door.</summary>
    internal const string Open = "hatch-open";

    /// <summary>Hatching of latent heat.</summary>
    internal const string Latent = "hatch-latent";

    /// <summary>Hatching of electricity.</summary>
    internal const string Electric = "hatch-electric";

    /// <summary>Hatching of what is short.</summary>
    internal const string Short = "hatch-short";

    /// <summary>All of them, in a drawing of no size.</summary>
    internal static string Definitions()
    {
        var text = "<svg width=\"0\" height=\"0\" class=\"definitions\" aria-hidden=\"true\" xmlns=\"http://www.w3.org/2000/svg\"><defs>\n";
        foreach (var stage in Enum.GetValues<Stage>())
            text += Of(stage);
        text += Pattern(Open, 7, 7, "", "M-1 8 8-1M-1 1 1-1M6 8 8 6");
        text += Pattern(Latent, 6, 6, "blank", "M0 1.5h6M0 4.5h6");
        text += Pattern(Electric, 5, 5, "blank", "M1.2 0v5M3.7 0v5");
        text += Pattern(Short, 5, 5, "blank", "M0 0 5 5M5 0 0 5");
        return text + "</defs></svg>\n";
    }

    private static string Of(Stage stage)
    {
        var name = StageWords.Pattern(stage);
        return stage switch
        {
            Stage.Off => Pattern(name, 8, 8, "blank", ""),
            Stage.Satisfied => Pattern(name, 9, 9, "blank", "M2 2h.01M6.5 6.5h.01"),
            Stage.PullDown => Pattern(name, 5, 5, "pale", "M-1 6 6-1M-1 1 1-1M4 6 6 4"),
            Stage.WarmUp => Pattern(name, 5, 5, "pale", "M-1-1 6 6M-1 4 1 6M4-1 6 1"),
            Stage.EasingOff => Pattern(name, 11, 11, "blank", "M-1 12 12-1M-1 1 1-1M10 12 12 10"),
            Stage.CoilHelps => Pattern(name, 7, 7, "pale", "M0 1.75h7M0 5.25h7"),
            Stage.RadiantHold => Pattern(name, 8, 8, "pale", ""),
            Stage.CoilHold => Pattern(name, 6, 6, "pale", "M1.5 0v6M4.5 0v6"),
            _ => Pattern(name, 6, 6, "blank", "M0 0 6 6M6 0 0 6"),
        };
    }

    private static string Pattern(string name, int width, int height, string ground, string lines)
        => $"<pattern id=\"{name}\" width=\"{width}\" height=\"{height}\" patternUnits=\"userSpaceOnUse\">"
            + (ground.Length == 0 ? "" : $"<rect class=\"p-{ground}\" width=\"{width}\" height=\"{height}\"/>") + (lines.Length == 0 ? "" : $"<path class=\"p-line\" d=\"{lines}\"/>") + "</pattern>\n";
}
