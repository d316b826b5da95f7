// The words of household.answer.txt: what was accepted, what was not understood and what was kept, and the price of a change. For a
// person who saved a file a moment ago. Pure text.
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>Writing the answer.</summary>
public static class AnswerText
{
    /// <summary>The whole answer but its first line, which says when.</summary>
    /// <param name="house">The house as it holds now.</param>
    /// <param name="before">What held before; null: nothing is known of it.</param>
    /// <param name="after">What holds now.</param>
    /// <param name="outcome">What became of the file.</param>
    /// <param name="problems">Mistakes and doubts of the file.</param>
    /// <param name="local">Schedule time of the site, for what holds now.</param>
    public static string Write(House house, HouseholdInForce? before, HouseholdInForce after, HouseholdOutcome outcome, IReadOnlyList<Problem> problems, DateTime local)
    {
        var text = new StringBuilder();
        var whole = Whole(outcome.State, before is not null);
        if (whole.Length > 0)
            text.Append(whole).Append('\n');
        Accepted(text, house, before, after, outcome);
        NotUnderstood(text, problems);
        Kept(text, house, before, after, outcome);
        Doubts(text, problems);
        text.Append("\nNow:\n");
        foreach (var room in house.Rooms)
            text.Append("  ").Append(HoldsNow(room, local, house.Units)).Append('\n');
        return text.ToString();
    }

    /// <summary>"weaving-room: cooled above 23 °C, heated below 21 °C (week: evening), fan at most 35 %; next change 2026-11-25 22:30".</summary>
    private static string HoldsNow(Room room, DateTime local, UnitSystem units)
    {
        if (!room.Household.Control)
            return $"{room.Id}: switched off";
        var wanted = Schedule.Now(room.Household, local);
        var rule = wanted.Rule switch
        {
            WishRule.Week => $" (week: {room.Household.Week[wanted.Period].Name})",
            WishRule.Absence => " (absence)",
            WishRule.Once => " (once)",
            _ => "",
        };
        var next = Schedule.NextChange(room.Household, local);
        return $"{room.Id}: cooled above {Quantities.ShowExactly(wanted.CoolAboveC, Quantity.Temperature, units)}, heated below {Quantities.ShowExactly(wanted.HeatBelowC, Quantity.Temperature, units)}{rule}, "
            + $"fan at most {Quantities.Show(wanted.FanAtMostPercent, Quantity.Percent, units)}{(wanted.IsQuiet ? " (quiet hours)" : "")}"
            + (next == DateTime.MaxValue ? "" : $"; next change {DateText.Show(DateText.MinutesOf(next), Quantity.DateTime)}"
                + (room.Household.MayStartEarly ? $"; begins up to {Quantities.Show(room.Household.StartEarlyAtMostS, Quantity.Duration, units)} ahead of a stricter period" : ""));
    }

    private static string Whole(HouseholdState state, bool hasBefore)
    {
        var rest = hasBefore ? "Everything stays as it was." : "Nothing earlier is known, so defaults hold in every room.";
        return state switch
        {
            HouseholdState.Missing => $"There is no household.yaml. {rest}",
            HouseholdState.Empty => $"The file is empty. {rest}",
            HouseholdState.NoStructure => $"The file could not be read as a whole. {rest}",
            _ => "",
        };
    }

    private static void Accepted(StringBuilder text, House house, HouseholdInForce? before, HouseholdInForce after, HouseholdOutcome outcome)
    {
        if (outcome.State is HouseholdState.Missing or HouseholdState.Empty or HouseholdState.NoStructure)
            return;
        var was = before ?? new HouseholdInForce(house.Rooms.ToDictionary(room => room.Id, _ => new HouseholdRoom()));
        var changes = HouseholdList.Changes(was, after, house.Units);
        text.Append(changes.Count > 0 ? "Accepted:\n" : outcome.State == HouseholdState.Fine ? "Understood. Nothing has changed.\n" : "Nothing has changed.\n");
        foreach (var change in changes)
            text.Append("  ").Append(change.ToString()).Append('\n');
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            foreach (var line in Price.Of(house, i, was.Room(house.Rooms[i].Id)))
                text.Append("  ").Append(line[0] == '(' ? "" : $"{house.Rooms[i].Id} ").Append(line).Append('\n');
        }
    }

    private static void NotUnderstood(StringBuilder text, IReadOnlyList<Problem> problems)
    {
        var errors = problems.Where(problem => problem.Severity == Severity.Error).ToList();
        if (errors.Count > 0)
            text.Append("\nNot understood:\n");
        foreach (var problem in errors)
            Tell(text, problem);
    }

    private static void Kept(StringBuilder text, House house, HouseholdInForce? before, HouseholdInForce after, HouseholdOutcome outcome)
    {
        if (outcome.Kept.Count > 0)
            text.Append(before is null ? "\nBy default instead:\n" : "\nKept as it was:\n");
        foreach (var kept in outcome.Kept)
        {
            var owner = kept.Room.Length == 0 ? house.Rooms[0].Id : kept.Room;
            var values = HouseholdList.Of(after.Room(owner), kept.Group, house.Units).Where(value => value.Shown != "none").Select(value => $"{value.Path} {value.Shown}").ToList();
            var path = kept.Room.Length == 0 ? "absence" : $"{kept.Room}: {HouseholdGroups.NameOf(kept.Group)}";
            text.Append($"  {path}{(kept.Line > 0 ? $" (line {kept.Line})" : "")}{(kept.Why.Length > 0 ? $" {kept.Why}" : "")}: {(values.Count > 0 ? string.Join(", ", values) : "none")}\n");
        }
    }

    private static void Doubts(StringBuilder text, IReadOnlyList<Problem> problems)
    {
        var warnings = problems.Where(problem => problem.Severity == Severity.Warning).ToList();
        if (warnings.Count > 0)
            text.Append("\nUnderstood, but look:\n");
        foreach (var problem in warnings)
            Tell(text, problem);
    }

    private static void Tell(StringBuilder text, Problem problem)
    {
        var path = problem.KeyPath.StartsWith("rooms.", StringComparison.Ordinal) ? problem.KeyPath[6..] : problem.KeyPath;
        text.Append($"  line {problem.Mark.Line}: {(path.Length > 0 ? path + ": " : "")}{(problem.Value.Length > 0 ? $"\"{Short(problem.Value)}\" " : "")}{problem.Message}");
        text.Append(problem.Allowed.Length > 0 ? $"; allowed: {problem.Allowed}" : "").Append(problem.WhatToDo.Length > 0 ? $"; {problem.WhatToDo}" : "").Append('\n');
    }

    private static string Short(string value) => new([.. value.Take(60).Select(c => char.IsControl(c) ? ' ' : c)]);
}
