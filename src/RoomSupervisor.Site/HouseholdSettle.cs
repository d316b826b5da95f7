// What holds of a household.yaml with mistakes: a sound group is taken, a broken one stays as it was, a deleted one returns to its
// default, two that contradict each other both stay. A key counts as deleted only where everything around it was understood: a slip of
// typing in its name must not make a room cold.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <param name="reader">The file as it was read; its rooms are replaced by what holds.</param>
/// <param name="before">What held before, or null: defaults.</param>
/// <param name="errors">Mistakes of the file.</param>
/// <param name="problems">Where contradictions are told.</param>
/// <param name="units">Units of messages.</param>
internal sealed class HouseholdSettle(HouseholdReader reader, HouseholdInForce? before, IReadOnlyList<Problem> errors, Problems problems, UnitSystem units)
{
    private readonly HouseholdInForce was = before ?? new HouseholdInForce(new Dictionary<string, HouseholdRoom>());
    private readonly Dictionary<(string Room, HouseholdGroup Group), KeptGroup> kept = [];

    /// <summary>Settles every room.</summary>
    /// <param name="state">How the file was found as a whole.</param>
    public HouseholdOutcome Settle(HouseholdState state)
    {
        if (state is HouseholdState.Missing or HouseholdState.Empty or HouseholdState.NoStructure)
        {
            foreach (var name in reader.Rooms.Keys.ToList())
                reader.Put(name, was.Room(name));
            return new HouseholdOutcome(state, []);
        }
        var areas = new HouseholdAreas(reader.File!, reader.Rooms.Keys);
        areas.Lay(errors);
        Absence(areas);
        foreach (var name in reader.Rooms.Keys.ToList())
        {
            foreach (var group in HouseholdGroups.OfRoom)
                Group(name, group, areas);
        }
        Contradictions();
        return new HouseholdOutcome(errors.Count == 0 && kept.Count == 0 ? HouseholdState.Fine : HouseholdState.BrokenGroup, [.. kept.Values]);
    }

    private void Group(string room, HouseholdGroup group, HouseholdAreas areas)
    {
        var line = areas.BrokenAt(room, group);
        var isBroken = line > 0;
        if (!isBroken && (!areas.Has(room, group) || (group == HouseholdGroup.Wanted && IsHalfGone(room, areas))))
            line = areas.DoubtAt(room);
        if (line == 0)
            return;
        Keep(room, group, isBroken ? "" : "is not in the file as it was, but the file was not understood throughout, so nothing counts as deleted", line, isAbsent: !isBroken);
    }

    /// <summary>True when one of the two wanted temperatures is not in the file and held something before.</summary>
    private bool IsHalfGone(string room, HouseholdAreas areas)
        => (!areas.HasKey(room, "heat_below") && was.Room(room).IsHeatBelowWritten) || (!areas.HasKey(room, "cool_above") && was.Room(room).CoolAboveC != new HouseholdRoom().CoolAboveC);

    private void Absence(HouseholdAreas areas)
    {
        var line = areas.BrokenAt("", HouseholdGroup.Absence);
        var isBroken = line > 0;
        if (!isBroken && !areas.Has("", HouseholdGroup.Absence))
            line = areas.DoubtAt("");
        if (line > 0)
            Keep("", HouseholdGroup.Absence, isBroken ? "" : "is not in the file, but the file was not understood throughout, so nothing counts as deleted", line, isAbsent: !isBroken);
    }

    /// <summary>A group stays as it was; nothing is noted where that is what the file says anyway.</summary>
    private void Keep(string room, HouseholdGroup group, string why, int line, bool isAbsent = false)
    {
        if (group == HouseholdGroup.Absence)
        {
            foreach (var name in reader.Rooms.Keys.ToList())
                reader.Put(name, reader.Rooms[name].WithAbsence(was.Absence));
        }
        else
        {
            reader.Put(room, HouseholdGroups.Take(reader.Rooms[room], was.Room(room), group));
        }
        if (!isAbsent || HouseholdList.HasAnything(was.Room(room), group))
            kept.TryAdd((group == HouseholdGroup.Absence ? "" : room, group), new KeptGroup(group == HouseholdGroup.Absence ? "" : room, group, why, line));
    }

    /// <summary>Until nothing contradicts: in the end everything is as it was, which did not.</summary>
    private void Contradictions()
    {
        for (var round = 0; round < Enum.GetValues<HouseholdGroup>().Length; round++)
        {
            var found = reader.Rooms.SelectMany(room => DeadBand.Of(room.Value).Select(what => (Room: room.Key, What: what))).ToList();
            if (found.Count == 0)
                return;
            foreach (var (room, what) in found)
            {
                var mark = MarkOf(room, what);
                problems.Error(mark, $"rooms.{room}", "", what.Words(units), "", "a room would be heated and cooled by turns: move them apart");
                if (what.One == what.Other)
                    Keep(room, what.One, "contradict each other and stay as they were", mark.Line);
                else
                    Keep(room, what.One, $"contradicts {HouseholdGroups.NameOf(what.Other)}: both stay as they were", mark.Line);
                Keep(room, what.Other, $"contradicts {HouseholdGroups.NameOf(what.One)}: both stay as they were", mark.Line);
            }
        }
        foreach (var name in reader.Rooms.Keys.ToList())
            reader.Put(name, was.Room(name));
    }

    private Mark MarkOf(string room, Contradiction what) => MarkOf(reader, room, what);

    /// <summary>Where the part of a contradiction stands that is most likely meant to change: the later-ranking group.</summary>
    public static Mark MarkOf(HouseholdReader reader, string room, Contradiction what)
    {
        var strongest = what.One > what.Other ? what.One : what.Other;
        var group = reader.Groups.GetValueOrDefault(room);
        if (strongest == HouseholdGroup.Absence)
            return reader.File?.MarkOf("absence") ?? default;
        if (group is null)
            return reader.File?.Mark ?? new Mark(SiteReader.HouseholdFile, 1, 1);
        return strongest switch
        {
            HouseholdGroup.Week => (group.Find("week")?.Value as MapNode)?.Find(what.InPeriod)?.KeyMark ?? group.MarkOf("week"),
            HouseholdGroup.Once => group.Find("once")?.KeyMark ?? group.Mark,
            _ => group.MarkOf(group.Find("heat_below") is null ? "cool_above" : "heat_below"),
        };
    }
}
