// The protective list as people read it, made from the rows the controller itself walks; never called in a step.
using System.Text;
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>The protective list in words.</summary>
public static class ProtectionText
{
    /// <summary>A Markdown table: one row a protection, strongest first within what it protects.</summary>
    public static string Table()
    {
        var text = new StringBuilder("| protects | cause | when | what happens | until |\n|---|---|---|---|---|\n");
        foreach (var row in Protections.All)
            text.Append($"| {NameOf(row)} | {CauseWords.Name(row.Cause)} | {ParameterText.Fill(row.Condition)} | {ParameterText.Fill(row.Action)} | {ParameterText.Fill(row.Clears)} |\n");
        return text.ToString();
    }

    private static string NameOf(Protection row) => row.What switch
    {
        Protects.Loop when row.Cause == Cause.Leak => "every loop",
        Protects.Loop when row.In == Seasons.Cooling => "a loop that cools",
        Protects.Loop => "a loop",
        Protects.Circuit when row.In == Seasons.Cooling => "a circuit that cools",
        Protects.Circuit => "a circuit that heats",
        _ => "a coil",
    };
}
