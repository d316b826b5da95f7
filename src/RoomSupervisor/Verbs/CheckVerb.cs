// check: what is wrong with a site's files, and what was understood of them. Starts nothing and writes nothing.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class CheckVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var all = new Option<bool>("--all") { Description = "list the values that nobody wrote too" };
        var command = new Command("check", "Check a site's two files before they count: errors and warnings with line and column, then what was understood. "
            + "Touches no device. Exit code 0 clean, 1 warnings, 2 errors.") { all };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            var result = SiteStart.Read(directory, StartVerb.Check, Drivers.All, TimeProvider.System);
            foreach (var problem in result.Problems)
                Console.Out.WriteLine(problem);
            var errors = result.Problems.Count(problem => problem.Severity == Severity.Error);
            if (result.Files is null)
            {
                var otherwise = result.SiteRow.Use == StartUse.Nothing ? "Nothing would start" : "A controller would go on with what held before in their place";
                Console.Out.WriteLine($"{directory}: {errors} error(s). {otherwise}.");
                return 2;
            }
            Understood(result.Files, parsed.GetValue(all));
            Console.Out.WriteLine(result.Problems.Count == 0 ? $"{directory}: clean." : $"{directory}: {result.Problems.Count} warning(s).");
            return result.Problems.Count == 0 ? 0 : 1;
        });
        return command;
    }

    private static void Understood(SiteFiles files, bool all)
    {
        var house = files.House;
        Console.Out.WriteLine($"{files.Site.Name}: {house.Rooms.Length} room(s), {house.Loops.Length} loop(s), {files.Devices.Count} device(s), {files.Wiring.Count} point(s) wired");
        foreach (var room in house.Rooms)
            Console.Out.WriteLine($"  room {room.Settings.Number} {room.Id}: coil {house.Coils[room.Coil].Id} on {house.Loops[house.Coils[room.Coil].Loop].Id}, {house.Circuits[room.Circuit].Id} on {house.Loops[house.Circuits[room.Circuit].Loop].Id}");
        foreach (var wire in files.Wiring)
            Console.Out.WriteLine($"  {(wire.IsOutput ? "output" : "input "),-6} {wire.PointId,-40} {wire.Device}.{wire.Channel}{(wire.Inverted ? ", inverted" : "")}");
        // Points and channels stand above already, one wire a line.
        static bool IsWire(EffectiveValue value) => value.Path.Contains(".points.", StringComparison.Ordinal) || value.Path.StartsWith("devices.", StringComparison.Ordinal);
        foreach (var value in files.Effective.Where(value => all || (!value.IsDefault && !IsWire(value))))
            Console.Out.WriteLine($"  {value.Path,-52} {value.Shown}{(value.IsDefault ? " (default)" : "")}");
        if (!all)
            Console.Out.WriteLine($"  and {files.Effective.Count(value => value.IsDefault)} values by default (--all lists them)");
    }
}
