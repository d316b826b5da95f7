// replay: plays a recorded trace again, checks that the same is decided bit for bit, and shows what other settings would have decided. Touches no device, needs no controller.
using System.CommandLine;
using System.Text;
using RoomSupervisor.Desk.Replay;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class ReplayVerb
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "a trace: trace/DATE.trace.gz beside the log of a run --record, or what rehearse --trace wrote" };
        var set = new Option<string[]>("--set") { Description = "a household setting to try, several times if wanted: weaving-room.fan_at_most=50%", HelpName = "ROOM.KEY=VALUE", AllowMultipleArgumentsPerToken = false };
        var site = new Option<string?>("--site") { Description = "the site, for a trace that has no head (a rehearsal's)", HelpName = "DIR" };
        var svg = new Option<string?>("--svg") { Description = "write a picture of what would have been otherwise", HelpName = "FILE" };
        var command = new Command("replay", "Play a trace again, as fast as the machine can. Without --set: whether everything is decided as recorded, bit for bit on the same kind of processor and version. "
            + "With --set: what would have been decided otherwise, with the air as it was recorded. Exit code 0 equal or tried, 1 not equal where it must be, 2 it cannot be played.") { file, set, site, svg };
        command.SetAction(parsed => Play(parsed.GetValue(file)!, parsed.GetValue(set) ?? [], parsed.GetValue(site), parsed.GetValue(svg)));
        return command;
    }

    private static int Play(string path, string[] set, string? site, string? svg)
    {
        List<(string, string)> settings = [];
        foreach (var one in set)
        {
            var at = one.IndexOf('=', StringComparison.Ordinal);
            if (at <= 0)
                return Fail($"--set {one}: write ROOM.KEY=VALUE, for example weaving-room.fan_at_most=50%");
            settings.Add((one[..at].Trim(), one[(at + 1)..].Trim()));
        }
        var files = site is null ? null : SiteArgument.Read(site);
        if (site is not null && files is null)
            return 2;
        var measures = new ReplayMeasures();
        var units = UnitSystem.Metric;
        try
        {
            var outcome = TraceReplay.Play(path, new ReplayPlan
            {
                Settings = settings,
                Site = files,
                Watch = settings.Count == 0 ? null : (time, house, was, would) =>
                {
                    units = house.Units;
                    measures.Take(time, house, was, would);
                },
            });
            foreach (var line in ReplayReport.Check(outcome))
                Console.Out.WriteLine(line);
            if (settings.Count > 0)
                Tried(outcome, measures, units, string.Join(", ", set), svg);
            return outcome.MustBeEqual && outcome.Differing > 0 ? 1 : 0;
        }
        catch (Exception e) when (e is TraceException or IOException or UnauthorizedAccessException)
        {
            return Fail(e is TraceException ? $"{path}: {e.Message}" : e.Message);
        }
    }

    private static void Tried(ReplayOutcome outcome, ReplayMeasures measures, UnitSystem units, string settings, string? svg)
    {
        measures.Finish();
        foreach (var line in ReplayReport.Tried(outcome, measures, units))
            Console.Out.WriteLine(line);
        if (svg is null)
            return;
        File.WriteAllText(svg, ReplayPicture.Draw(outcome, measures, settings), new UTF8Encoding(false));
        Console.Out.WriteLine($"picture: {Path.GetFullPath(svg)}");
    }

    private static int Fail(string why) => Refusal.Say("replay", why);
}
