// set: a value by hand on one output for a time, through the service, or through a run of its own while the service is stopped. It ends by itself; guard,
// protections and limits hold, and what limits it is said.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Verbs;

internal static class SetVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var point = new Argument<string>("POINT") { Description = "the output, as points shows it: weaving-room.coil.fan" };
        var value = new Argument<string?>("VALUE") { Arity = ArgumentArity.ZeroOrOne, Description = "in the point's unit or with one: 60 %, on, off, open, shut" };
        var time = new Option<string>("--for") { Description = "for how long, 1 s to 4 h: 90s, 5m, 1h; a hand value that was forgotten is gone by the evening", HelpName = "TIME", DefaultValueFactory = _ => "5m" };
        var end = new Option<bool>("--end") { Description = "end the hand value of POINT now" };
        var command = new Command("set", "Set one output by hand for a time; it ends by itself. Condensation guard, drip tray, frost, high limit, leak and a pump's need of an open valve hold; what limits it is said. "
            + "Where no controller runs, one is started in the foreground for this output alone: every other output is safe, Ctrl-C ends it. Exit code 0, 1 set but held by a protection, 2 refused.") { point, value, time, end };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            var (id, text) = (parsed.GetValue(point)!.Trim(), parsed.GetValue(value));
            if (text is null != parsed.GetValue(end))
            {
                Console.Error.WriteLine(text is null ? "set: which value? set POINT VALUE, or set POINT --end" : "set: a value and --end: one of the two");
                return 2;
            }
            return HandWords.With(run, parsed, (client, isOwn, stop) => text is null ? End(client, id, isOwn) : Set(client, id, text, parsed.GetValue(time)!, isOwn, stop));
        });
        return command;
    }

    private static int End(ControlClient client, string id, bool isOwn)
    {
        if (isOwn)
        {
            Console.Out.WriteLine($"{id}: no controller runs, so no hand value stands");
            return 0;
        }
        using var answer = client.Ask("end", ("point", id));
        var root = answer.RootElement;
        Console.Out.WriteLine(root.GetProperty("was_by_hand").GetBoolean()
            ? $"{id}: hand value ended; now {PointLines.Text(root, "shown")}: {PointLines.Text(root, "why")}"
            : $"{id}: had no hand value; {PointLines.Text(root, "shown")}: {PointLines.Text(root, "why")}");
        return 0;
    }

    private static int Set(ControlClient client, string id, string text, string time, bool isOwn, CancellationToken stop)
    {
        using var answer = client.Ask("set", ("point", id), ("value", text), ("for", time));
        var root = answer.RootElement;
        var holds = root.GetProperty("holds").GetBoolean();
        Console.Out.WriteLine($"{id}: set to {PointLines.Text(root, "wanted")} by hand for {PointLines.Duration(root.GetProperty("for_s").GetDouble())}, until {PointLines.Text(root, "until")}");
        if (!holds)
            Console.Out.WriteLine($"  held at {PointLines.Text(root, "shown")} for now: {PointLines.Text(root, "why")}; the hand value takes over as soon as that allows it");
        if (isOwn)
            return Follow(client, id, holds, stop);
        if (HandWords.NotWritten(HandWords.Point(client, id)) is { Length: > 0 } problem)
            Console.Out.WriteLine($"  not written: {problem}");
        return holds ? 0 : 1;
    }

    /// <summary>Tells every change until the hand value ends.</summary>
    private static int Follow(ControlClient client, string id, bool held, CancellationToken stop)
    {
        Console.Out.WriteLine("  Ctrl-C ends it at once");
        var told = "";
        while (!HandWords.Wait(1, stop))
        {
            using var answer = client.Ask("points");
            var points = answer.RootElement.GetProperty("points").EnumerateArray().ToList();
            var point = points.First(one => one.GetProperty("point").GetString() == id);
            held |= PointLines.Text(point, "reason") == "hand-value";
            Tell(point, ref told);
            // A second terminal may have set another output meanwhile: the run serves that too.
            if (points.All(one => !one.TryGetProperty("hand", out var hand) || hand.ValueKind == JsonValueKind.Null))
                break;
        }
        Console.Out.WriteLine($"{id}: ended{(stop.IsCancellationRequested ? " as told" : "")}; every output gets its safe value");
        return held ? 0 : 1;
    }

    private static void Tell(JsonElement point, ref string told)
    {
        var problem = HandWords.NotWritten(point);
        var isHand = PointLines.Text(point, "reason") == "hand-value";
        var line = problem.Length > 0 ? $"  not written: {problem}" : isHand ? $"  {HandWords.Now(point).Split(": ")[0]}, by hand" : $"  held at {HandWords.Now(point)}";
        // Reasons count down: a new line only when value or kind of reason changes.
        var key = problem + PointLines.Text(point, "shown") + PointLines.Text(point, "reason");
        if (key == told)
            return;
        told = key;
        Console.Out.WriteLine(line);
    }
}
