// Further air sensors of a room: declared by wiring them as air-<name>.temperature and air-<name>.humidity. Gives the points they may have. Never guesses a
// temperature for a humidity: each dew point needs the temperature of its own chip.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class AirSensors
{
    /// <summary>Most of them in one room, beside its own.</summary>
    private const int Most = 7;

    private const string Prefix = "air-", Temperature = ".temperature", Humidity = ".humidity";

    /// <summary>True for a point of the room's air sensor that a further sensor may have too.</summary>
    public static bool MayRepeat(string point) => point is "air" + Temperature or "air" + Humidity;

    /// <summary>The sensors that a points group names; adds their points to those the room may have.</summary>
    public static IReadOnlyList<AirSensorPart> Of(Entry? points, Problems problems, string path, List<PointName> names)
    {
        if (points?.Value is not MapNode map)
            return [];
        List<AirSensorPart> found = [];
        var keys = map.Entries.Select(entry => entry.Key).ToHashSet(StringComparer.Ordinal);
        foreach (var entry in map.Entries)
        {
            if (NameOf(entry.Key) is not { } name)
                continue;
            var isHumidity = entry.Key.EndsWith(Humidity, StringComparison.Ordinal);
            names.Add(PointName.Input(entry.Key, isHumidity ? Quantity.Percent : Quantity.Temperature));
            if (!isHumidity)
                found.Add(new AirSensorPart(name, keys.Contains(name + Humidity)));
            else if (!keys.Contains(name + Temperature) && !map.Damaged)
                problems.Error(entry.KeyMark, $"{path}.{entry.Key}", "", "has no temperature beside it: its dew point needs that of the same chip", "", $"wire {name}{Temperature} as well");
            if (found.Count == Most + 1)
                problems.Error(entry.KeyMark, $"{path}.{entry.Key}", "", $"is one air sensor too many: {Most} beside the room's own", "", "leave out what tells least");
        }
        return found;
    }

    /// <summary>The part's name, <c>air-desk</c>, of such a point; null for any other.</summary>
    private static string? NameOf(string key)
    {
        var dot = key.IndexOf('.', StringComparison.Ordinal);
        var isPoint = dot > 0 && key[dot..] is Temperature or Humidity;
        return isPoint && key.StartsWith(Prefix, StringComparison.Ordinal) && dot > Prefix.Length && key[Prefix.Length..dot].All(c => c is >= 'a' and <= 'z' or >= '0' and <= '9' or '-') ? key[..dot] : null;
    }
}
