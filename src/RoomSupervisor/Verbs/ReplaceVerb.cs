// replace: a sensor, coil or pump was replaced: what belonged to the old one goes, and what must be measured again is said. Arguments and printing only.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class ReplaceVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var what = new Argument<string>("WHAT") { Description = "a sensor (weaving-room.air, or one point of it), a coil (weaving-room.coil) or a pump (ceiling-loop.pump)" };
        var who = new Option<string?>("--who") { Description = "who replaced it, for the book; without it the user's name", HelpName = "NAME" };
        var look = new Option<bool>("--look") { Description = "only say what would go" };
        var command = new Command("replace", "A sensor, coil or pump was replaced. Its old offset and lag go out of site.yaml (comments stay), what was measured of its room is forgotten, its results in the book of checkout do not count any longer; "
            + "what must be measured again is listed. Exit code 0 done, 2 refused, nothing changed.") { what, who, look };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            if (!run.TryFind(parsed, out var client, out var directory))
                return 2;
            using (client)
                return Do(directory, client, run.State(parsed), parsed.GetValue(what)!, parsed.GetValue(who) ?? Environment.UserName, parsed.GetValue(look));
        });
        return command;
    }

    private static int Do(string directory, ControlClient? client, string? state, string what, string who, bool isLook)
    {
        if (SiteArgument.Read(directory) is not { } files)
            return 2;
        if (Replacement.Of(files, what, out var why) is not { } replaced)
            return Refusal.Say("replace", why);
        var now = TimeProvider.System.GetUtcNow().UtcDateTime;
        var path = Path.Combine(directory, SiteReader.SiteFile);
        var before = File.ReadAllText(path);
        var text = replaced.Without(before, now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), out var gone);
        foreach (var line in gone)
            Console.Out.WriteLine($"out of site.yaml: {line}");
        if (!isLook)
        {
            if (!Forget(replaced, files, client, StateFolder.Of(directory, state), directory, out why))
                return Refusal.Say("replace", why);
            if (text != before)
                SafeFile.Write(path, Encoding.UTF8.GetBytes(text));
            var struck = replaced.StrikeOut(CheckoutBook.Open(CheckoutBook.PathOf(directory, false)), who, now);
            Console.Out.WriteLine($"{struck} result(s) in the book do not count any longer");
        }
        foreach (var room in replaced.Rooms)
            Console.Out.WriteLine($"{(isLook ? "would be forgotten" : "forgotten")}: what was measured of {room}");
        Console.Out.WriteLine($"\nTo be measured again ({replaced.Words} {replaced.What}): room-supervisor checkout{(replaced.Again.Count > 0 ? "" : ": nothing")}");
        foreach (var step in replaced.Again)
            Console.Out.WriteLine($"  {step.Title}");
        foreach (var advice in replaced.Advice)
            Console.Out.WriteLine($"  look at: {advice}");
        return 0;
    }

    /// <summary>By the controller while one runs, for it would write its memory over ours; else in what it left.</summary>
    private static bool Forget(Replacement replaced, SiteFiles files, ControlClient? client, StateFolder state, string directory, out string why)
    {
        why = "";
        if (replaced.Rooms.Count == 0)
            return true;
        if (client is not null)
        {
            foreach (var room in replaced.Rooms)
            {
                try
                {
                    using var answer = client.Ask("forget", ("room", room), ("why", $"{replaced.What} was replaced"));
                }
                catch (Exception e) when (e is ControlException or ControlLostException)
                {
                    why = $"{e.Message}; nothing was changed";
                    return false;
                }
            }
            return true;
        }
        if (!InstanceLock.TryTake(directory, out var instance, out why))
        {
            why = InstanceLock.IsAnotherRun(why) ? HandRun.Elsewhere(directory) : why;
            return false;
        }
        using (instance)
        {
            var done = replaced.ForgetOnDisk(state, files.House, out why);
            if (why.Length > 0)
                Console.Out.WriteLine(why);
            return done;
        }
    }
}
