// log: the controller's log for people, cut down to a room, a time, a priority; in the site's own time. A running controller is asked to write what it still holds first. Reads only.
using System.CommandLine;
using System.Globalization;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class LogVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var room = new Option<string?>("--room") { Description = "only lines on this room, loop, source or device, or on points that begin so", HelpName = "X" };
        var since = new Option<string>("--since") { Description = "how far back: 30min, 2h, 7d; counted from the newest line", DefaultValueFactory = _ => "24h" };
        var priority = new Option<string?>("--priority") { Description = "note, warning, alarm or urgent, and what is worse", HelpName = "WORD" };
        var status = new Option<bool>("--status") { Description = "with the status lines of every minute" };
        var log = ExplainPlace.LogOption();
        var command = new Command("log", "Show the log, oldest line first. Exit code 0, 1 when no line fits, 2 when there is no log.") { room, since, priority, status, log };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            var word = parsed.GetValue(priority);
            var least = word is null ? Priority.Note : Enum.GetValues<Priority>().Cast<Priority?>().FirstOrDefault(one => Names.Of(one!.Value) == word);
            if (least is null)
                return Fail($"--priority {word}: note, warning, alarm or urgent");
            if (!TimeWords.TrySpan(parsed.GetValue(since)!, out var span))
                return Fail($"--since {parsed.GetValue(since)}: not understood; a number with min, h, d or w, for example 2h");
            using var place = ExplainPlace.Find(parsed, run, log);
            if (place is null)
                return 2;
            try
            {
                place.Spill();
            }
            catch (Exception e) when (e is ControlException or ControlLostException)
            {
                Console.Error.WriteLine($"log: the controller could not be asked to write what it holds: {e.Message}");
            }
            var wish = new LogWish(parsed.GetValue(room), span, least.Value) { WithStatus = parsed.GetValue(status) };
            return Show(place, wish);
        });
        return command;
    }

    private static int Show(ExplainPlace place, LogWish wish)
    {
        if (!LogReader.TryRead(place.Logs, wish, out var lines, out var why))
            return Fail(why);
        var zone = place.Files?.Site.TimeZone ?? TimeZoneInfo.Utc;
        foreach (var line in lines)
        {
            var local = TimeZoneInfo.ConvertTimeFromUtc(line.Utc, zone).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
            Console.Out.WriteLine($"{local} {(line.Priority == Priority.Note ? "" : Names.Of(line.Priority).ToUpperInvariant() + " ")}{line.Text}");
        }
        if (lines.Count > 0)
            return 0;
        Console.Error.WriteLine("log: no line fits" + (wish.Place is { } named && place.Files is { } files ? Meant(named, files) : ""));
        return 1;
    }

    private static string Meant(string named, SiteFiles files)
    {
        var house = files.House;
        var names = house.Rooms.Select(room => room.Id).Concat(house.Loops.Select(loop => loop.Id)).Concat(house.Sources.Select(source => source.Id)).Concat(files.Devices.Select(device => device.Name)).ToList();
        return names.Contains(named.Split('.')[0]) ? "" : Nearest.To(named, names) is { } near ? $"; there is no {named}: did you mean {near}?" : $"; there is no {named}, there is: {string.Join(", ", names)}";
    }

    private static int Fail(string why) => Refusal.Say("log", why);
}
