// fill, vent, balance: work on the water of a site: arguments and printing only. fill and vent speak to the running controller, or to a run of their own in which only a hand moves outputs.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Desk.WaterWork;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class WaterVerbs
{
    public static Command CreateFill() => Vent("fill", true, "Fill the circuits of a loop one after another, then vent each with the pump in bursts.");

    public static Command CreateVent() => Vent("vent", false, "Vent the circuits of a loop one after another: all others shut, the pump in bursts.");

    private static Command Vent(string name, bool fills, string words)
    {
        var run = new RunOptions();
        var loops = new Argument<string[]>("LOOP") { Arity = ArgumentArity.ZeroOrMore, Description = "loops; without one all of them" };
        var bursts = new Option<int>("--bursts") { Description = "bursts of the pump a circuit, 1 to 20", HelpName = "N", DefaultValueFactory = _ => 5 };
        var again = new Option<bool>("--again") { Description = "circuits that were done before as well" };
        var yes = new Option<bool>("--yes") { Description = "do not ask before it begins" };
        var command = new Command(name, words + " Pressure is watched where it is read; it ends by itself, over 40 °C at once, and the same command goes on where it was ended. The source stays off. "
            + "Guard and protections hold; every hand value is back at the end. Exit code 0, 1 something was left out, 2 refused.") { loops, bursts, again, yes };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed => HandWords.With(run, parsed, (client, _, stop) =>
        {
            if (parsed.GetValue(bursts) is not (>= 1 and <= 20) and var wrong)
                return Refusal.Say(name, $"--bursts {wrong}: error: out of range; allowed: 1 to 20");
            if (SiteArgument.Read(client.Directory) is not { } files)
                return 2;
            var house = files.House;
            var names = parsed.GetValue(loops) is { Length: > 0 } named ? named : [.. house.Loops.Select(loop => loop.Id)];
            if (names.FirstOrDefault(one => house.Loops.All(loop => loop.Id != one)) is { } unknown)
                return Refusal.Say(name, $"there is no loop {unknown}; there is: {string.Join(", ", house.Loops.Select(loop => loop.Id))}");
            foreach (var caution in VentRun.Cautions)
                Console.Out.WriteLine($"caution: {caution}");
            if (!parsed.GetValue(yes) && !Ask("begin? (Enter, or n)"))
                return 1;
            var plan = new VentPlan { Fills = fills, Bursts = parsed.GetValue(bursts), Again = parsed.GetValue(again) };
            var book = CheckoutBook.Open(CheckoutBook.PathOf(client.Directory, isVirtual: false));
            return new VentRun(new RunningPlant(client, stop), house, plan, book, Environment.UserName, Console.Out.WriteLine, Ask).Play([.. names.Select(one => house.Loops.ToList().FindIndex(loop => loop.Id == one))]);
        }));
        return command;
    }

    public static Command CreateBalance()
    {
        var site = new SiteArgument();
        var found = new Option<string[]>("--found") { Description = "what a meter found: CIRCUIT=FLOW, such as weaving-room.ceiling=1.8, in l/min or with a unit; kept in the book", HelpName = "C=F" };
        var set = new Option<string[]>("--set") { Description = "with --found: what the valve stood at: CIRCUIT=PERCENT of fully open; without it as reckoned", HelpName = "C=P" };
        var kvs = new Option<double>("--kvs") { Description = "flow coefficient of the manifold's valves fully open, m³/h at 1 bar", HelpName = "KVS", DefaultValueFactory = _ => CircuitTable.UsualKvs };
        var csv = new Option<string?>("--csv") { Description = "write the table there for spreadsheets", HelpName = "F" };
        var page = new Option<string?>("--html") { Description = "write the table there for printing, one HTML file", HelpName = "F" };
        var command = new Command("balance", "Show the circuits of every loop: length, design flow, port, setting, found, and what to turn next (proportional method: the circuit with the smallest share stays open). "
            + "Exit code 0, 1 a found flow is over 10 % off its design, 2 not understood.") { found, set, kvs, csv, page };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            if (parsed.GetValue(kvs) is not (>= 0.1 and <= 10) and var odd)
                return Refusal.Say("balance", string.Create(CultureInfo.InvariantCulture, $"--kvs {odd}: error: out of range; allowed: 0.1 to 10 m³/h"));
            var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, isVirtual: false));
            foreach (var problem in book.Problems)
                Console.Error.WriteLine(problem);
            if (Enter(files.House, book, parsed.GetValue(kvs), parsed.GetValue(found) ?? [], parsed.GetValue(set) ?? []) is { } wrong)
                return Refusal.Say("balance", wrong);
            var tables = CircuitTable.All(files.House, book, parsed.GetValue(kvs));
            foreach (var line in tables.SelectMany(table => BalancePages.Lines(table, files.House.Units)))
                Console.Out.WriteLine(line);
            Write(parsed.GetValue(csv), to => BalancePages.Csv(to, tables));
            Write(parsed.GetValue(page), to => BalancePages.Html(to, files.House, tables));
            return tables.SelectMany(table => table.Lines).Any(line => Math.Abs(line.Next.Ratio - 1) > Balancing.Tolerance) ? 1 : 0;
        });
        return command;
    }

    /// <summary>Keeps what was found; what is wrong with it, or null.</summary>
    private static string? Enter(Sequence.House house, CheckoutBook book, double kvs, string[] found, string[] set)
    {
        var lines = CircuitTable.All(house, book, kvs).SelectMany(table => table.Lines).ToDictionary(line => line.Name, StringComparer.Ordinal);
        Dictionary<string, double> stands = new(StringComparer.Ordinal);
        foreach (var text in set)
        {
            if (Read(text, Quantity.Percent, lines, house.Units, out var name, out var percent) is { } wrong)
                return $"--set {wrong}";
            stands[name] = percent / 100 * lines[name].Circuit.Kvs;
        }
        List<CheckEntry> entries = [];
        foreach (var text in found)
        {
            if (Read(text, Quantity.Flow, lines, house.Units, out var name, out var flow) is { } wrong)
                return $"--found {wrong}";
            if (!(flow is > 0 and < 100))
                return $"--found {text}: a flow over 0 and under 100 l/min";
            entries.Add(CircuitTable.Entry(lines[name], flow, stands.GetValueOrDefault(name, double.NaN), Environment.UserName, TimeProvider.System.GetUtcNow().UtcDateTime));
        }
        foreach (var entry in entries)
            book.Add(entry);
        return null;
    }

    private static string? Read(string text, Quantity quantity, Dictionary<string, CircuitLine> lines, UnitSystem units, out string name, out double value)
    {
        value = double.NaN;
        var at = text.IndexOf('=', StringComparison.Ordinal);
        name = at < 0 ? text : text[..at].Trim();
        if (at < 0 || !lines.ContainsKey(name))
            return $"{text}: which circuit? allowed: {string.Join(", ", lines.Keys)}, then = and a number";
        return QuantityText.TryRead(text[(at + 1)..], quantity, units, out value, out var why) ? null : $"{text}: {why}";
    }

    private static void Write(string? path, Action<TextWriter> write)
    {
        if (path is null)
            return;
        using var file = new StreamWriter(path, false, new UTF8Encoding(false));
        write(file);
        Console.Out.WriteLine($"written: {Path.GetFullPath(path)}");
    }

    private static bool Ask(string question)
    {
        Console.Out.Write(question + " ");
        return Console.In.ReadLine() is { } answer && !answer.Trim().StartsWith("n", StringComparison.OrdinalIgnoreCase);
    }
}
