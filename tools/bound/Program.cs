// bound [DIR] [--scenario NAME] [--slot MINUTES] | --hand: the least electricity with which the rooms of a rehearsal could have been as comfortable and as dry, with perfect foresight.
// Must never call a number a bound that a plan on the same linear house beats: it is tried, and the exit code says so.
using System.Globalization;
using RoomSupervisor.Bound;
using RoomSupervisor.Desk.Rehearsal;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var problems = HandCase.Check().ToList();
Console.WriteLine(problems.Count == 0 ? "two rooms solved by hand: the programme finds the same" : string.Join('\n', problems));
if (args.Contains("--hand") || problems.Count > 0)
    return problems.Count == 0 ? 0 : 1;

string? Option(string name) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : null;

var directory = args.Length > 0 && !args[0].StartsWith("--", StringComparison.Ordinal) ? args[0] : "config/ferry-house";
if (!int.TryParse(Option("--slot") ?? "30", out var minutes) || minutes is < 5 or > 120 || 1440 % minutes != 0)
{
    Console.Error.WriteLine($"--slot {Option("--slot")}: no length of a slot; allowed: 5 to 120 minutes of which a day is a multiple; write 30");
    return 2;
}
var plan = RehearsalReader.Read(new RehearsalWish(directory) { Scenario = Option("--scenario") ?? "two-summer-days" }, out var wrong);
if (plan is null)
{
    foreach (var line in wrong)
        Console.Error.WriteLine(line);
    return 2;
}
return BoundOfRun.Print(plan, minutes * 60) ? 0 : 1;
