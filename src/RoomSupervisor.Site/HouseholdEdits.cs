// One household setting changed while running, by its path: what lockstep lines do. Checked like the file; a refused edit changes
// nothing. A group that is not complete yet (a once without until) is taken and does not hold until it is.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Edits of household settings.</summary>
public static class HouseholdEdits
{
    /// <summary>Keys of a room as paths; a period's stand for any name.</summary>
    private static readonly string[] Known =
    [
        .. HouseholdRoom.Parameters.Select(p => p.Key), .. HouseholdRoom.QuietParameters.Select(p => "quiet." + p.Key), .. HouseholdRoom.AllowanceParameters.Select(p => "noise_allowance." + p.Key),
        .. OnceWish.Parameters.Select(p => "once." + p.Key), .. WeekPeriod.Parameters.Select(p => "week.NAME." + p.Key),
    ];

    /// <summary>Applies one edit.</summary>
    /// <param name="house">The house as it is.</param>
    /// <param name="path">Room and key, e.g. <c>weaving-room.fan_at_most</c>, <c>weaving-room.week.evening.cool_above</c> or, of the house, <c>absence.from</c>.</param>
    /// <param name="text">The value as a person writes it, e.g. <c>40 %</c>.</param>
    /// <param name="changed">The house with the edit, or the same house.</param>
    /// <param name="why">What is wrong and what is allowed; empty when accepted.</param>
    public static bool TryApply(House house, string path, string text, out House changed, out string why)
    {
        changed = house;
        var dot = path.IndexOf('.', StringComparison.Ordinal);
        var names = house.Rooms.Select(room => room.Id).ToList();
        var room = names.IndexOf(dot < 0 ? path : path[..dot]);
        if (room < 0 && dot > 0 && path[..dot] == "absence")
            return TryAbsence(house, path[(dot + 1)..], text, out changed, out why);
        if (room < 0 || dot < 0)
            return Refuse($"\"{path}\" names no room and key; rooms: {string.Join(", ", names)}", out why);
        if (!TryRoom(house, room, path[(dot + 1)..], text, out var household, out why))
            return false;
        if (Fault(household, house.Units) is { } fault)
            return Refuse(fault, out why);
        changed = house.WithHousehold(room, household);
        return true;
    }

    private static bool TryAbsence(House house, string key, string text, out House changed, out string why)
    {
        changed = house;
        var absence = house.Rooms[0].Household.Absence?.Copy() ?? new Absence();
        if (!TrySet(absence, Absence.Parameters, key, text, [.. Absence.Parameters.Select(p => p.Key)], house.Units, out why))
            return false;
        if (absence.ToMinutes <= absence.FromMinutes)
            return Refuse("to is not after from", out why);
        var edited = house;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var household = house.Rooms[i].Household.WithAbsence(absence);
            if (Fault(household, house.Units) is { } fault)
                return Refuse(fault, out why);
            edited = edited.WithHousehold(i, household);
        }
        changed = edited;
        return true;
    }

    private static bool TryRoom(House house, int room, string key, string text, out HouseholdRoom household, out string why)
    {
        household = house.Rooms[room].Household.Copy();
        var parts = key.Split('.', 2);
        if (parts.Length == 1 && parts[0] == "noise_at_most" && house.Rooms[room].Coils.Any(coil => double.IsNaN(house.Coils[coil].Kind.SoundLevelDb)))
            return Refuse("the coil's kind has no sound data: a limit in decibels could not be kept", out why);
        switch (parts.Length == 1 ? "" : parts[0])
        {
            case "":
                return TrySet(household, HouseholdRoom.Parameters, key, text, Known, house.Units, out why);
            case "quiet":
                return TrySet(household, HouseholdRoom.QuietParameters, parts[1], text, Known, house.Units, out why);
            case "noise_allowance":
                return TrySet(household, HouseholdRoom.AllowanceParameters, parts[1], text, Known, house.Units, out why);
            case "once":
                var once = household.Once?.Copy() ?? new OnceWish();
                household = household.WithOnce(once);
                return TrySet(once, OnceWish.Parameters, parts[1], text, Known, house.Units, out why);
            case "week" when parts[1].Split('.', 2) is [var name, var inPeriod]:
                return TryPeriod(ref household, name, inPeriod, text, house.Units, out why);
            default:
                return Unknown(key, Known, out why);
        }
    }

    private static bool TryPeriod(ref HouseholdRoom household, string name, string key, string text, UnitSystem units, out string why)
    {
        if (NameRules.Fault(name) is { } fault)
            return Refuse($"\"{name}\" {fault}", out why);
        var index = household.Week.ToList().FindIndex(candidate => candidate.Name == name);
        var period = index >= 0 ? household.Week[index].Copy() : new WeekPeriod(name);
        if (!TrySet(period, WeekPeriod.Parameters, key, text, Known, units, out why))
            return false;
        if (!DayWords.TryRead(period.DaysText, out _, out var wrong))
            return Refuse($"\"{wrong}\" is no day of the week; allowed: {DayWords.Allowed}", out why);
        if (period.FromMinutes == period.ToMinutes)
            return Refuse("the period would begin and end at the same minute", out why);
        household = household.WithWeek(index >= 0 ? household.Week.SetItem(index, period) : household.Week.Add(period));
        return true;
    }

    /// <summary>What is wrong with the settings of a room together, or null.</summary>
    private static string? Fault(HouseholdRoom household, UnitSystem units)
    {
        if (household.QuietFromMinutes == household.QuietToMinutes)
            return "quiet hours would begin and end at the same minute";
        if (!double.IsNaN(household.NoiseAllowedUntilMinutes + household.QuietFromMinutes + household.QuietToMinutes) && !household.AllowanceFits)
            return "the noise allowance would not end within quiet hours";
        foreach (var what in DeadBand.Of(household))
            return what.Words(units);
        return null;
    }

    private static bool TrySet<T>(T owner, IReadOnlyList<Parameter<T>> parameters, string key, string text, string[] known, UnitSystem units, out string why)
    {
        if (parameters.FirstOrDefault(candidate => candidate.Key == key) is not { } parameter)
            return Unknown(key, known, out why);
        why = "";
        if (parameter.SetText is not null)
        {
            parameter.SetText(owner, text);
            return true;
        }
        var problems = new Problems();
        if (!new ParameterBinder(problems) { Units = units }.TryNumber(new ScalarNode(new Mark("", 1, 1), text, false, false), "", parameter, out var value))
        {
            var problem = problems.Ordered()[0];
            var advice = problem.WhatToDo.Length > 0 ? "; " + problem.WhatToDo : "";
            return Refuse($"\"{text}\" {problem.Message}; allowed: {problem.Allowed}{advice}", out why);
        }
        parameter.SetNumber!(owner, value);
        return true;
    }

    private static bool Unknown(string key, string[] known, out string why)
        => Refuse($"unknown key \"{key}\"; allowed: {string.Join(", ", known)} {Nearest.Hint(key, known)}".TrimEnd(), out why);

    private static bool Refuse(string reason, out string why)
    {
        why = reason;
        return false;
    }
}
