// One household setting changed while running, by its path: what lockstep lines and later the household's file do. Checked like the
// file; a refused edit changes nothing.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Edits of household settings.</summary>
public static class HouseholdEdits
{
    /// <summary>Applies one edit.</summary>
    /// <param name="house">The house as it is.</param>
    /// <param name="path">Room and key, e.g. <c>weaving-room.fan_at_most</c> or <c>weaving-room.quiet.from</c>.</param>
    /// <param name="text">The value as a person writes it, e.g. <c>40 %</c>.</param>
    /// <param name="changed">The house with the edit, or the same house.</param>
    /// <param name="why">What is wrong and what is allowed; empty when accepted.</param>
    public static bool TryApply(House house, string path, string text, out House changed, out string why)
    {
        changed = house;
        var dot = path.IndexOf('.', StringComparison.Ordinal);
        var names = house.Rooms.Select(room => room.Id).ToList();
        var room = names.IndexOf(dot < 0 ? path : path[..dot]);
        if (room < 0 || dot < 0)
            return Refuse($"\"{path}\" names no room and key; rooms: {string.Join(", ", names)}", out why);
        var key = path[(dot + 1)..];
        var quiet = key.StartsWith("quiet.", StringComparison.Ordinal);
        var parameters = quiet ? HouseholdRoom.QuietParameters : HouseholdRoom.Parameters;
        var parameter = parameters.FirstOrDefault(candidate => candidate.Key == (quiet ? key[6..] : key));
        if (parameter is null)
        {
            string[] known = [.. HouseholdRoom.Parameters.Select(p => p.Key), .. HouseholdRoom.QuietParameters.Select(p => "quiet." + p.Key)];
            return Refuse($"unknown key \"{key}\"; allowed: {string.Join(", ", known)} {Nearest.Hint(key, known)}".TrimEnd(), out why);
        }
        return TrySet(house, room, parameter, text, out changed, out why);
    }

    private static bool TrySet(House house, int room, Parameter<HouseholdRoom> parameter, string text, out House changed, out string why)
    {
        changed = house;
        var problems = new Problems();
        var node = new ScalarNode(new Mark("", 1, 1), text, false, false);
        if (!new ParameterBinder(problems).TryNumber(node, "", parameter, out var value))
        {
            var problem = problems.Ordered()[0];
            var advice = problem.WhatToDo.Length > 0 ? "; " + problem.WhatToDo : "";
            return Refuse($"\"{text}\" {problem.Message}; allowed: {problem.Allowed}{advice}", out why);
        }
        if (parameter.Key == "noise_at_most" && house.Rooms[room].Coils.Any(coil => double.IsNaN(house.Coils[coil].Kind.SoundLevelDb)))
            return Refuse("the coil's kind has no sound data: a limit in decibels could not be kept", out why);
        var household = house.Rooms[room].Household.Copy();
        parameter.SetNumber!(household, value);
        if (household.QuietFromMinutes == household.QuietToMinutes)
            return Refuse("quiet hours would begin and end at the same minute", out why);
        changed = house.WithHousehold(room, household);
        why = "";
        return true;
    }

    private static bool Refuse(string reason, out string why)
    {
        why = reason;
        return false;
    }
}
