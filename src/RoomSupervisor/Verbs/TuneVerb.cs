// tune: a step or relay test of a loop's mixing valve or of a room with its coil, on a running controller or in the virtual house; model, proposal, pictures. Writes site.yaml only where told to.
using System.CommandLine;
using System.Text;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class TuneVerb
{
    private sealed record Wish(string What, bool Relay, string? Page, bool Write, double PatienceS);

    public static Command Create()
    {
        var run = new RunOptions();
        var what = new Argument<string>("WHAT") { Description = "a loop with a mixing valve, or a room with a coil of its own" };
        var isVirtual = new Option<bool>("--virtual") { Description = "in the virtual house, from DIR/building.yaml and a scenario" };
        var scenario = new Option<string?>("--scenario") { Description = "of --virtual: a scenario file or a name under DIR/scenarios", HelpName = "F" };
        var trial = new Option<string?>("--trial") { Description = "of --virtual: play the proposal on these seeds too, a day each, with the old values and the new", HelpName = "A..B" };
        var relay = new Option<bool>("--relay") { Description = "a relay in the place of the control (a loop only); without it a step" };
        var page = new Option<string?>("--html") { Description = "write record, model and answer before and after there, one HTML file", HelpName = "F" };
        var write = new Option<bool>("--write") { Description = "write the proposal into site.yaml; comments stay" };
        var patience = new Option<string>("--wait") { Description = "how long to wait for a loop that runs and a plant that can be tested", HelpName = "TIME", DefaultValueFactory = _ => "10m" };
        var command = new Command("tune", "Test a loop or a room and propose its numbers. One output is moved by hand within guard rails (4 K of water, 1.5 K of air, dew point, limits, time); guard and protections hold; however it ends, the old values are back. "
            + "Exit code 0, 1 a rail or somebody ended it, 2 refused.") { what, isVirtual, scenario, trial, relay, page, write, patience };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            if (!HandOutputs.TryReadTime(parsed.GetValue(patience)!, out var patienceS, out var why))
                return Refusal.Say("tune", $"--wait {parsed.GetValue(patience)} {why}");
            var wish = new Wish(parsed.GetValue(what)!.Trim(), parsed.GetValue(relay), parsed.GetValue(page), parsed.GetValue(write), patienceS);
            return parsed.GetValue(isVirtual) ? Virtual(run, parsed, wish, parsed.GetValue(scenario), parsed.GetValue(trial)) : Live(run, parsed, wish);
        });
        return command;
    }

    private static int Live(RunOptions run, ParseResult parsed, Wish wish)
    {
        if (!run.TryFind(parsed, out var client, out var directory))
            return 2;
        if (client is null)
            return Refusal.Say("tune", $"no controller runs {directory}: a test needs rooms that want water (room-supervisor run), or --virtual");
        using (client)
        using (var ended = new StopSignals())
        {
            if (SiteArgument.Read(directory) is not { } files)
                return 2;
            try
            {
                return Test(new RunningPlant(client, ended.Token), files.House, wish, new TuneLimits { PatienceS = wish.PatienceS }, directory, _ => []);
            }
            catch (Exception e) when (e is ControlException or ControlLostException)
            {
                return Refusal.Say("tune", e.Message);
            }
        }
    }

    private static int Virtual(RunOptions run, ParseResult parsed, Wish wish, string? scenario, string? trial)
    {
        if (run.Directory(parsed) is not { } directory)
            return 2;
        if (RehearsalReader.Read(new RehearsalWish(directory) { Scenario = scenario }, out var problems) is not { } plan)
            return RehearseVerb.Refuse(problems);
        ulong first = 1, last = 0;
        if (trial is not null && RehearseVerb.Range(trial, 50, out first, out last) is { } wrong)
            return Refusal.Say("tune", wrong.Replace("--seeds", "--trial", StringComparison.Ordinal));
        using var rehearsal = new Rehearsal(plan);
        var day = new TuneLimits { PatienceS = plan.Scenario.Days * 86_400.0, EveryS = rehearsal.ScanS };
        return Test(new VirtualPlant(rehearsal), plan.Files.House, wish, day, directory, tuned =>
        {
            if (!tuned.IsLoop || tuned.Values.Count == 0 || first > last)
                return [];
            var seeds = Enumerable.Range(0, (int)(last - first) + 1).Select(i => first + (ulong)i).Where(seed => seed != plan.Seed).ToArray();
            var loop = plan.Files.House.Loops.ToList().FindIndex(one => one.Id == tuned.What);
            return TuneTrial.Lines(TuneTrial.Play(plan, Text(directory, SiteReader.SiteFile)!, Text(directory, SiteReader.HouseholdFile), loop, tuned.Values, seeds, 24));
        });
    }

    private static int Test(IHandledPlant plant, House house, Wish wish, TuneLimits limits, string directory, Func<Tuned, IReadOnlyList<string>> trial)
    {
        var loop = house.Loops.ToList().FindIndex(one => one.Id == wish.What);
        var room = house.Rooms.ToList().FindIndex(one => one.Id == wish.What);
        if (loop < 0 && room < 0)
            return Refusal.Say("tune", $"there is no loop or room {wish.What}; loops: {string.Join(", ", house.Loops.Select(one => one.Id))}; rooms: {string.Join(", ", house.Rooms.Select(one => one.Id))}");
        if ((loop >= 0 ? LoopTest.WhyNot(house, loop) : RoomTest.WhyNot(house, room)) is { } not)
            return Refusal.Say("tune", not);
        if (loop < 0 && wish.Relay)
            return Refusal.Say("tune", $"{wish.What}: a room is too slow for a relay; leave --relay out");
        try
        {
            var tuned = loop >= 0 ? Tuned.OfLoop(house, loop, Loop(new LoopTest(plant, house, loop, limits, Console.Out.WriteLine), wish.Relay))
                : Tuned.OfRoom(house, room, new RoomTest(plant, house, room, limits, Console.Out.WriteLine).Step());
            return Told(house, tuned, wish, plant, directory, trial(tuned));
        }
        catch (TestEndedException e)
        {
            Console.Error.WriteLine($"tune: ended: {e.Message}. The old values are back");
            return 1;
        }
    }

    private static TestedLoop Loop(LoopTest test, bool relay) => relay ? test.Swing() : test.Step();

    private static int Told(House house, Tuned tuned, Wish wish, IHandledPlant plant, string directory, IReadOnlyList<string> trial)
    {
        foreach (var line in tuned.Lines)
            Console.Out.WriteLine("  " + line);
        foreach (var value in tuned.Values)
            Console.Out.WriteLine($"  proposed: {value.Path}: {value.After} (now {value.Before}): {value.Why}");
        if (tuned.Values.Count == 0)
            Console.Out.WriteLine("  nothing is proposed: what holds is as good");
        foreach (var line in trial)
            Console.Out.WriteLine("  " + line);
        if (wish.Page is { } page)
        {
            using var file = new StreamWriter(page, false, new UTF8Encoding(false));
            TunePage.Write(file, house, tuned, plant.IsVirtual, trial);
            Console.Out.WriteLine($"page: {Path.GetFullPath(page)}");
        }
        CheckoutBook.Open(CheckoutBook.PathOf(directory, plant.IsVirtual)).Add(tuned.Entry(Environment.UserName, plant.Utc));
        return wish.Write && tuned.Values.Count > 0 ? Write(directory, tuned) : 0;
    }

    private static int Write(string directory, Tuned tuned)
    {
        var path = Path.Combine(directory, SiteReader.SiteFile);
        var text = Text(directory, SiteReader.SiteFile)!;
        foreach (var value in tuned.Values)
        {
            if (!SiteEdit.TrySet(text, value.Path, value.After, $"found by tune {tuned.What}", out text, out var why))
                return Refusal.Say("tune", $"{path}: {value.Path}: {why}; nothing was written");
        }
        if (SiteReader.Read(text, Text(directory, SiteReader.HouseholdFile), Drivers.All) is { Files: null } broken)
            return Refusal.Say("tune", $"{path}: with the proposal it would not be sound ({broken.Problems[0]}); nothing was written");
        SafeFile.Write(path, Encoding.UTF8.GetBytes(text));
        Console.Out.WriteLine($"written: {path}; a running controller takes it over within seconds");
        return 0;
    }

    private static string? Text(string directory, string name) => Path.Combine(directory, name) is var path && File.Exists(path) ? File.ReadAllText(path) : null;
}
