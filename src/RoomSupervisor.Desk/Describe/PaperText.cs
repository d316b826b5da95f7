// A paper as plain text for a terminal: wrapped sentences, tables in columns where they fit, else a block a row. Must never let a control character of a
// site file reach the terminal.
using System.Text;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Writes papers as text.</summary>
public static class PaperText
{
    private const int Gap = 2, LeastCell = 8, MostToWriteOn = 40;

    /// <summary>Writes the paper.</summary>
    /// <param name="to">Where to write.</param>
    /// <param name="paper">The paper; drawings are left out.</param>
    /// <param name="facts">For its foot.</param>
    /// <param name="width">Letters a line, at least 40.</param>
    public static void Write(TextWriter to, Paper paper, PaperFacts facts, int width = 110)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(paper);
        ArgumentNullException.ThrowIfNull(facts);
        Wrap(to, $"{paper.Site}: {paper.Title}", width, "", "");
        Wrap(to, paper.Lead, width, "", "");
        foreach (var section in paper.Sections.Where(section => !section.OnPaperOnly))
        {
            to.WriteLine();
            Wrap(to, section.Heading.ToUpperInvariant(), width, "", "");
            foreach (var block in section.Blocks)
                Put(to, block, width);
        }
        to.WriteLine();
        Wrap(to, facts.Line, width, "", "");
    }

    private static void Put(TextWriter to, Block block, int width)
    {
        switch (block)
        {
            case Words words:
                Wrap(to, words.Text, width, "", "");
                break;
            case Bullets bullets:
                foreach (var line in bullets.Lines)
                    Wrap(to, line, width, "- ", "  ");
                break;
            case Blanks blanks:
                foreach (var label in blanks.Labels)
                    to.WriteLine($"{Clean(label)}: {new string('_', Math.Clamp(width - label.Length - 2, 8, MostToWriteOn))}");
                break;
            case Table table:
                Put(to, table, width);
                break;
        }
    }

    private static void Put(TextWriter to, Table table, int width)
    {
        if (table.Caption.Length > 0)
            Wrap(to, table.Caption, width, "", "");
        string[][] rows = [.. table.Rows.Select(row => row.Select(Clean).ToArray())];
        int[] widths = [.. table.Columns.Select((column, i) => rows.Select(row => row[i].Length).Append(column.Length).Max())];
        var tick = table.IsTicked ? "[ ] " : "";
        int[] least = [.. table.Columns.Select((column, i) => rows.Select(row => LongestWord(row[i])).Append(column.Length).Append(LeastCell).Max())];
        if (!Fit(widths, least, width - tick.Length))
        {
            Blocks(to, table, rows, width, tick);
            return;
        }
        Row(to, [.. table.Columns.Select(Clean)], widths, new string(' ', tick.Length));
        foreach (var row in rows)
            Row(to, row, widths, tick);
    }

    /// <summary>Makes the widest columns narrower until all fit; false where a word would have to be broken.</summary>
    private static bool Fit(int[] widths, int[] least, int width)
    {
        if (least.Select((letters, i) => Math.Min(letters, widths[i])).Sum() + Gap * (widths.Length - 1) > width)
            return false;
        while (widths.Sum() + Gap * (widths.Length - 1) > width)
        {
            var widest = Enumerable.Range(0, widths.Length).Where(i => widths[i] > least[i]).MaxBy(i => widths[i]);
            widths[widest]--;
        }
        return true;
    }

    private static int LongestWord(string text) => text.Split(' ').Max(word => word.Length);

    private static void Row(TextWriter to, string[] cells, int[] widths, string tick)
    {
        string[][] lines = [.. cells.Select((cell, i) => Lines(cell, widths[i]).ToArray())];
        for (var line = 0; line < Math.Max(1, lines.Max(cell => cell.Length)); line++)
        {
            var text = new StringBuilder(line == 0 ? tick : new string(' ', tick.Length));
            for (var i = 0; i < lines.Length; i++)
                text.Append((line < lines[i].Length ? lines[i][line] : "").PadRight(widths[i] + Gap));
            to.WriteLine(text.ToString().TrimEnd());
        }
    }

    private static void Blocks(TextWriter to, Table table, string[][] rows, int width, string tick)
    {
        foreach (var row in rows)
        {
            Wrap(to, row[0], width, tick, new string(' ', tick.Length));
            for (var i = 1; i < row.Length; i++)
            {
                if (row[i].Length > 0)
                    Wrap(to, $"{table.Columns[i]}: {row[i]}", width, "      ", "        ");
            }
        }
    }

    private static void Wrap(TextWriter to, string text, int width, string first, string next)
    {
        var indent = first;
        foreach (var line in Lines(Clean(text), width - Math.Max(first.Length, next.Length)))
        {
            to.WriteLine(indent + line);
            indent = next;
        }
    }

    /// <summary>Words in lines of a width; a word that is longer alone is broken.</summary>
    private static IEnumerable<string> Lines(string text, int width)
    {
        var line = new StringBuilder();
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                yield return line.ToString();
                line.Clear();
            }
            line.Append(line.Length > 0 ? " " : "").Append(word);
            while (line.Length > width)
            {
                yield return line.ToString(0, width);
                line.Remove(0, width);
            }
        }
        if (line.Length > 0)
            yield return line.ToString();
    }

    private static string Clean(string text) => string.Create(text.Length, text, static (target, source) =>
    {
        for (var i = 0; i < target.Length; i++)
            target[i] = char.IsControl(source[i]) || source[i] is '\u202E' or '\u202D' or '\u2066' or '\u2067' or '\u2068' ? ' ' : source[i];
    });
}
