// find: moves one output three times, so that somebody in the house sees or hears which it is. Ends as it began; each stroke's hand value ends by itself soon
// after, should this program be killed. Guard and protections hold.
using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class FindVerb
{
    private const int Times = 3;

    /// <summary>How much longer than its stroke a hand value lives, s: a killed program leaves nothing behind for long.</summary>
    private const double Spare = 10;

    /// <summary>How long a protection is waited for before the first stroke, s: the guard of a cooled surface wants steady air for three minutes.</summary>
    private const double PatienceS = 300;

    public static Command Create()
    {
        var run = new RunOptions();
        var point = new Argument<string>("POINT") { Description = "the output, as points shows it: weaving-room.ceiling.valve" };
        var each = new Option<string?>("--each") { Description = "time for each position; without it what site.yaml says the actuator takes, 10 s for a fan, 5 s for a pump or relay", HelpName = "TIME" };
        var command = new Command("find", "Move one output three times (a valve its whole stroke, a fan start speed and stop, a pump or relay on and off) to see which it is. It ends as it began, Ctrl-C included. "
            + "Guard and protections hold. Where no controller runs, one is started for it; every other output is safe. Exit code 0, 1 a protection held it or it was ended early, 2 refused.") { point, each };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            var seconds = double.NaN;
            if (parsed.GetValue(each) is { } text && (!HandOutputs.TryReadTime(text, out seconds, out var why) || seconds is < 1 or > 900))
            {
                return Refusal.Say("find", $"--each \"{text}\": 1 s to 15 min, such as 90s or 4m");
            }
            return HandWords.With(run, parsed, (client, isOwn, stop) => Find(client, parsed.GetValue(point)!.Trim(), seconds, isOwn, stop));
        });
        return command;
    }

    private static int Find(ControlClient client, string id, double eachS, bool isOwn, CancellationToken stop)
    {
        using var answer = client.Ask("actuator", ("point", id));
        var actuator = answer.RootElement;
        if (PointLines.Text(actuator, "not_blinked") is { Length: > 0 } refused)
        {
            Console.Error.WriteLine($"find: {id}: {refused}: room-supervisor set {id} on --for 10m");
            return 2;
        }
        var takesS = double.IsNaN(eachS) ? actuator.GetProperty("takes_s").GetDouble() : eachS;
        var (low, high) = (PointLines.Text(actuator, "low"), PointLines.Text(actuator, "high"));
        var (first, second) = actuator.GetProperty("is_high").GetBoolean() ? (low, high) : (high, low);
        var before = HandWords.Point(client, id).GetProperty("hand").Clone();
        var since = TimeProvider.System.GetTimestamp();
        Console.Out.WriteLine($"{id}, a {PointLines.Text(actuator, "kind")}: {first} and {second}, {Times} times, {PointLines.Duration(takesS)} each");
        try
        {
            return Strokes(client, actuator, id, [first, second], takesS, stop);
        }
        finally
        {
            if (isOwn)
                Console.Out.WriteLine($"{id}: every output gets its safe value");
            else
                Restore(client, id, before, TimeProvider.System.GetElapsedTime(since).TotalSeconds);
        }
    }

    private static int Strokes(ControlClient client, JsonElement actuator, string id, string[] positions, double takesS, CancellationToken stop)
    {
        var isHeld = false;
        for (var stroke = 1; stroke <= Times; stroke++)
        {
            foreach (var position in positions)
            {
                var isFirst = stroke == 1 && position == positions[0];
                if (!Reaches(client, actuator, id, position, takesS, isFirst ? PatienceS : takesS, stop))
                {
                    isHeld = true;
                    if (isFirst)
                        return 1;
                }
                else
                {
                    var point = HandWords.Point(client, id);
                    Console.Out.WriteLine($"  {stroke} of {Times}: {HandWords.Now(point).Split(": ")[0]}");
                    if (HandWords.NotWritten(point) is { Length: > 0 } problem)
                        Console.Out.WriteLine($"  not written: {problem}");
                }
                if (HandWords.Wait(takesS, stop))
                {
                    Console.Out.WriteLine("  ended early");
                    return 1;
                }
            }
        }
        return isHeld ? 1 : 0;
    }

    /// <summary>Sets it and waits until the sequence lets it; says what holds it.</summary>
    private static bool Reaches(ControlClient client, JsonElement actuator, string id, string position, double takesS, double patienceS, CancellationToken stop)
    {
        var told = "";
        for (var waitedS = 0.0; waitedS <= patienceS; waitedS++)
        {
            using var answer = client.Ask("set", ("point", id), ("value", position), ("for", string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(takesS + Spare)} s")));
            var root = answer.RootElement;
            if (root.GetProperty("holds").GetBoolean())
                return true;
            if (told != PointLines.Text(root, "reason"))
                Console.Out.WriteLine($"  held at {PointLines.Text(root, "shown")}: {PointLines.Text(root, "why")}");
            told = PointLines.Text(root, "reason");
            if (CannotPass(told))
                break;
            if (HandWords.Wait(1, stop))
                return false;
        }
        if (actuator.GetProperty("needs").EnumerateArray().Select(one => one.GetString()).ToList() is { Count: > 0 } needs)
            Console.Out.WriteLine($"  it runs only with an open valve: first, in another terminal, room-supervisor set {needs[0]} open --for 10m{(needs.Count > 1 ? $" (or {string.Join(", ", needs.Skip(1))})" : "")}");
        return false;
    }

    /// <summary>What does not end by waiting.</summary>
    private static bool CannotPass(string reason) => reason is "no-circuit-open" or "not-in-season" or "drip-tray-full" or "high-limit" or "leak" or "supply-missing" or "air-temperature-missing";

    private static void Restore(ControlClient client, string id, JsonElement before, double passedS)
    {
        try
        {
            if (before.ValueKind == JsonValueKind.Object && before.GetProperty("remaining_s").GetDouble() - passedS is >= 1 and var left)
            {
                using var again = client.Ask("set", ("point", id), ("value", PointLines.Text(before, "shown")), ("for", string.Create(CultureInfo.InvariantCulture, $"{left:0} s")));
                Console.Out.WriteLine($"{id}: as it began: {PointLines.Text(again.RootElement, "shown")} by hand until {PointLines.Text(again.RootElement, "until")}");
                return;
            }
            using var ended = client.Ask("end", ("point", id));
            Console.Out.WriteLine($"{id}: as it began: {PointLines.Text(ended.RootElement, "shown")}: {PointLines.Text(ended.RootElement, "why")}");
        }
        catch (Exception e) when (e is ControlException or ControlLostException)
        {
            Console.Out.WriteLine($"{id}: {e.Message}; its hand value ends by itself within {Spare:0} s after the stroke");
        }
    }
}
