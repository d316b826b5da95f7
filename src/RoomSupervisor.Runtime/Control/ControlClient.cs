// The other end of the control socket: finds the run of a site, asks, waits a bounded time. It must never start anything, and never take another site's run for
// this one's.
using System.Buffers;
using System.Globalization;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Control;

/// <summary>What came of looking for a run.</summary>
public enum ControlFound : byte
{
    /// <summary>It answers.</summary>
    Connected,

    /// <summary>Nobody runs this site.</summary>
    Nobody,

    /// <summary>Somebody does, but will not or cannot answer.</summary>
    Unreachable,
}

/// <summary>The run cannot be asked any longer; says why.</summary>
public sealed class ControlLostException(string message) : IOException(message);

/// <summary>A connection to a run. For one thread.</summary>
public sealed partial class ControlClient : IDisposable
{
    /// <summary>Longest answer taken, bytes: all points of a large house are some 100 kB.</summary>
    private const int LongestAnswer = 16 * 1024 * 1024;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30), GreetingPatience = TimeSpan.FromSeconds(10);

    private readonly LineSocket line;
    private int asked;

    private ControlClient(LineSocket line, string path) => (this.line, Path) = (line, path);

    /// <summary>Path of the socket.</summary>
    public string Path { get; }

    /// <summary>Name of the site, as the run says it.</summary>
    public string Site { get; private set; } = "";

    /// <summary>Directory of the site, as the run says it.</summary>
    public string Directory { get; private set; } = "";

    /// <summary>Looks for the run of a site.</summary>
    /// <param name="directory">The site's directory; null: whatever site's service answers in the usual places.</param>
    /// <param name="socket">Path of its socket, or null: the usual places.</param>
    /// <param name="state">Its state directory, or null.</param>
    /// <param name="client">The connection, when it answers.</param>
    /// <param name="why">Why it does not.</param>
    public static ControlFound Find(string? directory, string? socket, string? state, out ControlClient? client, out string why)
    {
        (client, why) = (null, "");
        foreach (var path in ControlPlace.Candidates(directory, socket, state))
        {
            var found = Connect(path, directory, out client, out var problem);
            if (found == ControlFound.Connected)
                return found;
            if (found == ControlFound.Unreachable && why.Length == 0)
                why = problem;
        }
        if (why.Length > 0)
            return ControlFound.Unreachable;
        if (socket is not null)
        {
            why = $"nobody answers on {socket}";
            return ControlFound.Unreachable;
        }
        return ControlFound.Nobody;
    }

    /// <summary>Asks one thing. The members of <paramref name="keys"/> are texts.</summary>
    /// <returns>The answer; the caller disposes of it.</returns>
    /// <exception cref="ControlException">The run refused; its own words.</exception>
    /// <exception cref="ControlLostException">The run has gone, or does not answer in time.</exception>
    public JsonDocument Ask(string request, params IReadOnlyList<(string Key, string Value)> keys) => Ask(request, false, keys);

    /// <summary>The same; with the flag <c>all</c>.</summary>
    /// <inheritdoc cref="Ask(string, IReadOnlyList{ValueTuple{string, string}})"/>
    public JsonDocument Ask(string request, bool all, params IReadOnlyList<(string Key, string Value)> keys)
    {
        var text = new ArrayBufferWriter<byte>(256);
        using (var json = new Utf8JsonWriter(text))
        {
            json.WriteStartObject();
            json.WriteNumber("version", ControlRequests.Version);
            json.WriteNumber("id", ++asked);
            json.WriteString("do", request);
            foreach (var (key, value) in keys)
                json.WriteString(key, value);
            if (all)
                json.WriteBoolean("all", true);
            json.WriteEndObject();
        }
        text.Write("\n"u8);
        if (!line.Send(text.WrittenSpan, Patience))
            throw new ControlLostException("the run has closed its control socket: it has stopped, or was stopped");
        while (true)
        {
            var answer = Next(line, Patience, out var problem) ?? throw new ControlLostException(problem);
            if (!answer.RootElement.TryGetProperty("id", out var id) || id.ValueKind != JsonValueKind.Number || id.GetInt32() != asked)
            {
                var error = answer.RootElement.TryGetProperty("error", out var said) ? said.GetString() : null;
                answer.Dispose();
                throw new ControlLostException(error ?? "an answer that belongs to no question: is this a control socket?");
            }
            if (answer.RootElement.GetProperty("ok").GetBoolean())
                return answer;
            using (answer)
                throw new ControlException(answer.RootElement.GetProperty("error").GetString() ?? "refused");
        }
    }

    public void Dispose() => line.Dispose();

    private static ControlFound Connect(string path, string? directory, out ControlClient? client, out string why)
    {
        (client, why) = (null, "");
        var socket = ControlPlace.NewSocket();
        try
        {
            socket.Connect(new UnixDomainSocketEndPoint(path));
        }
        catch (ArgumentOutOfRangeException)
        {
            socket.Dispose();
            return ControlFound.Nobody;   // too long for a socket: no run could have made it
        }
        catch (SocketException e)
        {
            socket.Dispose();
            if (e.SocketErrorCode != SocketError.AccessDenied)
                return ControlFound.Nobody;   // no file, or nobody behind it
            why = NotAllowed(path);
            return ControlFound.Unreachable;
        }
        var line = new LineSocket(socket, LongestAnswer);
        if (Greeted(line, path, out var site, out var runs, out why) && (directory is null || Same(runs, directory) || IsOwnState(path, directory)))
        {
            client = new ControlClient(line, path) { Site = site, Directory = runs };
            return ControlFound.Connected;
        }
        line.Dispose();
        return why.Length > 0 ? ControlFound.Unreachable : ControlFound.Nobody;   // another site's run is nobody here
    }

    private static bool Greeted(LineSocket line, string path, out string site, out string directory, out string why)
    {
        (site, directory) = ("", "");
        using var greeting = Next(line, GreetingPatience, out why);
        if (greeting is null)
            return false;
        var root = greeting.RootElement;
        if (root.TryGetProperty("error", out var error))
        {
            why = error.GetString() ?? "refused";
            return false;
        }
        if (!root.TryGetProperty("room_supervisor", out _) || !root.TryGetProperty("version", out var version) || version.GetInt32() != ControlRequests.Version)
        {
            why = string.Create(CultureInfo.InvariantCulture, $"{path}: what answers there speaks another version than {ControlRequests.Version}: use the program that runs the site");
            return false;
        }
        (site, directory) = (root.GetProperty("site").GetString()!, root.GetProperty("directory").GetString()!);
        return true;
    }

    private static JsonDocument? Next(LineSocket line, TimeSpan wait, out string why)
    {
        why = "";
        switch (line.Read(wait, out var text))
        {
            case LineOutcome.Line:
                try
                {
                    return JsonDocument.Parse(text.ToArray());
                }
                catch (JsonException)
                {
                    why = "what answers there speaks no JSON lines: it is no control socket of this program";
                    return null;
                }
            case LineOutcome.TimedOut:
                why = string.Create(CultureInfo.InvariantCulture, $"the run does not answer within {wait.TotalSeconds:0} s: see its log");
                return null;
            case LineOutcome.TooLong:
                why = "an answer without an end";
                return null;
            default:
                why = "the run has closed its control socket: it has stopped, or was stopped";
                return null;
        }
    }

    private static string NotAllowed(string path)
    {
        var me = PeerUser.NameOf((int)EffectiveUser());
        return $"user {me} may not use the control socket {path}: it is for the service's user and group (ls -l {path} shows them). "
            + $"Add {me} to that group and log in again, or use sudo";
    }

    private static bool Same(string one, string other) => Real(one) == Real(other);

    /// <summary>A socket in the state folder of the very site asked for is its run's, even if that knows the site by another road.</summary>
    private static bool IsOwnState(string path, string directory) => Real(path) == Real(System.IO.Path.Combine(directory, "state", System.IO.Path.GetFileName(path)));

    /// <summary>The path without links.</summary>
    private static string Real(string path)
    {
        Span<byte> into = stackalloc byte[4097];
        if (RealPath(System.IO.Path.GetFullPath(path), into) == 0)
            return System.IO.Path.GetFullPath(path);
        return Encoding.UTF8.GetString(into[..into.IndexOf((byte)0)]);
    }

    [LibraryImport("libc", EntryPoint = "realpath", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint RealPath(string path, Span<byte> into);

    [LibraryImport("libc", EntryPoint = "geteuid")]
    private static partial uint EffectiveUser();
}
