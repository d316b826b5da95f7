// why: the whole chain behind a room, a loop or the source, with a verdict; now from the run, or for a time before from the trends. Changes nothing.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;
using static RoomSupervisor.Verbs.PointLines;

namespace RoomSupervisor.Verbs;

internal static class WhyVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var what = new Argument<string?>("WHAT") { Arity = ArgumentArity.ZeroOrOne, Description = "a room, a loop or a source; without it every room, the one that is shortest first" };
        var at = new Option<string?>("--at") { Description = "a time before, local time of the site: 14:30, 2026-07-14T14:30; from the trends", HelpName = "TIME" };
        var log = ExplainPlace.LogOption();
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var command = new Command("why", "Explain a room, a loop or a source: which limit binds, which would next, since when, what changing it would cost, and a verdict: "
            + "setting, capacity, water, source, sensor, opening, waiting, protection or content. Where no controller answers: from its trends, and it says how old they are. Exit code 0, 2 when nothing is known.") { what, at, log, json };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            using var place = ExplainPlace.Find(parsed, run, log);
            if (place is null)
                return 2;
            try
            {
                using var answer = Ask(place, parsed.GetValue(what), parsed.GetValue(at));
                return answer is null ? 2 : ExplainPlace.Print(answer, parsed.GetValue(json), WhyLines.Of);
            }
            catch (Exception e) when (e is ControlException or ControlLostException)
            {
                return Refusal.Say("why", e.Message);
            }
        });
        return command;
    }

    private static JsonDocument? Ask(ExplainPlace place, string? what, string? at)
    {
        if (place.Client is { } client && at is null)
            return client.Ask("why", what is null ? [] : [("place", what)]);
        place.Spill();
        if (place.OnDisk is not { } left)
            return null;
        DateTime? wanted = null;
        if (at is not null)
        {
            if (!TimeWords.TryMoment(at, place.Files!.Site.TimeZone, TimeProvider.System.GetUtcNow().UtcDateTime, out var utc))
                throw new ControlException($"--at {at}: not understood; 14:30 or 2026-07-14T14:30, local time of the site");
            wanted = utc;
        }
        using var reader = TrendReader.Open(left.Trends, out var why);
        var moment = reader is null ? null : left.At(reader, wanted, out why);
        if (moment is null)
            throw new ControlException($"{(place.Client is null ? "no controller answers, and " : "")}{left.Trends}: {why}");
        var from = place.Client is null ? $"no controller answers: from the {moment.From}" : moment.From;
        return SiteReadOnce.Document(json => WhyJson.Write(moment with { From = from }, Why.Of(moment, what), json));
    }
}

/// <summary>The answer as lines for people.</summary>
internal static class WhyLines
{
    public static IReadOnlyList<string> Of(JsonElement answer)
    {
        List<string> lines = [$"{Text(answer, "site")}, {Text(answer, "local")}: {Text(answer, "from")}"];
        if (answer.TryGetProperty("unknown", out var unknown))
            lines.Add($"({unknown.GetString()})");
        foreach (var one in answer.GetProperty("answers").EnumerateArray())
        {
            lines.Add("");
            lines.Add($"{Text(one, "place")}: {Text(one, "verdict").ToUpperInvariant()}: {Text(one, "text")}");
            foreach (var link in one.GetProperty("chain").EnumerateArray())
            {
                var since = Text(link, "since") is { Length: > 0 } time ? $" [{time}]" : "";
                lines.Add($"  {Text(link, "place")}: {Text(link, "text")}{since}");
                if (Text(link, "price") is { Length: > 0 } price)
                    lines.Add($"      price: {price}");
            }
        }
        return lines;
    }
}
