// care: hours, starts and strokes of the house's parts, what care is due, and saying that it was done. Touches no device; what was not named goes on counting.
using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using static RoomSupervisor.Verbs.PointLines;

namespace RoomSupervisor.Verbs;

internal static class CareVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var log = ExplainPlace.LogOption();
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var command = new Command("care", "Show running hours, starts and strokes of fans, filters, coils, pumps, sources and valves, what care is due, and who last did it. "
            + "Where no controller runs: as it was last kept. Exit code 0, 1 when care is due, 2 nothing is known.") { log, json };
        run.AddTo(command);
        command.Subcommands.Add(CreateDone());
        command.SetAction(parsed =>
        {
            using var place = ExplainPlace.Find(parsed, run, log);
            using var answer = place is null ? null : Take(place);
            if (answer is null)
                return 2;
            ExplainPlace.Print(answer, parsed.GetValue(json), Lines);
            return answer.RootElement.GetProperty("parts").EnumerateArray().Any(part => Text(part, "due").Length > 0) ? 1 : 0;
        });
        return command;
    }

    private static Command CreateDone()
    {
        var run = new RunOptions();
        var what = new Argument<string>("WHAT") { Description = "filter (cleaned or changed), coil (with tray, drain and trap), or fan, pump, source, valve (another one was built in)" };
        var part = new Argument<string>("PART") { Description = "a room (all of its filters, say), or one coil, pump, valve or source as care shows it" };
        var by = new Option<string?>("--by") { Description = "who did it, where that is not who is logged in", HelpName = "NAME" };
        var command = new Command("done", "Say that care was given: it is counted anew, its reminder ends, and who said so and when is kept. Exit code 0 done, 2 refused.") { what, part, by };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed => Done(parsed, run, (parsed.GetValue(what)!, parsed.GetValue(part)!, parsed.GetValue(by) ?? "")));
        return command;
    }

    private static int Done(ParseResult parsed, RunOptions run, (string What, string Part, string By) said)
    {
        using var place = ExplainPlace.Find(parsed, run, null);
        if (place is null)
            return 2;
        try
        {
            if (place.Client is { } client)
            {
                using var answer = client.Ask("care", said.By.Length > 0 ? [("what", said.What), ("part", said.Part), ("by", said.By)] : [("what", said.What), ("part", said.Part)]);
                foreach (var done in answer.RootElement.GetProperty("done").EnumerateArray().Take(answer.RootElement.GetProperty("seen_to").GetInt32()))
                    Console.Out.WriteLine($"{Text(done, "part")}: {Text(done, "what")} seen to after {Hours(done)}, {Text(done, "local")}, by {Text(done, "who")}");
                return 0;
            }
            if (place.Files is not { } files)
                return 2;
            if (!InstanceLock.TryTake(place.Directory, out var instance, out var why))
                return Fail(InstanceLock.IsAnotherRun(why) ? HandRun.Elsewhere(place.Directory) : why);
            using (instance)
            {
                var meant = CareWork.Meant(CarePart.Of(files.House), said.What, said.Part);
                var who = CareRecord.Clean(said.By) is { Length: > 0 } named ? $"{named}, said by {Environment.UserName}" : Environment.UserName;
                foreach (var done in CareWork.Do(place.State, meant, who, TimeProvider.System.GetUtcNow().UtcDateTime))
                    Console.Out.WriteLine($"{done.Id}: {CarePart.Word(done.Kind)} seen to after {CareLimits.Hours(done.RunS)}, by {done.Who}; no controller runs, the next start counts from here");
                return 0;
            }
        }
        catch (Exception e) when (e is ControlException or ControlLostException or IOException or UnauthorizedAccessException)
        {
            return Fail(e.Message);
        }
    }

    private static JsonDocument? Take(ExplainPlace place)
    {
        try
        {
            if (place.Client is { } client)
                return client.Ask("care");
        }
        catch (Exception e) when (e is ControlException or ControlLostException)
        {
            Fail(e.Message);
            return null;
        }
        if (place.OnDisk is not { } left || place.Files is not { } files)
            return null;
        if (place.State.LoadCare() is not { } kept)
        {
            Fail($"nothing was counted yet in {place.State.Path}: a controller keeps it an hour after its first start, and when it is stopped");
            return null;
        }
        return SiteReadOnce.Document(json => CareWork.Write(CarePart.Of(files.House), CareRecord.Parse(kept), left.CareLimits, files.Site.TimeZone, json));
    }

    private static IReadOnlyList<string> Lines(JsonElement answer)
    {
        var parts = answer.GetProperty("parts").EnumerateArray().ToList();
        var width = parts.Select(part => Text(part, "part").Length).DefaultIfEmpty(0).Max();
        List<string> lines = [.. parts.Where(part => Text(part, "due").Length > 0).Select(part => $"due: {Text(part, "due")}")];
        if (lines.Count == 0)
            lines.Add("no care is due");
        lines.Add("");
        foreach (var part in parts)
        {
            var done = Text(part, "done") is { Length: > 0 } when ? $"  last seen to {when}" : "";
            lines.Add($"{Text(part, "what"),-7} {Text(part, "part").PadRight(width)}  {Figures(part)}{done}");
        }
        return lines;
    }

    private static string Figures(JsonElement part) => Text(part, "what") switch
    {
        "valve" => string.Create(CultureInfo.InvariantCulture, $"{part.GetProperty("strokes").GetDouble(),9:#,0} strokes"),
        "filter" => $"{Hours(part),11} since it was seen to",
        "coil" => $"{Hours(part),11} wet since it was cleaned",
        _ => string.Create(CultureInfo.InvariantCulture, $"{Hours(part),11}, {part.GetProperty("starts").GetDouble():#,0} starts"),
    };

    private static string Hours(JsonElement part) => CareLimits.Hours(part.GetProperty("run_s").GetDouble());

    private static int Fail(string why) => Refusal.Say("care", why);
}
