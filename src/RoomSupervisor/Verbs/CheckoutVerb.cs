// checkout: the guided walk through a finished house, on the board or in the virtual house; taken up again where it was. Arguments and printing only.
using System.CommandLine;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Checkout.Virtual;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class CheckoutVerb
{
    /// <summary>Longest self-test, s, and the hour of the first day at which a virtual walk begins.</summary>
    private const double SelfTestS = 2 * 3600, MorningS = 10 * 3600;

    private const int VirtualDays = 20;

    private sealed record Wish(string? Room, string? Panel, IReadOnlyCollection<string> Kinds, string Who, string? Again, string? Answers, bool IsVirtual, IReadOnlyList<string> Built, ulong? Seed, bool Long, string? Season, bool List, bool Write);

    public static Command Create()
    {
        var run = new RunOptions();
        var room = new Option<string?>("--room") { Description = "only steps of this room", HelpName = "ROOM" };
        var panel = new Option<string?>("--panel") { Description = "only steps of what hangs on this device", HelpName = "DEVICE" };
        var kinds = new Option<string[]>("--only") { Description = "only steps of this kind, such as input or pump; may be given several times", HelpName = "KIND", AllowMultipleArgumentsPerToken = true };
        var who = new Option<string?>("--who") { Description = "who does it, for the book; without it the user's name", HelpName = "NAME" };
        var again = new Option<string?>("--again") { Description = "do steps again that are in the book: failed, skipped or all", HelpName = "WHICH" };
        var answers = new Option<string?>("--answers") { Description = "take answers from a file (- for standard input): a line an answer, in order, or STEP = ANSWER; STEP may end in *", HelpName = "FILE" };
        var isVirtual = new Option<bool>("--virtual") { Description = "walk through the virtual house, in virtual time, with somebody in it who answers; its results have a book of their own" };
        var built = new Option<string[]>("--built") { Description = "with --virtual: something that was built otherwise than site.yaml says, to see whether the walk finds it: " + string.Join("; ", AsBuilt.Forms), HelpName = "WHAT" };
        var seed = new Option<ulong?>("--seed") { Description = "with --virtual: seed of all chance", HelpName = "N" };
        var isLong = new Option<bool>("--long") { Description = "with the steps of half an hour and more: pull-down, slab" };
        var season = new Option<string?>("--self-test") { Description = "what the controller can do by itself, for the beginning of a season: a name such as 2027-spring; two hours at most, fans no faster than the household wants", HelpName = "SEASON" };
        var list = new Option<bool>("--list") { Description = "list the steps with what is in the book, do nothing" };
        var write = new Option<bool>("--write") { Description = "write what was found (offsets, lag, stroke, start voltage, sound, exchanged channels) into site.yaml and do nothing else; comments stay" };
        var command = new Command("checkout", "The day a house must prove itself: a guided walk, step by step: power, inputs, calibration, outputs, fans and their sound, pumps, valves, protections, safe state, guard, rooms. "
            + "It asks you to hold, open, look and listen, and does the rest through the running controller; where none runs, one is started for it and everything else is kept safe. Guard and protections hold, every hand value ends by itself. "
            + "Each result is in the book at once (DIR/checkout): started again it goes on where it was. Exit code 0 all passed, 1 something failed or is left to do, 2 refused.")
        { room, panel, kinds, who, again, answers, isVirtual, built, seed, isLong, season, list, write };
        run.AddTo(command);
        command.SetAction(parsed => Do(run, parsed, new Wish(parsed.GetValue(room), parsed.GetValue(panel), parsed.GetValue(kinds) ?? [], parsed.GetValue(who) ?? Environment.UserName, parsed.GetValue(again), parsed.GetValue(answers), parsed.GetValue(isVirtual),
            parsed.GetValue(built) ?? [], parsed.GetValue(seed), parsed.GetValue(isLong), parsed.GetValue(season), parsed.GetValue(list), parsed.GetValue(write))));
        return command;
    }

    private static int Do(RunOptions run, ParseResult parsed, Wish wish)
    {
        if (wish.Again is not (null or "failed" or "skipped" or "all"))
            return Fail($"--again {wish.Again}: allowed: failed, skipped, all");
        if (!wish.IsVirtual && wish.Built.Count > 0)
            return Fail("--built belongs to --virtual: a real house is built as it is");
        if (wish.IsVirtual || wish.List || wish.Write)
        {
            return run.Directory(parsed) is not { } named || SiteArgument.Read(named) is not { } there ? 2
                : wish.Write ? Write(named, wish) : wish.List ? List(named, there, wish) : Virtually(named, there, wish);
        }
        return HandWords.With(run, parsed, (client, isOwn, stop) =>
        {
            var directory = client.Directory;
            if (SiteArgument.Read(directory) is not { } files)
                return 2;
            ControlClient? Again() => ControlClient.Find(directory, null, run.State(parsed), out var found, out _) == ControlFound.Connected ? found : null;
            var plant = new SocketPlant(files.House, client, TimeProvider.System, Again, stop);
            return Walk(directory, files, plant, wish, Hands(wish, plant, files, stop));
        });
    }

    private static int Virtually(string directory, SiteFiles files, Wish wish)
    {
        var built = new AsBuilt();
        foreach (var text in wish.Built)
        {
            if (!AsBuilt.TryAdd(built, files.House, text, out built, out var why))
                return Fail($"--built {why}");
        }
        if (RehearsalReader.Read(new RehearsalWish(directory) { Days = VirtualDays, Seed = wish.Seed }, out var problems) is not { } plan)
            return RehearseVerb.Refuse(problems);
        using var stop = new StopSignals();
        using var rehearsal = new Rehearsal(built.In(plan));
        Console.Out.WriteLine("in the virtual house: morning comes, the rooms are as they are on such a day");
        var plant = new VirtualPlant(rehearsal, MorningS, stop.Token);
        return Walk(directory, plan.Files, plant, wish, wish.Season is null && wish.Answers is null ? new VirtualHands(rehearsal) : Hands(wish, plant, files, stop.Token));
    }

    private static IHandsAndEyes? Hands(Wish wish, IWalkPlant plant, SiteFiles files, CancellationToken stop)
    {
        if (wish.Season is not null)
            return new NobodyThere();
        if (wish.Answers is not { } name)
            return new PersonHands(plant, Console.Out.WriteLine, () => Read(stop));
        try
        {
            return new ScriptedHands(name, name == "-" ? Console.In.ReadToEnd().Split('\n') : File.ReadAllLines(name), files.House.Units, Console.Out.WriteLine);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Fail($"--answers {name}: {e.Message}");
            return null;
        }
    }

    /// <summary>A line, or the end of the walk: whoever presses Ctrl-C while a question waits must not wait for an answer.</summary>
    private static string? Read(CancellationToken stop)
    {
        var line = Task.Run(Console.In.ReadLine, CancellationToken.None);
        line.Wait(stop);
        return line.Result;
    }

    private static int Walk(string directory, SiteFiles files, IWalkPlant plant, Wish wish, IHandsAndEyes? hands)
    {
        if (hands is null || Steps(files, wish) is not { } steps)
            return 2;
        var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, wish.IsVirtual));
        foreach (var problem in book.Problems)
            Console.Error.WriteLine(problem);
        Console.Out.WriteLine($"{steps.Count} step(s); the book is {book.Path}. {(hands is PersonHands ? PersonHands.Help : "")}");
        var how = new WalkWish(wish.Who) { FailedAgain = wish.Again == "failed", SkippedAgain = wish.Again == "skipped", AllAgain = wish.Again == "all", LongestS = wish.Season is null ? double.PositiveInfinity : SelfTestS };
        var outcome = new Walk(plant, hands, book, how, Console.Out.WriteLine).Run(steps);
        return Tell(book, steps, outcome);
    }

    private static int Tell(CheckoutBook book, IReadOnlyList<CheckStep> steps, WalkOutcome outcome)
    {
        var current = steps.Select(step => book.Latest(step.Id)).OfType<CheckEntry>().ToList();
        var left = steps.Count - current.Count;
        Console.Out.WriteLine();
        if (outcome.Stopped.Length > 0)
            Console.Out.WriteLine($"ended at {outcome.Stopped}. Nothing is lost: the same command goes on here.");
        Console.Out.WriteLine($"{current.Count(one => one.Verdict == Verdict.Pass)} passed, {current.Count(one => one.Verdict == Verdict.Fail)} failed, {current.Count(one => one.Verdict == Verdict.Skip)} left out, {current.Count(one => one.Verdict == Verdict.Told)} told, {left} to do");
        foreach (var finding in Findings.Of(current))
            Console.Out.WriteLine("  wrong: " + finding);
        var proposals = Proposals.Of(current);
        foreach (var (path, value) in proposals)
            Console.Out.WriteLine($"  for site.yaml: {path}: {value}");
        if (proposals.Count > 0)
            Console.Out.WriteLine("  checkout --write puts that into site.yaml");
        return left > 0 || current.Any(one => one.Verdict == Verdict.Fail) ? 1 : 0;
    }

    private static IReadOnlyList<CheckStep>? Steps(SiteFiles files, Wish wish)
    {
        if (wish.Room is not null && files.House.Rooms.All(room => room.Id != wish.Room))
            return None($"there is no room {wish.Room}; there is: {string.Join(", ", files.House.Rooms.Select(room => room.Id))}");
        if (wish.Panel is not null && files.Devices.All(device => device.Name != wish.Panel))
            return None($"there is no device {wish.Panel}; there is: {string.Join(", ", files.Devices.Select(device => device.Name))}");
        if (wish.Kinds.FirstOrDefault(kind => CheckPlan.Kinds.All(one => one.Kind != kind)) is { } unknown)
            return None($"--only {unknown}: there is no such kind; there is: {string.Join(", ", CheckPlan.Kinds.Select(one => one.Kind))}");
        var all = wish.Season is { } season ? CheckPlan.SelfTest(files, season) : CheckPlan.Of(files);
        return [.. CheckPlan.Only(all, wish.Room, wish.Panel, wish.Kinds).Where(step => !step.IsLong || wish.Long || wish.Kinds.Contains(step.Kind))];
    }

    private static int List(string directory, SiteFiles files, Wish wish)
    {
        if (Steps(files, wish) is not { } steps)
            return 2;
        var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, wish.IsVirtual));
        foreach (var step in steps)
            Console.Out.WriteLine($"{(book.Latest(step.Id) is { } had ? CheckEntry.Word(had.Verdict) : "-"),-6}{step.Id,-52} {step.Expected}");
        return 0;
    }

    private static int Write(string directory, Wish wish)
    {
        var book = CheckoutBook.Open(CheckoutBook.PathOf(directory, wish.IsVirtual));
        var (path, household) = (Path.Combine(directory, SiteReader.SiteFile), Path.Combine(directory, SiteReader.HouseholdFile));
        var before = File.ReadAllText(path);
        if (!Proposals.TryApply(before, File.Exists(household) ? File.ReadAllText(household) : null, Proposals.Of(book.Current()), out var edited, out var done, out var why))
            return Fail($"nothing was written: {why}");
        foreach (var line in done)
            Console.Out.WriteLine(line);
        if (edited == before)
        {
            Console.Out.WriteLine("nothing to write");
            return 0;
        }
        Runtime.State.SafeFile.Write(path, System.Text.Encoding.UTF8.GetBytes(edited));
        var struck = Proposals.StrikeOut(book, before, edited, wish.Who, TimeProvider.System.GetUtcNow().UtcDateTime);
        Console.Out.WriteLine($"written into {path}; a running controller takes it over, or says what needs a restart. {struck.Count} step(s) that failed by it are to be done again: checkout");
        return 0;
    }

    private static IReadOnlyList<CheckStep>? None(string why)
    {
        Fail(why);
        return null;
    }

    private static int Fail(string why) => Refusal.Say("checkout", why);
}
