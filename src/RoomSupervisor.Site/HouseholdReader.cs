// Reads household.yaml: what the household wants of each room. Only rooms of the site, only household keys. Notes where each group
// stands, so that a mistake can be laid to the group it belongs to. Never decides what a mistake means for the others: see HouseholdSettle.
using System.Collections.Immutable;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class HouseholdReader(Problems problems, ParameterBinder binder)
{
    private readonly Dictionary<string, HouseholdRoom> rooms = new(StringComparer.Ordinal);

    /// <summary>Settings of a room, defaults where the household said nothing.</summary>
    public IReadOnlyDictionary<string, HouseholdRoom> Rooms => rooms;

    /// <summary>What the household wrote of a room, for the places in messages.</summary>
    public Dictionary<string, MapNode> Groups { get; } = new(StringComparer.Ordinal);

    /// <summary>The file's tree, or null when there is none.</summary>
    public MapNode? File { get; private set; }

    /// <summary>Wall time of the site, for telling what is past; null: not told.</summary>
    public DateTime? Local { get; set; }

    /// <summary>Replaces what was read by what holds after all.</summary>
    public void Put(string room, HouseholdRoom settings) => rooms[room] = settings;

    /// <param name="file">The file's tree, or null.</param>
    /// <param name="known">Rooms of the site; empty when none could be read: then no name is judged.</param>
    public void Read(MapNode? file, IReadOnlyList<string> known)
    {
        File = file;
        binder.IsHousehold = true;
        Absence? absence = null;
        foreach (var entry in file?.Entries ?? [])
        {
            if (entry.Key == "absence")
                absence = new DatedReader(problems, binder, Local).Absence(entry);
            else if (entry.Key != "rooms")
                binder.Unknown(entry, "", ["rooms", "absence"]);
            else if (entry.Value is MapNode section)
                ReadRooms(section, known);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, "rooms", "", "has no rooms under it", "a group a room", "");
        }
        foreach (var name in known.Where(name => !rooms.ContainsKey(name)))
        {
            rooms[name] = new HouseholdRoom();
            binder.Defaults($"rooms.{name}", rooms[name], HouseholdRoom.Parameters);
        }
        foreach (var name in rooms.Keys.ToList())
            rooms[name] = rooms[name].WithAbsence(absence);
    }

    /// <summary>Tells what cannot be had together, as mistakes: for whoever takes the file whole or not at all.</summary>
    public void TellContradictions(UnitSystem units)
    {
        foreach (var (name, room) in rooms)
        {
            foreach (var what in DeadBand.Of(room))
                problems.Error(HouseholdSettle.MarkOf(this, name, what), $"rooms.{name}", "", what.Words(units), "", "a room would be heated and cooled by turns: move them apart");
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
            rooms[entry.Key] = new HouseholdRoom();
            if (entry.Value is MapNode group)
            {
                Groups[entry.Key] = group;
                rooms[entry.Key] = ReadRoom(group, path);
            }
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", string.Join(", ", HouseholdRoom.Parameters.Select(p => p.Key)), "");
        }
    }

    private HouseholdRoom ReadRoom(MapNode group, string path)
    {
        var room = new HouseholdRoom();
        binder.Bind(group, path, room, HouseholdRoom.Parameters, HouseholdGroups.Nested);
        if (Inside(group, path, "quiet", "from, to, fan_at_most") is { } hours)
            binder.Bind(hours, path + ".quiet", room, HouseholdRoom.QuietParameters);
        if (Inside(group, path, "noise_allowance", "until") is { } allowance && binder.Bind(allowance, path + ".noise_allowance", room, HouseholdRoom.AllowanceParameters))
            Allowance(group, allowance, path, room);
        if (Inside(group, path, "week", "named periods, each with days, from, to, cool_above, heat_below") is { } week)
            room = room.WithWeek(new WeekReader(problems, binder).Read(week, path + ".week"));
        if (room.StartEarlyAtMostS > 0 && group.Find("week") is null)
            problems.Warn(group.MarkOf("start_early_at_most"), path + ".start_early_at_most", "", "there is no week whose periods the room could begin ahead of", "remove it, or add week");
        if (Inside(group, path, "once", "until, cool_above, heat_below") is { } once)
            room = room.WithOnce(new DatedReader(problems, binder, Local).Once(once, path + ".once"));
        return room;
    }

    private MapNode? Inside(MapNode group, string path, string key, string allowed)
    {
        var entry = group.Find(key);
        if (entry is not null && entry.Value is not (MapNode or BrokenNode))
            problems.Error(entry.Value.Mark, $"{path}.{key}", "", "one value or nothing stands where a group is wanted", allowed, "");
        return entry?.Value as MapNode;
    }

    private void Allowance(MapNode group, MapNode allowance, string path, HouseholdRoom room)
    {
        if (group.Find("quiet") is null)
            problems.Warn(allowance.MarkOf("until"), path + ".noise_allowance", "", "there are no quiet hours to lift", "remove it, or add quiet");
        else if (!double.IsNaN(room.QuietFromMinutes) && !double.IsNaN(room.QuietToMinutes) && !room.AllowanceFits)
            problems.Error(allowance.MarkOf("until"), path + ".noise_allowance.until", "", "does not lie within quiet hours", "a time between quiet's from and to", "");
    }
}
