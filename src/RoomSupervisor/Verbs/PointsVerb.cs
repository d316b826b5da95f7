// points: every point of a site as it is now, from the run that controls it, or read once from the devices where nobody does. Changes nothing, touches no output.
using System.Buffers;
using System.CommandLine;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class PointsVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var only = new Option<string?>("--only") { Description = "a room, a loop, or the beginning of ids; several with commas: weaving-room,ceiling-loop.pump", HelpName = "WHAT" };
        var all = new Option<bool>("--all") { Description = "points that are not wired, too" };
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var once = new Option<bool>("--once") { Description = "once, in a terminal too" };
        var command = new Command("points", "Show every point: value, quality and why, raw value, age, latency; of outputs what is written, by which reason, and hands on them. "
            + "In a terminal every second until q. Where no controller runs, each sensor is read once and no output touched. Exit code 0, 2 when nobody could be asked.") { only, all, json, once };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!run.TryFind(parsed, out var client, out var directory))
                return 2;
            using (client)
            {
                Func<JsonDocument?> ask = client is null
                    ? () => ReadOnce(directory, parsed.GetValue(only), parsed.GetValue(all))
                    : () => client.Ask("points", parsed.GetValue(all), parsed.GetValue(only) is { } what ? [("only", what)] : []);
                return Show(ask, isLive: client is not null && !parsed.GetValue(json) && !parsed.GetValue(once) && LiveScreen.IsThere, parsed.GetValue(json));
            }
        });
        return command;
    }

    private static int Show(Func<JsonDocument?> ask, bool isLive, bool asJson)
    {
        try
        {
            if (isLive)
                return LiveScreen.Run(ask!, PointLines.Of);
            using var answer = ask();
            return answer is null ? 2 : ExplainPlace.Print(answer, asJson, PointLines.Of);
        }
        catch (Exception e) when (e is ControlException or ControlLostException)
        {
            return Refusal.Say("points", e.Message);
        }
    }

    /// <summary>The same answer from a site that nobody runs; null with messages on standard error.</summary>
    private static JsonDocument? ReadOnce(string directory, string? only, bool all)
        => SiteReadOnce.Take(directory, "points", (_, parts) => SiteReadOnce.Document(json => new PointsRequest(parts).Answer(SiteReadOnce.Request(only, all), default, json)));
}

/// <summary>A site that nobody runs, read once.</summary>
internal static class SiteReadOnce
{
    /// <summary>Reads its sensors and makes an answer of them; null with messages on standard error. No controller starts on the buses meanwhile.</summary>
    public static JsonDocument? Take(string directory, string verb, Func<SiteFiles, ControlParts, JsonDocument> answer)
    {
        if (SiteArgument.Read(directory) is not { } files)
            return null;
        if (!InstanceLock.TryTakeToRead(directory, out var instance, out var why))
        {
            Console.Error.WriteLine($"{verb}: {(InstanceLock.IsAnotherRun(why) ? HandRun.Elsewhere(directory) : why)}");
            return null;
        }
        using (instance)
        {
            if (OneReading.TryTake(files, TimeProvider.System, null, out var parts, out var problems))
                return answer(files, parts!);
            foreach (var problem in problems)
                Console.Error.WriteLine(problem);
            return null;
        }
    }

    public static JsonElement Request(string? only, bool all)
        => Document(json =>
        {
            if (only is not null)
                json.WriteString("only", only);
            json.WriteBoolean("all", all);
        }).RootElement;

    public static JsonDocument Document(Action<Utf8JsonWriter> write)
    {
        var text = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(text, new JsonWriterOptions { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }
        return JsonDocument.Parse(Encoding.UTF8.GetString(text.WrittenSpan));
    }
}
