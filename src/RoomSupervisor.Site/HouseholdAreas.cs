// Lays mistakes of a household.yaml to the groups in whose lines they stand. A mistake that stands in no group puts its room, or the
// whole file, in doubt. Pure.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class HouseholdAreas
{
    private readonly record struct Area(string Room, string Key, HouseholdGroup? Group, long From, long To);

    private readonly List<Area> areas = [];
    private readonly Dictionary<(string Room, HouseholdGroup Group), int> broken = [];
    private readonly Dictionary<string, int> doubts = new(StringComparer.Ordinal);

    /// <param name="file">The file.</param>
    /// <param name="known">Rooms of the site: what stands under another name belongs to nobody.</param>
    public HouseholdAreas(MapNode file, IEnumerable<string> known)
    {
        foreach (var (entry, to) in Spans(file, long.MaxValue))
        {
            if (entry.Key == "absence")
                areas.Add(new Area("", entry.Key, HouseholdGroup.Absence, At(entry.KeyMark), to));
            if (entry.Key != "rooms" || entry.Value is not MapNode rooms)
                continue;
            foreach (var (room, end) in Spans(rooms, to).Where(span => known.Contains(span.Entry.Key)))
                Room(room, end);
        }
    }

    /// <summary>True when the file holds the group.</summary>
    public bool Has(string room, HouseholdGroup group) => areas.Exists(area => area.Room == room && area.Group == group);

    /// <summary>True when the file holds a key of a room.</summary>
    public bool HasKey(string room, string key) => areas.Exists(area => area.Room == room && area.Key == key);

    /// <summary>Line of the mistake that broke a group; 0: it is sound or absent.</summary>
    public int BrokenAt(string room, HouseholdGroup group) => broken.GetValueOrDefault((room, group));

    /// <summary>Line of a mistake because of which what is absent does not count as deleted; 0: there is none.</summary>
    public int DoubtAt(string room) => doubts.TryGetValue(room, out var line) ? line : doubts.GetValueOrDefault("");

    /// <summary>Lays every mistake to its group.</summary>
    public void Lay(IEnumerable<Problem> errors)
    {
        foreach (var error in errors)
        {
            var at = At(error.Mark);
            var inside = areas.Where(area => at >= area.From && at < area.To).ToList();
            var group = inside.Find(area => area.Group is not null);
            var room = inside.Count > 0 ? inside[0].Room : "";
            if (group.Group is { } own)
                broken.TryAdd((group.Room, own), error.Mark.Line);
            // A key written twice stands in the lines of its neighbour.
            var named = HouseholdGroups.Of(error.KeyPath);
            if (named is { } other)
                broken.TryAdd((other == HouseholdGroup.Absence ? "" : room, other), error.Mark.Line);
            if (group.Group is null && named is null)
                doubts.TryAdd(room, error.Mark.Line);
        }
    }

    private void Room(Entry room, long end)
    {
        areas.Add(new Area(room.Key, "", null, At(room.KeyMark), end));
        foreach (var (entry, to) in room.Value is MapNode group ? Spans(group, end) : [])
        {
            if (HouseholdGroups.Of(entry.Key) is { } known and not HouseholdGroup.Absence)
                areas.Add(new Area(room.Key, entry.Key, known, At(entry.KeyMark), to));
        }
    }

    /// <summary>Entries with the place where each ends: at the next one, or with the group.</summary>
    private static IEnumerable<(Entry Entry, long To)> Spans(MapNode map, long end)
    {
        for (var i = 0; i < map.Entries.Count; i++)
            yield return (map.Entries[i], i + 1 < map.Entries.Count ? At(map.Entries[i + 1].KeyMark) : end);
    }

    private static long At(Mark mark) => mark.Line * 1_000_000L + mark.Column;
}
