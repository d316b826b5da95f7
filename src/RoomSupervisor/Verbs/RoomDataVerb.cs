// room-data: what the controller has measured of its rooms, how sure, since when and whether control goes by it, with the last pull-down as foreseen and as it came. Reads the saved memory only.
using System.CommandLine;
using RoomSupervisor.Desk.RoomData;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Verbs;

internal static class RoomDataVerb
{
    public static Command Create()
    {
        var room = new Argument<string?>("ROOM") { Arity = ArgumentArity.ZeroOrOne, Description = "a room; without it all of them" };
        var site = new SiteArgument();
        var state = HistoryVerb.StateOption();
        var svg = new Option<string?>("--svg") { Description = "write the last pull-down of the room as a picture that stands alone", HelpName = "FILE" };
        var plain = new Option<bool>("--plain") { Description = "plain letters only" };
        var command = new Command("room-data", "Show what the controller has measured of its rooms: coil, air, lag of the sensor, loss; how sure, since when, and whether control goes by it. A running controller saves it every five minutes. Exit code 0, 2 when there is nothing to show.")
        {
            room, state, svg, plain,
        };
        site.AddByNameTo(command);
        command.SetAction(parsed => site.Directory(parsed) is { } directory
            ? Show(directory, parsed.GetValue(state), parsed.GetValue(room), parsed.GetValue(svg), parsed.GetValue(plain))
            : 2);
        return command;
    }

    private static int Show(string directory, string? state, string? name, string? svg, bool plain)
    {
        if (SiteArgument.Read(directory) is not { } files)
            return 2;
        var house = files.House;
        var folder = StateFolder.Of(directory, state);
        var wanted = Enumerable.Range(0, house.Rooms.Length).Where(i => name is null || house.Rooms[i].Id == name).ToArray();
        if (wanted.Length == 0)
            return Fail($"there is no room {name}; there is: {string.Join(", ", house.Rooms.Select(one => one.Id))}");
        if (svg is not null && wanted.Length > 1)
            return Fail("--svg: a picture is of one room; name it before --svg");
        if (MemoryKeeper.Kept(folder) is not { } kept)
            return Fail($"{folder.Path}: no saved memory; the controller saves it every five minutes while it runs (another place: --state DIR)");
        if (MemoryFile.RoomData(kept.Bytes) is not { } saved)
            return Fail($"{folder.Path}: the saved memory is of another version of this program; it is written anew by the controller that runs");
        var ageS = (TimeProvider.System.GetUtcNow().UtcDateTime - kept.Utc).TotalSeconds;
        foreach (var i in wanted)
        {
            var at = saved.Rooms.ToList().IndexOf(house.Rooms[i].Id);
            var data = at < 0 ? default : saved.Data[at];
            if (svg is not null)
                return Draw(house, i, data, svg);
            RoomDataReport.Write(Console.Out, house, i, data, Math.Max(0, ageS), plain);
        }
        return 0;
    }

    private static int Draw(House house, int room, in RoomDataMemory data, string svg)
    {
        if (RoomDataPicture.Draw(house, room, data) is not { } picture)
            return Fail($"{house.Rooms[room].Id}: no pull-down has been foreseen yet, so there is nothing to draw");
        File.WriteAllText(svg, picture);
        Console.Out.WriteLine($"picture: {Path.GetFullPath(svg)}");
        return 0;
    }

    private static int Fail(string why) => Refusal.Say("room-data", why);
}
