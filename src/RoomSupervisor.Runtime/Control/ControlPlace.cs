// Where the control socket lies, for the run that makes it and for those who look for it; and making it: never wider than 0660, the file of a dead run
// replaced, that of a living one never.
using System.Net.Sockets;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Place of the socket.</summary>
public static class ControlPlace
{
    private const string FileName = "control.sock";

    /// <summary>Where a service manager usually gives this program its runtime directory.</summary>
    private const string UsualRuntimeDirectory = "/run/room-supervisor";

    /// <summary>Longest path a socket may have, bytes (unix(7)).</summary>
    private const int LongestPath = 107;

    /// <summary>Path of a run's socket: in $RUNTIME_DIRECTORY, else in the state folder.</summary>
    public static string Of(StateFolder state) => Path.Combine(ServiceFolders.Runtime ?? state.Path, FileName);

    /// <summary>Paths at which the run of a site may answer, likeliest first.</summary>
    public static IReadOnlyList<string> Candidates(string? siteDirectory, string? socket, string? state)
    {
        if (socket is not null)
            return [socket];
        var folder = state ?? (siteDirectory is null ? null : ServiceFolders.State(siteDirectory));
        return [.. new[] { ServiceFolders.Runtime, folder, siteDirectory is null ? null : Path.Combine(siteDirectory, "state"), UsualRuntimeDirectory }.OfType<string>().Select(one => Path.Combine(one, FileName)).Distinct(StringComparer.Ordinal)];
    }

    /// <summary>Makes the socket and listens.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="listener">The socket; its file goes with it.</param>
    /// <param name="isTaken">True when a living run answers there already.</param>
    /// <param name="why">Why not.</param>
    public static bool TryListen(string path, out Socket? listener, out bool isTaken, out string why)
    {
        (listener, isTaken) = (null, false);
        if (System.Text.Encoding.UTF8.GetByteCount(path) > LongestPath)
        {
            why = $"{path} is longer than the {LongestPath} bytes a socket's path may have: set RUNTIME_DIRECTORY or STATE_DIRECTORY to a shorter one";
            return false;
        }
        Socket? made = null;
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            if (!MayReplace(path, out isTaken, out why))
                return false;
            File.Delete(path);
            made = NewSocket();
            made.Bind(new UnixDomainSocketEndPoint(path));
            // Before it listens: nobody can come in while the mode is still that of any new file.
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.GroupWrite);
            made.Listen(8);
            (listener, made) = (made, null);
            return true;
        }
        catch (Exception e) when (e is SocketException or IOException or UnauthorizedAccessException)
        {
            why = $"{path}: {e.Message}";
            return false;
        }
        finally
        {
            made?.Dispose();
        }
    }

    internal static Socket NewSocket() => new(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);

    private static bool MayReplace(string path, out bool isTaken, out string why)
    {
        (isTaken, why) = (false, "");
        if (!File.Exists(path))
            return true;
        if ((File.GetAttributes(path) & FileAttributes.Directory) != 0 || new FileInfo(path).Length > 0)
        {
            why = $"{path} is there and is no socket: move it away";
            return false;
        }
        using var probe = NewSocket();
        try
        {
            probe.Connect(new UnixDomainSocketEndPoint(path));
            isTaken = true;
            why = $"another run answers on {path}: two runs share a state or runtime directory; give each its own";
            return false;
        }
        catch (SocketException e) when (e.SocketErrorCode is SocketError.ConnectionRefused)
        {
            return true;   // nobody listens: its run is dead
        }
    }
}
