// An estimate as a table for a terminal: loads, emitters, water, ways side by side, what does not work, what is a default. Must never print a figure the JSON does not have.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Writes it.</summary>
public static class EstimateTable
{
    /// <summary>Writes the table.</summary>
    public static void Write(TextWriter to, EstimateResult result)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(result);
        var units = result.File.Units == "us" ? UnitSystem.Us : UnitSystem.Metric;
        to.WriteLine($"{result.File.Name}: what it needs. {EstimateResult.Caution}");
        foreach (var block in EstimateBlocks.Of(result, units))
        {
            to.WriteLine();
            to.WriteLine(block.Title);
            if (block.Rows.Count > 0)
                Grid(to, block);
            foreach (var line in block.Lines)
                to.WriteLine("  " + line);
        }
    }

    private static void Grid(TextWriter to, EstimateBlock block)
    {
        var widths = Enumerable.Range(0, block.Heads.Count).Select(i => Math.Max(block.Heads[i].Length, block.Rows.Max(row => row[i].Length))).ToArray();
        string Row(IReadOnlyList<string> cells) => "  " + cells[0].PadRight(widths[0]) + string.Concat(cells.Skip(1).Select((cell, i) => "  " + cell.PadLeft(widths[i + 1])));
        to.WriteLine(Row(block.Heads).TrimEnd());
        foreach (var row in block.Rows)
            to.WriteLine(Row(row).TrimEnd());
    }
}

/// <summary>A block of an estimate: a table, sentences, or both.</summary>
/// <param name="Title">What it is.</param>
/// <param name="Heads">Heads of columns.</param>
/// <param name="Rows">Cells, the first a name.</param>
/// <param name="Lines">Sentences below.</param>
internal sealed record EstimateBlock(string Title, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string> Lines);
