// Reads the groups with dates: the house's absence and a room's one-off wish. Says when one is past; never reads a clock itself.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <param name="problems">Where to tell.</param>
/// <param name="binder">Binds keys.</param>
/// <param name="local">Wall time of the site; null: what is past is not told.</param>
internal sealed class DatedReader(Problems problems, ParameterBinder binder, DateTime? local)
{
    /// <summary>The absence of the house, or null when it was not understood.</summary>
    public Absence? Absence(Entry entry)
    {
        if (entry.Value is not MapNode group)
        {
            if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, "absence", "", "one value or nothing stands where a group is wanted", "from, to, back_before, cool_above, heat_below", "");
            return null;
        }
        var absence = new Absence();
        if (!binder.Bind(group, "absence", absence, Sequence.Absence.Parameters))
            return null;
        if (absence.ToMinutes <= absence.FromMinutes)
            problems.Error(group.MarkOf("to"), "absence.to", "", "is not after from", $"later than {DateText.Show(absence.FromMinutes, Quantity.Date)}", "look at year, month and day");
        else if (absence.RelaxedUntilMinutes <= absence.FromMinutes)
            problems.Warn(group.MarkOf("back_before"), "absence.back_before", "", "is as long as the absence: nothing is relaxed", "write less");
        if (absence.CoolAboveC - absence.HeatBelowC < HouseholdRoom.DeadBandK)
            problems.Error(group.MarkOf("heat_below"), "absence.heat_below", "", problems.Words("is less than 1 K under the absence's cool_above"), "", "a room would be heated and cooled by turns: move them apart");
        Past(absence.ToMinutes, Quantity.Date, group.MarkOf("to"), "absence");
        return absence;
    }

    /// <summary>A room's one-off wish, or null when it was not understood.</summary>
    public OnceWish? Once(MapNode group, string path)
    {
        var once = new OnceWish();
        if (!binder.Bind(group, path, once, OnceWish.Parameters))
            return null;
        if (double.IsNaN(once.CoolAboveC) && double.IsNaN(once.HeatBelowC))
            problems.Error(group.Mark, path, "", "wants nothing: there is neither cool_above nor heat_below", "", "add one of them, or remove it");
        Past(once.UntilMinutes, Quantity.DateTime, group.MarkOf("until"), path);
        return once;
    }

    private void Past(double minutes, Quantity quantity, Mark mark, string path)
    {
        if (local is { } now && minutes <= DateText.MinutesOf(now))
            problems.Warn(mark, path, "", $"is over since {DateText.Show(minutes, quantity)}: it changes nothing any more", "remove it, or write a later date");
    }
}
