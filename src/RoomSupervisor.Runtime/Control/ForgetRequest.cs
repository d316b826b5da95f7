// The request "forget": what was measured of a room is forgotten, because something of it was replaced. Logged with its user, done between two scans. It must never touch anything else of the room.
using System.Text.Json;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Forgets what was measured of a room. Keys: <c>room</c>, <c>why</c> (for the log).</summary>
public sealed class ForgetRequest(ControlParts parts, ControlSay say) : IControlRequest
{
    public string Name => "forget";

    public IReadOnlyList<string> Keys { get; } = ["room", "why"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var id = ControlRequests.Text(request, "room") ?? throw new ControlException("\"room\" is missing: of which room is everything to be forgotten?");
        var rooms = parts.Files.House.Rooms;
        var room = rooms.IndexOf(rooms.FirstOrDefault(one => one.Id == id) ?? throw new ControlException($"there is no room {id}; there is: {string.Join(", ", rooms.Select(one => one.Id))}"));
        if (parts.Hands is null || !parts.IsRunning)
            throw new ControlException("this run only looks: it has measured nothing that could be forgotten");
        if (!parts.Hands.TryPut(HandRequest.Forget(room)))
            throw new ControlException("too many hand values at once: try again in a few seconds");
        say.Done($"by hand: {user} has what was measured of {id} forgotten{(ControlRequests.Text(request, "why") is { Length: > 0 and <= 80 } why ? $": {why}" : "")}");
        answer.WriteBoolean("ok", true);
        answer.WriteString("room", id);
    }
}
