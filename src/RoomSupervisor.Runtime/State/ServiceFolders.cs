// Where a site's log, state and runtime files lie: in the folder a service manager gives, or in the site's own directory. One place, so that who writes and who reads look in
// the same folder. Makes nothing.
namespace RoomSupervisor.Runtime.State;

/// <summary>Folders of a run.</summary>
public static class ServiceFolders
{
    /// <summary>$RUNTIME_DIRECTORY; null: no service manager gave one.</summary>
    public static string? Runtime => Given("RUNTIME_DIRECTORY");

    /// <summary>$LOGS_DIRECTORY, or <c>log</c> in the site's directory.</summary>
    public static string Logs(string siteDirectory) => Given("LOGS_DIRECTORY") ?? Path.Combine(siteDirectory, "log");

    /// <summary>$STATE_DIRECTORY, or <c>state</c> in the site's directory.</summary>
    public static string State(string siteDirectory) => Given("STATE_DIRECTORY") ?? Path.Combine(siteDirectory, "state");

    /// <summary>The first of the folders a manager gives (systemd.exec(5): several are separated by colons); null where it gives none.</summary>
    private static string? Given(string variable) => Environment.GetEnvironmentVariable(variable)?.Split(':')[0] is { Length: > 0 } given ? given : null;
}
