// setup: an installer's first verb on a fresh board: what is switched on, what answers, and a site to start from. Asks before it copies; never overwrites a site,
// sets no password, opens no port and writes no value to any device.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class SetupVerb
{
    /// <summary>Where the service looks for its site.</summary>
    private const string ServiceSite = "/etc/room-supervisor";

    private const string Examples = "/usr/share/room-supervisor/examples";

    public static Command Create()
    {
        var site = new SiteArgument();
        var from = new Option<string?>("--from") { Description = "take the files of this folder, such as a mounted stick: a site where there is none yet, else household.yaml (the answer is written back beside it)", HelpName = "PATH" };
        var root = new Option<string>("--root") { Description = "look at a board below this folder instead of this one; scans nothing", HelpName = "PATH", DefaultValueFactory = _ => "/" };
        var command = new Command("setup", "See what a fresh board has switched on (with the line to add where something is off), what answers on its buses, and get a site to start from: from a stick, from questions, "
            + "or from an example. Without DIR: " + ServiceSite + ", where the service looks. Exit code 0 there is a sound site, 1 something is left to do, 2 something was refused.") { from, root };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!site.TryNamed(parsed, out var named))
                return 2;
            var (directory, board) = (named ?? ServiceSite, parsed.GetRequiredValue(root));
            var look = new BoardLook(board);
            Interfaces(look);
            if (board == "/")
                Scan(look, directory);
            return Files(directory, parsed.GetValue(from), look);
        });
        return command;
    }

    private static void Interfaces(BoardLook look)
    {
        Console.Out.WriteLine("Board");
        foreach (var one in look.All())
            Console.Out.WriteLine($"  {one.Name,-11} {(one.Found.Count > 0 ? string.Join(", ", one.Found) : "off")}{(one.ToDo.Length > 0 ? $"\n{"",14}if wanted: {one.ToDo}" : "")}");
    }

    /// <summary>Who answers on the buses. While a controller runs it owns them: then <c>devices</c> is asked instead.</summary>
    private static void Scan(BoardLook look, string directory)
    {
        Console.Out.WriteLine("\nDevices");
        InstanceLock? taken = null;
        if (Directory.Exists(directory) && !InstanceLock.TryTakeToRead(directory, out taken, out var why))
        {
            Console.Out.WriteLine($"  not looked for: {why}; ask it: room-supervisor devices {directory}");
            return;
        }
        using (taken)
        {
            var buses = look.WireBus().Found.Select(path => BusScan.WireBus(path, [], Buses.Real.I2c)).ToList();
            if (BusScan.OneWire(BusScan.OneWireDirectory, []) is { } chips)
                buses.Add(chips);
            foreach (var bus in buses)
            {
                Console.Out.WriteLine($"  {bus.Name}: {(bus.Problem.Length > 0 ? $"{bus.Problem}; {bus.Advice}" : bus.Found.Count == 0 ? "nobody answers" : "")}");
                foreach (var one in bus.Found)
                    Console.Out.WriteLine($"    {one.Place}{(one.MayBe.Count > 0 ? "  may be: " + string.Join(", ", one.MayBe) : "")}");
            }
            if (buses.Count == 0)
                Console.Out.WriteLine("  no bus to look at; Modbus devices are found once their addresses stand in site.yaml: room-supervisor devices");
        }
    }

    private static int Files(string directory, string? from, BoardLook look)
    {
        Console.Out.WriteLine("\nSite");
        var hasSite = File.Exists(Path.Combine(directory, SiteReader.SiteFile));
        if (from is null && look.Sticks() is [var stick, ..] && Agrees($"  {stick} has files of a house. {(hasSite ? "Take its household.yaml" : "Take them")}?"))
            from = stick;
        if (from is not null)
        {
            using var pause = new ManualResetEventSlim();
            var outcome = hasSite ? StickFiles.TakeHousehold(from, directory, seconds => !pause.Wait(TimeSpan.FromSeconds(seconds))) : StickFiles.TakeSite(from, directory, Drivers.All);
            foreach (var line in outcome.Lines)
                Console.Out.WriteLine("  " + line);
            if (!outcome.IsTaken && !hasSite)
                return 2;
            hasSite = true;
        }
        if (!hasSite)
        {
            Console.Out.WriteLine($"  none in {directory} yet. From a stick: room-supervisor setup --from /media/STICK; from a few questions: room-supervisor new {directory};\n"
                + $"  from an example: room-supervisor new {directory} --like {Examples}/one-room (others: {Examples})");
            return 1;
        }
        var read = SiteReader.Read(directory, Drivers.All);
        Console.Out.WriteLine(read.Files is null ? $"  {directory} has errors: room-supervisor check {directory}" : $"  {read.Files.Site.Name}: sound. Watch it first: room-supervisor run {directory} --observe. Then: systemctl restart room-supervisor");
        return read.Files is null ? 1 : 0;
    }

    /// <summary>Yes only from a person at a terminal.</summary>
    private static bool Agrees(string question)
    {
        if (Console.IsInputRedirected)
            return false;
        Console.Out.Write(question + " [y/N] ");
        return Console.In.ReadLine()?.Trim() is "y" or "Y" or "yes";
    }
}
