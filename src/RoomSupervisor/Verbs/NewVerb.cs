// new: writes a commented pair of files for a site, from a few questions or from another site. Never overwrites a file.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class NewVerb
{
    public static Command Create()
    {
        var directory = new Argument<string>("DIR") { Description = "directory to write site.yaml and household.yaml into; neither may exist" };
        var name = new Option<string?>("--name") { Description = "name of the site", HelpName = "NAME" };
        var zone = new Option<string?>("--time-zone") { Description = "time zone, such as America/New_York", HelpName = "ZONE" };
        var units = new Option<string?>("--units") { Description = "how values are shown to people: metric or us", HelpName = "UNITS" };
        var source = new Option<string?>("--source") { Description = "what makes the water: " + string.Join(", ", NewSiteAnswers.Sources), HelpName = "TYPE" };
        var rooms = new Option<string?>("--rooms") { Description = $"rooms with what heats or cools them and their floor area: \"{NewSiteRooms.Example}\"", HelpName = "ROOMS" };
        var like = new Option<string?>("--like") { Description = "copy another site's files instead, without its addresses, calibration and room data", HelpName = "DIR" };
        var command = new Command("new", "Write a commented site.yaml and household.yaml from a few questions (asked on a terminal, or answered by options) or from another site. "
            + "Never overwrites. Exit code 0 written, 2 nothing written.") { directory, name, zone, units, source, rooms, like };
        command.SetAction(parsed =>
        {
            var answers = new NewSiteAnswers { Name = parsed.GetValue(name), Zone = parsed.GetValue(zone), Units = parsed.GetValue(units), Source = parsed.GetValue(source), Rooms = parsed.GetValue(rooms) };
            return Make(parsed.GetRequiredValue(directory), answers, parsed.GetValue(like));
        });
        return command;
    }

    private static int Make(string directory, NewSiteAnswers answers, string? like)
    {
        if (NewSiteFiles.InTheWay(directory) is { } inTheWay)
            return Refuse([$"{inTheWay} is there already: nothing is overwritten. Name another directory, or move it away"]);
        if (like is not null)
            return Like(directory, answers, like);
        var missing = answers.Complete(Console.IsInputRedirected ? null : Console.In, Console.Out);
        return missing.Count > 0 ? Refuse(missing) : Write(directory, NewSiteText.Of(answers), NewSiteHousehold.Of(answers));
    }

    private static int Like(string directory, NewSiteAnswers answers, string like)
    {
        if (answers.Zone is not null || answers.Units is not null || answers.Source is not null || answers.Rooms is not null)
            return Refuse(["--like takes everything but the name from the other site: leave the other options out and edit the files afterwards"]);
        var read = SiteReader.Read(like, Drivers.All);
        if (read.Files is null)
            return Refuse([.. read.Problems.Select(problem => problem.ToString()), $"{like} has errors: mend it first, or start from questions"]);
        var household = Path.Combine(like, SiteReader.HouseholdFile);
        return Write(directory, NewSiteLike.Of(File.ReadAllText(Path.Combine(like, SiteReader.SiteFile)), answers.Name), File.Exists(household) ? File.ReadAllText(household) : "rooms: {}\n");
    }

    private static int Write(string directory, string site, string household)
    {
        NewSiteFiles.Write(directory, site, household);
        var wanted = site.Split('\n').Count(line => line.Contains("# fill in", StringComparison.Ordinal));
        Console.Out.WriteLine($"{Path.Combine(directory, SiteReader.SiteFile)} and {SiteReader.HouseholdFile} are written; {wanted} line(s) say \"fill in\".");
        Console.Out.WriteLine($"Next: fill them in, then room-supervisor check {directory}");
        return 0;
    }

    private static int Refuse(IReadOnlyList<string> lines)
    {
        foreach (var line in lines)
            Console.Error.WriteLine($"new: {line}");
        return 2;
    }
}
