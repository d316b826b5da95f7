// Reads household.yaml: what the household wants of each room. Only rooms of the site, only household keys.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class HouseholdReader(Problems problems, ParameterBinder binder)
{
    private readonly Dictionary<string, HouseholdRoom> rooms = new(StringComparer.Ordinal);

    /// <summary>Settings of a room, defaults where the household said nothing; with the place of its section for messages.</summary>
    public IReadOnlyDictionary<string, HouseholdRoom> Rooms => rooms;

    /// <summary>What the household wrote of a room, for the places in messages.</summary>
    public Dictionary<string, MapNode> Groups { get; } = new(StringComparer.Ordinal);

    /// <param name="file">The file's tree, or null.</param>
    /// <param name="known">Rooms of the site; empty when none could be read: then no name is judged.</param>
    public void Read(MapNode? file, IReadOnlyList<string> known)
    {
        foreach (var entry in file?.Entries ?? [])
        {
            if (entry.Key != "rooms")
                binder.Unknown(entry, "", ["rooms"]);
            else if (entry.Value is MapNode section)
                ReadRooms(section, known);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, "rooms", "", "has no rooms under it", "a group a room", "");
        }
        foreach (var name in known.Where(name => !rooms.ContainsKey(name)))
        {
            rooms[name] = new HouseholdRoom();
            binder.Defaults($"household.{name}", rooms[name], HouseholdRoom.Parameters);
        }
    }

    private void ReadRooms(MapNode section, IReadOnlyList<string> known)
    {
        foreach (var entry in section.Entries)
        {
            var path = $"rooms.{entry.Key}";
            if (known.Count > 0 && !known.Contains(entry.Key))
            {
                problems.Error(entry.KeyMark, path, "", "the site has no such room", string.Join(", ", known), Nearest.Hint(entry.Key, known));
                continue;
            }
            var room = new HouseholdRoom();
            rooms[entry.Key] = room;
            if (entry.Value is MapNode group)
            {
                Groups[entry.Key] = group;
                ReadRoom(group, path, room);
            }
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", string.Join(", ", HouseholdRoom.Parameters.Select(p => p.Key)), "");
        }
    }

    private void ReadRoom(MapNode group, string path, HouseholdRoom room)
    {
        binder.Bind(group, path, room, HouseholdRoom.Parameters, "quiet");
        var quiet = group.Entries.FirstOrDefault(entry => entry.Key == "quiet");
        if (quiet is null || quiet.Value is BrokenNode)
            return;
        if (quiet.Value is MapNode hours)
            binder.Bind(hours, path + ".quiet", room, HouseholdRoom.QuietParameters);
        else
            problems.Error(quiet.Value.Mark, path + ".quiet", "", "one value or nothing stands where a group is wanted", "from, to, fan_at_most", "");
    }
}
