// The circuit table on paper and for spreadsheets. Must never leave out which figures are reckoned and not measured.
using System.Globalization;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>Writes circuit tables.</summary>
public static class BalancePages
{
    private static readonly (string Head, Func<CircuitLine, string> Cell)[] Columns =
    [
        ("port", line => line.Port == 0 ? "" : N(line.Port, "0")),
        ("length_m", line => N(line.LengthM, "0.0")),
        ("length_is", line => line.LengthIsReckoned ? "reckoned" : "as written"),
        ("design_l_per_min", line => N(line.DesignLPerMin, "0.00")),
        ("pipe_kpa", line => N(line.Setting.PipePa / 1000, "0.00")),
        ("set_kv_m3_per_h", line => N(line.Setting.Kv, "0.000")),
        ("set_open_percent", line => N(line.Setting.OpenPercent, "0")),
        ("index", line => line.Setting.IsIndex ? "yes" : ""),
        ("found_l_per_min", line => N(line.FoundLPerMin, "0.00")),
        ("found_percent_of_design", line => N(100 * line.Next.Ratio, "0")),
        ("next_open_percent", line => N(100 * line.Next.NextKv / line.Circuit.Kvs, "0")),
    ];

    /// <summary>All circuits as CSV, base units, commas.</summary>
    public static void Csv(TextWriter to, IReadOnlyList<CircuitTable> tables)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(tables);
        to.Write("loop,circuit," + string.Join(',', Columns.Select(column => column.Head)) + "\n");
        foreach (var line in tables.SelectMany(table => table.Lines))
            to.Write($"{line.Loop},{line.Name}," + string.Join(',', Columns.Select(column => column.Cell(line))) + "\n");
    }

    /// <summary>All circuits as a page for printing, with room to write by hand.</summary>
    public static void Html(TextWriter to, House house, IReadOnlyList<CircuitTable> tables)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(tables);
        TunePage.Head(to, "Circuits and their flows", house.Name, "balancing");
        to.Write("<p class=\"lead\">Set each valve as reckoned, measure, enter what was found. The circuit with the smallest share of its design stays open; the others are throttled to its share; then the pump brings all of them to their design.</p>\n</header>\n");
        foreach (var table in tables)
            Section(to, house, table);
        to.Write("<section class=\"caution\">\n<h2>What this is</h2>\n<ul>\n<li>Pipe: Darcy and Weisbach, Colebrook and White, plastic pipe; bends and manifold a fifth more; lengths marked * come from area and spacing with 10 m of way.</li>\n"
            + "<li>Design flow: rated output over 3 K (cooled panels) or 5 K (slabs and heating): common practice, no published source. Where the designer says otherwise, his figures hold.</li>\n"
            + "<li>Method: proportional balancing (CIBSE Commissioning Code W, from memory); within 10 % counts as balanced. “Open” is the share of the valve's own flow coefficient; many valves have a scale of their own.</li>\n</ul>\n</section>\n</body>\n</html>\n");
    }

    /// <summary>The table for a terminal.</summary>
    public static IEnumerable<string> Lines(CircuitTable table, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(table);
        yield return $"{table.Loop}: {table.Lines.Count} circuit(s), {Quantities.Show(table.Lines.Sum(line => line.DesignLPerMin), Quantity.Flow, units)} together, the manifold needs {Quantities.Show(table.ManifoldPa / 1000, Quantity.Pressure, units)}, water of {Quantities.Show(table.MeanC, Quantity.Temperature, units)}";
        yield return $"  {"port",4} {"circuit",-32} {"length",9} {"design",12} {"open",6} {"found",12} {"share",6}  next";
        foreach (var line in table.Lines)
        {
            var found = double.IsNaN(line.FoundLPerMin) ? "" : Quantities.Show(line.FoundLPerMin, Quantity.Flow, units);
            var share = double.IsNaN(line.Next.Ratio) ? "" : N(100 * line.Next.Ratio, "0") + " %";
            yield return $"  {(line.Port == 0 ? "" : N(line.Port, "0")),4} {line.Name,-32} {Quantities.Show(line.LengthM, Quantity.Length, units) + (line.LengthIsReckoned ? "*" : " "),9} {Quantities.Show(line.DesignLPerMin, Quantity.Flow, units),12} {N(line.Setting.OpenPercent, "0") + " %",6} {found,12} {share,6}  {NextWords(line)}";
        }
        if (table.Lines.Any(line => line.LengthIsReckoned))
            yield return "  * reckoned from area and spacing; write pipe_length in site.yaml where it is known";
        if (table.Lines.All(line => double.IsFinite(line.Next.Ratio)))
            yield return Balancing.IsBalanced(table.Lines.Select(line => line.Next)) ? "  balanced: every circuit is within 10 % of its design"
                : $"  after turning, measure again; with all at the same share the pump at {N(100 * Balancing.PumpShare(table.Lines.Select(line => line.Next)), "0")} % of its speed now brings them to 100 %";
    }

    private static string NextWords(CircuitLine line) => line.Next.IsIndex && double.IsFinite(line.Next.Ratio) ? "index circuit: stays fully open"
        : double.IsFinite(line.Next.NextKv) ? $"turn to {N(100 * line.Next.NextKv / line.Circuit.Kvs, "0")} % open" : line.Setting.IsIndex && double.IsNaN(line.Next.Ratio) ? "reckoned index circuit" : "";

    private static void Section(TextWriter to, House house, CircuitTable table)
    {
        var units = house.Units;
        to.Write($"<section>\n<h2>{XmlText.Escape(table.Loop.Replace('-', ' '))}</h2>\n<p>{XmlText.Escape(Lines(table, units).First())}</p>\n<table class=\"measures even\">\n<thead><tr><th>circuit</th><th>port</th><th>length</th><th>design</th><th>pipe loss</th><th>open</th><th>found</th><th>share</th><th>next</th></tr></thead>\n<tbody>\n");
        foreach (var line in table.Lines)
        {
            string[] cells =
            [
                line.Port == 0 ? "" : N(line.Port, "0"), Quantities.Show(line.LengthM, Quantity.Length, units) + (line.LengthIsReckoned ? " *" : ""), Quantities.Show(line.DesignLPerMin, Quantity.Flow, units),
                Quantities.Show(line.Setting.PipePa / 1000, Quantity.Pressure, units), N(line.Setting.OpenPercent, "0") + " %", double.IsNaN(line.FoundLPerMin) ? "________" : Quantities.Show(line.FoundLPerMin, Quantity.Flow, units),
                double.IsNaN(line.Next.Ratio) ? "" : N(100 * line.Next.Ratio, "0") + " %", NextWords(line),
            ];
            string[] names = ["port", "length", "design", "pipe loss", "open", "found", "share", "next"];
            to.Write($"<tr><th scope=\"row\">{XmlText.Id(line.Name)}</th>" + string.Concat(cells.Zip(names, (cell, name) => $"<td data-name=\"{name}\">{XmlText.Escape(cell)}</td>")) + "</tr>\n");
        }
        to.Write("</tbody></table>\n</section>\n");
    }

    private static string N(double value, string format) => double.IsFinite(value) ? value.ToString(format, CultureInfo.InvariantCulture) : "";
}
