// status and watch: what needs a hand first, what is in hand, how each room is, what changed last; once, live, or as eight lines at a login. Changes nothing;
// a login must never wait for it longer than a few seconds.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;

namespace RoomSupervisor.Verbs;

internal static class StatusVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var log = ExplainPlace.LogOption();
        var banner = new Option<bool>("--banner") { Description = "in eight lines, for a login: waits a few seconds at most and always ends with exit code 0" };
        var wait = new Option<int>("--wait") { Description = "with --banner: seconds it waits at most, 1 to 60", DefaultValueFactory = _ => 3, HelpName = "N" };
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var command = new Command("status", "Show what needs a hand first and since when, values in hand and their end, every room with its verdict, what changed last, bytes written a day. "
            + "Where no controller answers: from its memory, trends and history, and it says how old they are. Exit code 0, 1 when an alarm or something urgent stands, 2 when nothing is known.") { log, banner, wait, json };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(banner))
                return Banner(() => Take(parsed, run, log), Math.Clamp(parsed.GetValue(wait), 1, 60));
            using var answer = Take(parsed, run, log);
            if (answer is null)
                return 2;
            ExplainPlace.Print(answer, parsed.GetValue(json), StatusLines.Of);
            return answer.RootElement.GetProperty("open").EnumerateArray().Any(one => one.GetProperty("stands").GetBoolean() && PointLines.Text(one, "priority") is "alarm" or "urgent") ? 1 : 0;
        });
        return command;
    }

    public static Command CreateWatch()
    {
        var run = new RunOptions();
        var command = new Command("watch", "Show status live, every second until q. Needs a controller that answers. Exit code 0, 2 when none does.");
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!run.TryFind(parsed, out var client, out var directory))
                return 2;
            using (client)
            {
                if (client is null)
                    return Refusal.Say("watch", $"no controller answers for {directory}: status tells what it left behind");
                try
                {
                    if (LiveScreen.IsThere)
                        return LiveScreen.Run(() => client.Ask("status"), StatusLines.Of);
                    using var answer = client.Ask("status");
                    return ExplainPlace.Print(answer, false, StatusLines.Of);
                }
                catch (Exception e) when (e is ControlException or ControlLostException)
                {
                    return Refusal.Say("watch", e.Message);
                }
            }
        });
        return command;
    }

    private static JsonDocument? Take(ParseResult parsed, RunOptions run, Option<string?> log)
    {
        using var place = ExplainPlace.Find(parsed, run, log);
        try
        {
            if (place?.Client is { } client)
                return client.Ask("status");
            return place?.OnDisk is { } left ? SiteReadOnce.Document(json => WhyJson.Write(left.Status(), json)) : null;
        }
        catch (Exception e) when (e is ControlException or ControlLostException)
        {
            Console.Error.WriteLine($"status: {e.Message}");
            return null;
        }
    }

    /// <summary>On a thread of its own: a controller or a disk that hangs must not keep anybody from logging in.</summary>
    private static int Banner(Func<JsonDocument?> take, int waitS)
    {
        IReadOnlyList<string>? lines = null;
        var thread = new Thread(() =>
        {
            try
            {
                using var answer = take();
                Volatile.Write(ref lines, answer is null ? ["room-supervisor: nothing is known; room-supervisor status says why"] : StatusLines.Banner(answer.RootElement));
            }
#pragma warning disable CA1031 // Whatever goes wrong, a login goes on.
            catch (Exception e)
#pragma warning restore CA1031
            {
                Volatile.Write(ref lines, [$"room-supervisor: {e.Message.Split('\n')[0]}"]);
            }
        })
        { IsBackground = true, Name = "banner" };
        thread.Start();
        thread.Join(TimeSpan.FromSeconds(waitS));
        foreach (var line in Volatile.Read(ref lines) ?? [$"room-supervisor: no answer within {waitS} s: the controller, or its disk, hangs; room-supervisor status"])
            Console.Out.WriteLine(line);
        return 0;
    }
}
