// What may be asked over the control socket, by name. Each request is one small class; a new one is added where the run is wired. It must never trust a client:
// version, keys and values are checked here and in each request, and every change is logged with its user.
using System.Text.Json;

namespace RoomSupervisor.Runtime.Control;

/// <summary>One thing that may be asked.</summary>
public interface IControlRequest
{
    /// <summary>The word in <c>"do"</c>.</summary>
    string Name { get; }

    /// <summary>Keys it understands besides <c>version</c>, <c>id</c> and <c>do</c>.</summary>
    IReadOnlyList<string> Keys { get; }

    /// <summary>Writes the members of the answer, or throws what is wrong. Runs on the client's thread; may be called by several at once.</summary>
    /// <exception cref="ControlException">The request is wrong or refused; nothing was changed.</exception>
    void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer);
}

/// <summary>All requests of a run.</summary>
public sealed class ControlRequests : IDisposable
{
    /// <summary>Version of the lines. Raised when a line of before would be misunderstood; new requests, keys and members do not raise it.</summary>
    public const int Version = 1;

    private readonly IControlRequest[] all;
    private readonly string site, directory;
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);

    /// <param name="site">Name of the site.</param>
    /// <param name="directory">Its directory, so that a client knows whom it speaks to.</param>
    /// <param name="time">Clock for rates.</param>
    /// <param name="all">The requests.</param>
    public ControlRequests(string site, string directory, TimeProvider time, params IReadOnlyList<IControlRequest> all)
    {
        (this.site, this.directory, Time) = (site, directory, time);
        this.all = [.. all];
    }

    public TimeProvider Time { get; }

    /// <summary>Writes what a client is greeted with.</summary>
    public void Greeting(Utf8JsonWriter into)
    {
        into.WriteString("room_supervisor", "control");
        into.WriteNumber("version", Version);
        into.WriteString("program", SiteRun.Version);
        into.WriteNumber("process", Environment.ProcessId);
        into.WriteString("site", site);
        into.WriteString("directory", directory);
        into.Texts("requests", all.Select(one => one.Name));
    }

    /// <summary>Answers a request.</summary>
    /// <exception cref="ControlException">It is wrong or refused.</exception>
    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter into)
    {
        if (!request.TryGetProperty("version", out var version) || version.ValueKind != JsonValueKind.Number || !version.TryGetInt32(out var number) || number != Version)
            throw new ControlException($"\"version\" must be {Version}: this run speaks no other; use the program of the same version");
        var name = Text(request, "do") ?? throw new ControlException($"\"do\" is missing; known: {Known}");
        var asked = all.FirstOrDefault(one => one.Name == name) ?? throw new ControlException($"there is no request \"{name}\"; known: {Known}");
        foreach (var member in request.EnumerateObject())
        {
            if (member.Name is not ("version" or "id" or "do") && !asked.Keys.Contains(member.Name))
                throw new ControlException($"\"{member.Name}\" is no key of {name}; known: {string.Join(", ", asked.Keys)}");
        }
        asked.Answer(request, user, into);
    }

    /// <summary>Waits; true when the run ends meanwhile.</summary>
    public bool Wait(TimeSpan time) => stop.Wait(time);

    /// <summary>The run ends: nobody waits any longer.</summary>
    public void Dispose() => stop.Set();

    /// <summary>A text of a request, or null.</summary>
    /// <exception cref="ControlException">It is there and no text.</exception>
    public static string? Text(JsonElement request, string key)
    {
        if (!request.TryGetProperty(key, out var value))
            return null;
        try
        {
            return value.ValueKind == JsonValueKind.String ? value.GetString() : throw new ControlException($"\"{key}\" must be a text in quotes");
        }
        catch (InvalidOperationException)
        {
            throw new ControlException($"\"{key}\" is no valid text");
        }
    }

    private string Known => string.Join(", ", all.Select(one => one.Name));
}
