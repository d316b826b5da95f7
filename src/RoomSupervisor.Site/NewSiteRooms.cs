// The rooms of a new site as a person types them: "living room: ceiling coil 24 m²; bath: floor 8 m²". Refuses what it does not understand,
// with the words that stand there; never guesses an area.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>A room of a new site.</summary>
/// <param name="Name">Name by the rules of names.</param>
/// <param name="AreaM2">Floor area, m².</param>
/// <param name="Area">The same as typed, with its unit.</param>
/// <param name="Emitters">What hangs in it, such as <c>ceiling</c>, <c>coil</c> or <c>coil-north</c>.</param>
public sealed record NewSiteRoom(string Name, double AreaM2, string Area, IReadOnlyList<string> Emitters);

/// <summary>Reads a list of rooms.</summary>
public static class NewSiteRooms
{
    /// <summary>How to write it.</summary>
    public const string Example = "living room: ceiling coil 24 m²; bath: floor 8 m²";

    private static readonly string[] Taken = [NewSiteText.CeilingLoop, NewSiteText.FloorLoop, NewSiteText.CoilLoop, NewSiteText.Device];

    /// <summary>Rooms separated by semicolons or line ends; each a name, a colon, emitters (ceiling, floor, wall, coil, each also with <c>-name</c>) and an area.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="rooms">The rooms; empty when it was not understood.</param>
    /// <param name="why">What was not understood; empty when all was.</param>
    public static bool TryRead(string text, out IReadOnlyList<NewSiteRoom> rooms, out string why)
    {
        var found = new List<NewSiteRoom>();
        rooms = [];
        why = "";
        foreach (var part in text.Split([';', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (!TryReadOne(part, out var room, out why))
                return false;
            if (found.Exists(other => other.Name == room.Name))
            {
                why = $"two rooms are called \"{room.Name}\"";
                return false;
            }
            found.Add(room);
        }
        why = found.Count == 0 ? "no room is named" : "";
        rooms = found;
        return found.Count > 0;
    }

    private static bool TryReadOne(string part, out NewSiteRoom room, out string why)
    {
        room = new NewSiteRoom("", 0, "", []);
        var colon = part.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0)
        {
            why = $"\"{part}\" has no colon behind the room's name";
            return false;
        }
        var name = string.Join('-', part[..colon].ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        why = NameRules.Fault(name) is { } fault ? $"room \"{name}\" {fault}" : Taken.Contains(name) ? $"room \"{name}\" has the name of something else in the file: take another" : "";
        if (why.Length > 0)
            return false;
        var words = part[(colon + 1)..].Split([' ', '\t', '+', '\u00A0'], StringSplitOptions.RemoveEmptyEntries);
        var emitters = words.TakeWhile(word => char.IsLetter(word[0])).Select(word => word.Trim(',').ToLowerInvariant()).ToList();
        var area = string.Join(' ', words.Skip(emitters.Count));
        why = Fault(name, emitters, area, out var areaM2);
        room = new NewSiteRoom(name, areaM2, area.Any(char.IsLetter) ? area : area + " m²", emitters);
        return why.Length == 0;
    }

    private static string Fault(string name, List<string> emitters, string area, out double areaM2)
    {
        areaM2 = double.NaN;
        if (emitters.Find(word => !EmitterReader.IsEmitter(word) || NameRules.Fault(word) is not null) is { } unknown)
            return $"{name}: \"{unknown}\" is nothing that heats or cools: {string.Join(", ", EmitterReader.Words)}, several of a sort as coil-north coil-south";
        if (emitters.Count == 0)
            return $"{name}: nothing heats or cools it: name {string.Join(", ", EmitterReader.Words)} before the area";
        if (emitters.Distinct(StringComparer.Ordinal).Count() < emitters.Count)
            return $"{name}: names an emitter twice: write them as coil-north coil-south";
        if (area.Length == 0)
            return $"{name}: its floor area is missing, such as 24 m² or 260 ft2";
        if (!QuantityText.TryRead(area, Quantity.Area, out areaM2, out var problem))
            return $"{name}: area \"{area}\" {problem}";
        return areaM2 is >= 2 and <= 2000 ? "" : $"{name}: area \"{area}\" is out of range: 2 m² to 2000 m²";
    }
}
