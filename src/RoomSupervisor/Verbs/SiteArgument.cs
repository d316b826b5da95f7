// The site a verb works on: its only positional argument, --site, or the environment; and reading it with words for what is wrong.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

/// <summary>DIR, --site DIR or $ROOM_SUPERVISOR_SITE.</summary>
internal sealed class SiteArgument
{
    private readonly Argument<string?> directory = new("DIR")
    {
        Arity = ArgumentArity.ZeroOrOne,
        Description = "directory with site.yaml and household.yaml; without it $ROOM_SUPERVISOR_SITE",
    };

    private readonly Option<string?> site = new("--site") { Description = "the same, by name", HelpName = "DIR" };

    public void AddTo(Command command)
    {
        command.Arguments.Add(directory);
        command.Options.Add(site);
    }

    /// <summary>For a verb whose arguments are something else: the site by --site only.</summary>
    public void AddByNameTo(Command command)
    {
        site.Description = "the site's directory; without it $ROOM_SUPERVISOR_SITE";
        command.Options.Add(site);
    }

    /// <summary>The directory, or null with a message on standard error.</summary>
    public string? Directory(ParseResult parsed)
    {
        if (!TryNamed(parsed, out var found))
            return null;
        if (found is null)
            Console.Error.WriteLine("which site? name its directory, or set ROOM_SUPERVISOR_SITE");
        return found;
    }

    /// <summary>The directory as far as one is named; false with a message on standard error when two are.</summary>
    public bool TryNamed(ParseResult parsed, out string? found)
    {
        found = null;
        var positional = parsed.CommandResult.Command.Arguments.Contains(directory) ? parsed.GetValue(directory) : null;
        var named = parsed.GetValue(site);
        if (positional is not null && named is not null && positional != named)
        {
            Console.Error.WriteLine($"two sites are named: {positional} and {named}; name one");
            return false;
        }
        found = positional ?? named ?? Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_SITE");
        if (string.IsNullOrWhiteSpace(found))
            found = null;
        return true;
    }

    /// <summary>Reads the site strictly; problems go to standard error. Null when it has errors.</summary>
    public static SiteFiles? Read(string directory)
    {
        var result = SiteStart.Read(directory, StartVerb.Lockstep, Drivers.All, TimeProvider.System);
        foreach (var problem in result.Problems)
            Console.Error.WriteLine(problem);
        if (result.Files is null)
            Console.Error.WriteLine($"{result.Problems.Count(problem => problem.Severity == Severity.Error)} error(s): nothing was started");
        return result.Files;
    }
}
