// The household's settings as a flat list of what was set, for differences, answers and histories. Text for people; nothing reads it back
// (that is HouseholdWriter).
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>One setting that changed.</summary>
/// <param name="Path">Room and key, e.g. <c>weaving-room.quiet.from</c>.</param>
/// <param name="Old">As it was, in people's units; "none" where there was none.</param>
/// <param name="New">As it is.</param>
public readonly record struct Change(string Path, string Old, string New)
{
    public override string ToString() => $"{Path}: {Old} → {New}";
}

/// <summary>Listing and comparing.</summary>
public static class HouseholdList
{
    private const string None = "none";

    /// <summary>What differs between two houses' household settings, in the order of rooms and keys.</summary>
    public static IReadOnlyList<Change> Changes(HouseholdInForce before, HouseholdInForce after, UnitSystem units)
        => Changes(Of(before, units), Of(after, units));

    /// <summary>What differs between two lists of settings by path.</summary>
    internal static IReadOnlyList<Change> Changes(IReadOnlyList<(string Path, string Shown)> before, IReadOnlyList<(string Path, string Shown)> after)
    {
        var old = before.ToDictionary(setting => setting.Path, setting => setting.Shown);
        var changed = after.Where(setting => old.GetValueOrDefault(setting.Path, None) != setting.Shown)
            .Select(setting => new Change(setting.Path, old.GetValueOrDefault(setting.Path, None), setting.Shown)).ToList();
        var still = after.Select(setting => setting.Path).ToHashSet();
        changed.AddRange(before.Where(setting => !still.Contains(setting.Path) && setting.Shown != None).Select(setting => new Change(setting.Path, setting.Shown, None)));
        return changed;
    }

    /// <summary>Every setting that holds, by path.</summary>
    public static IReadOnlyList<(string Path, string Shown)> Of(HouseholdInForce household, UnitSystem units)
    {
        var list = household.Rooms.SelectMany(room => HouseholdGroups.OfRoom.SelectMany(group => Of(room.Value, group, units).Select(setting => ($"{room.Key}.{setting.Path}", setting.Shown)))).ToList();
        if (household.Rooms.Count > 0)
            list.AddRange(Of(household.Rooms.Values.First(), HouseholdGroup.Absence, units));
        return list;
    }

    /// <summary>What a group of a room says, by key path within the room; empty when it says nothing.</summary>
    public static IEnumerable<(string Path, string Shown)> Of(HouseholdRoom room, HouseholdGroup group, UnitSystem units) => group switch
    {
        HouseholdGroup.Quiet => double.IsNaN(room.QuietFromMinutes) && double.IsNaN(room.QuietToMinutes) ? [] : Shown("quiet.", room, HouseholdRoom.QuietParameters, units),
        HouseholdGroup.NoiseAllowance => Shown("noise_allowance.", room, HouseholdRoom.AllowanceParameters, units).Where(setting => setting.Shown != None),
        HouseholdGroup.Week => room.Week.SelectMany(period => Shown($"week.{period.Name}.", period, WeekPeriod.Parameters, units)).Where(setting => setting.Shown != None),
        HouseholdGroup.Once => room.Once is null ? [] : Shown("once.", room.Once, OnceWish.Parameters, units).Where(setting => setting.Shown != None),
        HouseholdGroup.Absence => room.Absence is null ? [] : Shown("absence.", room.Absence, Absence.Parameters, units),
        _ => Shown("", room, [.. HouseholdRoom.Parameters.Where(parameter => HouseholdGroups.Of(parameter.Key) == group)], units),
    };

    /// <summary>True when a group says something other than the defaults.</summary>
    internal static bool HasAnything(HouseholdRoom room, HouseholdGroup group)
        => !Of(room, group, UnitSystem.Metric).SequenceEqual(Of(new HouseholdRoom(), group, UnitSystem.Metric));

    private static IEnumerable<(string Path, string Shown)> Shown<T>(string prefix, T owner, IReadOnlyList<Parameter<T>> parameters, UnitSystem units)
        => parameters.Select(parameter => (prefix + parameter.Key, Shown(owner, parameter, units)));

    private static string Shown<T>(T owner, Parameter<T> parameter, UnitSystem units)
    {
        if (parameter.GetText is not null)
            return parameter.GetText(owner);
        var value = parameter.GetNumber!(owner);
        return double.IsNaN(value) ? None : Quantities.ShowExactly(value, parameter.Quantity, units);
    }
}
