// Where an explaining verb gets what it tells: the run that answers, or what a run has left on disk. Starts nothing, changes nothing.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

/// <summary>A site to explain, with or without its run.</summary>
internal sealed class ExplainPlace(ControlClient? client, string directory, StateFolder state, string logs) : IDisposable
{
    private SiteFiles? files;

    /// <summary>The run; null: nobody answers.</summary>
    public ControlClient? Client { get; } = client;

    /// <summary>Directory of log and trends; with a run its own.</summary>
    public string Logs { get; private set; } = logs;

    /// <summary>The site as a start would take it, last good where its file is broken; null with a message when there is none.</summary>
    public SiteFiles? Files => files ??= Read();

    /// <summary>The site's directory.</summary>
    public string Directory { get; } = directory;

    /// <summary>The controller's own folder.</summary>
    public StateFolder State => state;

    /// <summary>What a support pack of it holds.</summary>
    public Runtime.Explain.Pack.PackWish Wish(TimeSpan last) => new(Directory, state, Logs, last);

    /// <summary>What a run has left on disk; null with a message when the site cannot be read.</summary>
    public LeftOnDisk? OnDisk => Files is { } found ? new LeftOnDisk(found, state, Logs, TimeProvider.System.GetUtcNow().UtcDateTime) : null;

    public static Option<string?> LogOption() => new("--log") { Description = "the controller's log directory, where log and trends lie; without it $LOGS_DIRECTORY, or DIR/log", HelpName = "DIR" };

    /// <summary>Finds it; null with a message on standard error.</summary>
    public static ExplainPlace? Find(ParseResult parsed, RunOptions run, Option<string?>? log)
        => run.TryFind(parsed, out var client, out var directory)
            ? new ExplainPlace(client, directory, StateFolder.Of(directory, run.State(parsed)), LogsOf(log is null ? null : parsed.GetValue(log), directory)) : null;

    /// <summary>Where the logs of a site lie: in the folder somebody named, else in the one of the service or of the site.</summary>
    public static string LogsOf(string? named, string directory) => string.IsNullOrEmpty(named) ? ServiceFolders.Logs(directory) : named;

    /// <summary>Has the run write what it still holds in memory; learns where its files lie. A run that does not manage within two seconds is not waited for.</summary>
    public void Spill()
    {
        if (Client is null)
            return;
        using var answer = Client.Ask("spill");
        Logs = answer.RootElement.GetProperty("log").GetString()!;
        state = new StateFolder(answer.RootElement.GetProperty("state").GetString()!);
    }

    public void Dispose() => Client?.Dispose();

    private SiteFiles? Read()
    {
        var result = SiteStart.Read(Directory, StartVerb.Run, Drivers.All, TimeProvider.System, state);
        if (result.Files is null)
        {
            foreach (var problem in result.Problems)
                Console.Error.WriteLine(problem);
        }
        return result.Files;
    }

    /// <summary>Prints an answer as text or as JSON.</summary>
    public static int Print(JsonDocument answer, bool asJson, Func<JsonElement, IReadOnlyList<string>> lines)
    {
        if (asJson)
            Console.Out.WriteLine(answer.RootElement.GetRawText());
        else
        {
            foreach (var line in lines(answer.RootElement))
                Console.Out.WriteLine(line);
        }
        return 0;
    }
}
