// The table of stages as people read it: the ways from one stage to another as a table and as a diagram. Made from the rows the controller itself walks;
// never called in a step.
using System.Text;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>Stages in words and as a diagram.</summary>
public static class StageText
{
    /// <summary>A Markdown table: one row a way, in the order in which they are looked at.</summary>
    public static string Table()
    {
        var text = new StringBuilder("| from | to | when |\n|---|---|---|\n");
        foreach (var way in StageTable.All)
            text.Append($"| {(way.From is { } from ? NameOf(from) : "any stage")} | {NameOf(way.To)} | {ParameterText.Fill(way.Words + way.WithSurface + way.WithSlab)} |\n");
        return text.ToString();
    }

    /// <summary>The same as a state diagram in Mermaid, an open text notation that most viewers of Markdown draw.</summary>
    public static string Diagram()
    {
        var text = new StringBuilder("```mermaid\nstateDiagram-v2\n");
        foreach (var stage in Enum.GetValues<Towards>().Where(stage => stage != Towards.Resume))
            text.Append($"    {stage}: {NameOf(stage)}\n");
        text.Append("    state \"any stage\" as Any\n    [*] --> Off\n");
        foreach (var way in StageTable.All.Where(way => way.To != Towards.Resume).DistinctBy(way => (way.From, way.To)))
            text.Append($"    {way.From?.ToString() ?? "Any"} --> {way.To}\n");
        return text.Append("```\n").ToString();
    }

    private static string NameOf(Towards towards) => towards switch
    {
        Towards.Pull => $"{Names.Of(Stage.PullDown)} / {Names.Of(Stage.WarmUp)}",
        Towards.Resume => "the stage before",
        _ => Names.Of(Enum.GetValues<Stage>().First(stage => StageTable.Of(stage) == towards)),
    };
}
