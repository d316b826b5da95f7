// Reads the weekly periods of a room: named groups with days, times and temperatures. Overlapping periods that disagree are told; the
// one that begins later wins.
using System.Collections.Immutable;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class WeekReader(Problems problems, ParameterBinder binder)
{
    /// <summary>More than this nobody can keep in mind, and every scan looks at each.</summary>
    private const int Most = 20;

    public ImmutableArray<WeekPeriod> Read(MapNode week, string path)
    {
        var periods = ImmutableArray.CreateBuilder<WeekPeriod>();
        if (week.Entries.Count > Most)
            problems.Error(week.Mark, path, "", $"has {week.Entries.Count} periods", $"at most {Most}", "");
        foreach (var entry in week.Entries)
        {
            var own = $"{path}.{entry.Key}";
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, own, entry.Key, fault);
            else if (entry.Value is MapNode group)
                Period(group, entry, own, periods);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, own, "", "one value or nothing stands where a group is wanted", "days, from, to, cool_above, heat_below", "");
        }
        return periods.ToImmutable();
    }

    private void Period(MapNode group, Entry entry, string path, ImmutableArray<WeekPeriod>.Builder periods)
    {
        var period = new WeekPeriod(entry.Key);
        if (!binder.Bind(group, path, period, WeekPeriod.Parameters))
            return;
        if (!DayWords.TryRead(period.DaysText, out _, out var wrong))
        {
            problems.Error(group.MarkOf("days"), path + ".days", wrong, "is no day of the week", DayWords.Allowed, "");
            return;
        }
        if (period.FromMinutes == period.ToMinutes)
            problems.Error(group.MarkOf("to"), path, "", "begins and ends at the same minute", "two different times", "for the whole day write 00:00 and 23:59, or set the room's own values");
        if (double.IsNaN(period.CoolAboveC) && double.IsNaN(period.HeatBelowC))
            problems.Error(entry.KeyMark, path, "", "wants nothing: there is neither cool_above nor heat_below", "", "add one of them, or remove the period");
        foreach (var other in periods)
        {
            if (Overlap(period, other) is { } moment && !Agree(period, other))
                problems.Warn(entry.KeyMark, path, "", $"overlaps with {other.Name} ({moment}) and wants something else: the one that begins later wins", "make them end where the other begins");
        }
        periods.Add(period);
    }

    private static bool Agree(WeekPeriod one, WeekPeriod other) => one.CoolAboveC.Equals(other.CoolAboveC) && one.HeatBelowC.Equals(other.HeatBelowC);

    /// <summary>The first moment of a week at which both hold, in words; periods overlap if and only if one holds when the other begins.</summary>
    private string? Overlap(WeekPeriod one, WeekPeriod other) => BeginsWithin(one, other, binder.Units) ?? BeginsWithin(other, one, binder.Units);

    private static string? BeginsWithin(WeekPeriod begins, WeekPeriod within, UnitSystem units)
    {
        var monday = new DateTime(2024, 1, 1);   // any Monday
        for (var day = 0; day < 7; day++)
        {
            var at = monday.AddDays(day).AddMinutes(begins.FromMinutes);
            if (begins.BeginsOn(at.DayOfWeek) && !double.IsNaN(within.Since(at)))
                return $"{DayWords.Show((byte)(1 << (int)at.DayOfWeek))} {Quantities.Show(begins.FromMinutes, Quantity.TimeOfDay, units)}";
        }
        return null;
    }
}
