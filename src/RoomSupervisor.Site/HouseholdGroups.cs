// The setting groups of household.yaml: what is accepted or kept together. Pure tables and copying; decides nothing.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Settings that hold or fall together.</summary>
public enum HouseholdGroup : byte
{
    /// <summary>control</summary>
    Control,

    /// <summary>cool_above and heat_below</summary>
    Wanted,

    /// <summary>fan_at_most</summary>
    Fan,

    /// <summary>noise_at_most</summary>
    Noise,

    /// <summary>start_early_at_most</summary>
    StartEarly,

    /// <summary>all of quiet</summary>
    Quiet,

    /// <summary>all periods of a room's week</summary>
    Week,

    /// <summary>noise_allowance</summary>
    NoiseAllowance,

    /// <summary>once</summary>
    Once,

    /// <summary>absence, of the house</summary>
    Absence,
}

/// <summary>Names, keys and copying of groups.</summary>
public static class HouseholdGroups
{
    private static readonly (HouseholdGroup Group, string Key)[] Keys =
    [
        (HouseholdGroup.Control, "control"), (HouseholdGroup.Wanted, "cool_above"), (HouseholdGroup.Wanted, "heat_below"), (HouseholdGroup.Fan, "fan_at_most"),
        (HouseholdGroup.Noise, "noise_at_most"), (HouseholdGroup.StartEarly, "start_early_at_most"), (HouseholdGroup.Quiet, "quiet"), (HouseholdGroup.Week, "week"), (HouseholdGroup.NoiseAllowance, "noise_allowance"),
        (HouseholdGroup.Once, "once"), (HouseholdGroup.Absence, "absence"),
    ];

    /// <summary>Groups of one room: all but the absence.</summary>
    public static IReadOnlyList<HouseholdGroup> OfRoom { get; } = [.. Enum.GetValues<HouseholdGroup>().Where(group => group != HouseholdGroup.Absence)];

    /// <summary>Groups that a room holds as groups of keys.</summary>
    internal static string[] Nested { get; } = ["quiet", "week", "noise_allowance", "once"];

    /// <summary>Group of a key as it stands under a room or at the top, or null.</summary>
    public static HouseholdGroup? Of(string key)
    {
        foreach (var (group, known) in Keys)
        {
            if (known == key)
                return group;
        }
        return null;
    }

    /// <summary>Its keys as people write them: "cool_above and heat_below".</summary>
    public static string NameOf(HouseholdGroup group) => string.Join(" and ", Keys.Where(pair => pair.Group == group).Select(pair => pair.Key));

    /// <summary>A room with one group taken from another.</summary>
    public static HouseholdRoom Take(HouseholdRoom room, HouseholdRoom from, HouseholdGroup group)
    {
        switch (group)
        {
            case HouseholdGroup.Week:
                return room.WithWeek(from.Week);
            case HouseholdGroup.Once:
                return room.WithOnce(from.Once);
            case HouseholdGroup.Absence:
                return room.WithAbsence(from.Absence);
            default:
                var copy = room.Copy();
                foreach (var parameter in Parameters(group))
                    parameter.SetNumber!(copy, parameter.GetNumber!(from));
                return copy;
        }
    }

    private static IEnumerable<Parameter<HouseholdRoom>> Parameters(HouseholdGroup group) => group switch
    {
        HouseholdGroup.Quiet => HouseholdRoom.QuietParameters,
        HouseholdGroup.NoiseAllowance => HouseholdRoom.AllowanceParameters,
        _ => HouseholdRoom.Parameters.Where(parameter => Of(parameter.Key) == group),
    };
}
