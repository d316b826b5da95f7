// What became of a household.yaml that was read group by group. Pure data.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Site;

/// <summary>How a household.yaml was found.</summary>
public enum HouseholdState : byte
{
    /// <summary>Everything understood.</summary>
    Fine,

    /// <summary>Understood but for some groups.</summary>
    BrokenGroup,

    /// <summary>Nothing to be had of it: tabs, an open brace, not UTF-8, unreadable.</summary>
    NoStructure,

    /// <summary>Nothing but spaces and comments.</summary>
    Empty,

    /// <summary>There is no such file.</summary>
    Missing,
}

/// <summary>The household's settings that held before, by room.</summary>
public sealed record HouseholdInForce(IReadOnlyDictionary<string, HouseholdRoom> Rooms)
{
    /// <summary>Of a house as it runs.</summary>
    public static HouseholdInForce Of(House house) => new(house.Rooms.ToDictionary(room => room.Id, room => room.Household));

    /// <summary>A room's settings, or defaults where nobody ever said anything.</summary>
    public HouseholdRoom Room(string name) => Rooms.TryGetValue(name, out var room) ? room : new HouseholdRoom().WithAbsence(Absence);

    /// <summary>The house's absence.</summary>
    public Absence? Absence => Rooms.Values.FirstOrDefault()?.Absence;
}

/// <summary>A group that stayed as it was.</summary>
/// <param name="Room">Its room; empty for the absence.</param>
/// <param name="Group">Which group.</param>
/// <param name="Why">Why, in words; empty where a problem in the list says it.</param>
/// <param name="Line">Line of the file that made it so, 1-based; 0: no single one.</param>
public sealed record KeptGroup(string Room, HouseholdGroup Group, string Why, int Line);

/// <summary>The outcome of reading a household.yaml group by group.</summary>
/// <param name="State">How the file was found.</param>
/// <param name="Kept">Groups that stayed as they were; empty when the whole file was kept or everything understood.</param>
public sealed record HouseholdOutcome(HouseholdState State, IReadOnlyList<KeptGroup> Kept);
