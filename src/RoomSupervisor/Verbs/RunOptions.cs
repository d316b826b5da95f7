// Which run a verb speaks to: the site, and where its control socket or state lies when they are in no usual place. Starts nothing.
using System.CommandLine;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Verbs;

/// <summary>The site with --socket and --state.</summary>
internal sealed class RunOptions
{
    private readonly SiteArgument site = new();
    private readonly Option<string?> socket = new("--socket") { Description = "the run's control socket, where it is in no usual place ($RUNTIME_DIRECTORY, the state directory, /run/room-supervisor)", HelpName = "PATH" };
    private readonly Option<string?> state = HistoryVerb.StateOption();

    /// <param name="command">The verb.</param>
    /// <param name="byNameOnly">True for a verb whose own arguments come first.</param>
    public void AddTo(Command command, bool byNameOnly = false)
    {
        if (byNameOnly)
            site.AddByNameTo(command);
        else
            site.AddTo(command);
        command.Options.Add(socket);
        command.Options.Add(state);
    }

    /// <summary>
    /// The run, or null with the site's directory when nobody runs it. False with a message on standard error: it is somewhere, but cannot be asked.
    /// Without a named site it is the one whose service answers in the usual place.
    /// </summary>
    public bool TryFind(ParseResult parsed, out ControlClient? client, out string directory)
    {
        (client, directory) = (null, "");
        if (!site.TryNamed(parsed, out var named))
            return false;
        var found = ControlClient.Find(named, parsed.GetValue(socket), parsed.GetValue(state), out client, out var why);
        if (found == ControlFound.Connected)
        {
            directory = client!.Directory;
            return true;
        }
        if (found == ControlFound.Unreachable)
        {
            Console.Error.WriteLine($"{parsed.CommandResult.Command.Name}: {why}");
            return false;
        }
        if (named is null)
        {
            Console.Error.WriteLine("which site? name its directory, or set ROOM_SUPERVISOR_SITE; no service answers on this machine");
            return false;
        }
        directory = named;
        return true;
    }

    /// <summary>The site's directory without looking for a run, or null with a message on standard error.</summary>
    public string? Directory(ParseResult parsed) => site.Directory(parsed);

    /// <summary>The state directory as named.</summary>
    public string? State(ParseResult parsed) => parsed.GetValue(state);
}
