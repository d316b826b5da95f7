// The questions about rooms: names first, so that one may lie above another; then each room by itself.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

public sealed partial class EstimateQuestions
{
    private const string Nothing = "none";

    private bool Rooms()
    {
        string[] rooms = [];
        return Asking.Ask(_input, _output, "Rooms, such as living room, kitchen, bath", null, text => rooms = Names(text), RoomsFault) && rooms.All(Room);
    }

    private static string[] Names(string text)
        => [.. text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(name => string.Join('-', name.ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)))];

    private string RoomsFault(string text)
    {
        string[] names = Names(text);
        if (names.Length == 0) return "no room is named";
        if (names.Length > 64) return $"{names.Length} rooms are named; allowed: 1 to 64";
        foreach (string name in names)
        {
            if (NameRules.Fault(name) is { } fault) return $"\"{name}\" {fault}";
            if (names.Count(other => other == name) > 1) return $"two rooms are called \"{name}\"";
            if (_answers.Fault(($"rooms.{name}", "")) is { Length: > 0 } why) return why;
        }

        // All are in the file before the first is asked about: what lies above one is the name of another.
        foreach (string name in names) _answers.Set($"rooms.{name}", "");
        return "";
    }

    private bool Room(string room)
    {
        string at = $"rooms.{room}";
        string Of(string question) => $"{room}: {question}";
        if (!Value(at, EstimateRoom.Parameters, "floor_area", Of("floor area")) || !Value(at, RoomShell.Parameters, "height", Of("height"))
            || !Sides(at, "wall_", Of("outer walls by side, glass included, such as south 14 m², west 9 m²"), "one, as long as a square room's side")
            || !Sides(at, "glass_", Of("glass by side, such as south 4 m²"), "a fifth of the floor where no wall was named, else none")
            || !Value(at, RoomShell.Parameters, "above", Of("above it: outside, neighbour, nothing (an equal room) or a room's name"))
            || !Value(at, RoomShell.Parameters, "below", Of("below it: ground, outside, neighbour or nothing"))
            || !Value(at, RoomShell.Parameters, "people", Of("people in it"), "one for 20 m²") || !Value(at, RoomShell.Parameters, "devices", Of("devices and light, day and night"), "3 W/m²")
            || (Cools && !Value(at, EstimateRoom.Parameters, "cool_above", Of("cooled above"))) || (Heats && !Value(at, EstimateRoom.Parameters, "heat_below", Of("heated below"))))
            return false;
        string[] emitters = [];
        string usual = Cools ? "ceiling coil" : "floor";
        if (!Asking.Ask(_input, _output, Of("what heats or cools it: ceiling, floor, wall, coil, each also with a name behind as coil-north"), usual, text => emitters = Emitters(text), text => EmittersFault(at, text))) return false;
        foreach (string emitter in emitters) _answers.Set($"{at}.{emitter}", "");
        foreach (string floor in emitters.Where(e => e.StartsWith("floor", StringComparison.Ordinal)))
            if (!Value($"{at}.{floor}", EstimateSurface.Parameters, "covering", Of($"what covers the {floor}"))) return false;
        return (!emitters.Any(e => e.StartsWith("coil", StringComparison.Ordinal)) || Value(at, EstimateRoom.Parameters, "noise_at_most", Of("loudest its fan may be at the ear"))) && Opening(room, Of("side its door or window to the outside faces"));
    }

    private static string[] Emitters(string text) => text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries);

    private string EmittersFault(string at, string text)
    {
        string[] words = Emitters(text);
        if (words.Length == 0 || words.Contains(Nothing)) return "a room with nothing in it is no room of a site: count its area, walls and people with the room it opens to; allowed: ceiling, floor, wall, coil";
        foreach (string word in words)
        {
            if (words.Count(other => other == word) > 1) return $"names \"{word}\" twice: write them as {word}-north {word}-south";
            if (_answers.Fault(($"{at}.{word}", "")) is { Length: > 0 } why) return $"\"{word}\" {why}";
        }

        return "";
    }

    // "south 14 m², west 9 m²": a side, and an area with its unit.
    private bool Sides(string at, string prefix, string question, string usual)
    {
        (string Path, string Value)[] sides = [];
        question = UnitWords.In(question, _units);
        return Asking.Ask(_input, _output, question, usual, text =>
        {
            if (text == usual) return;
            foreach ((string path, string value) in sides) _answers.Set(path, value);
        }, text =>
        {
            if (text == usual) return "";
            string[][] parts = [.. text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(part => part.Split(' ', 2, StringSplitOptions.RemoveEmptyEntries))];
            if (parts.Length == 0 || parts.Any(part => part.Length < 2 || !BuildingFile.Directions.Contains(part[0])))
                return $"\"{text}\" is not understood; wanted: a side ({string.Join(", ", BuildingFile.Directions)}) and an area each, with commas between";
            if (parts.Select(part => part[0]).Distinct().Count() < parts.Length) return "names a side twice";
            sides = [.. parts.Select(part => ($"{at}.{prefix}{part[0]}", part[1].Trim()))];
            return _answers.Fault(sides);
        });
    }

    private bool Opening(string room, string question)
    {
        string path = $"openings.{room}-door";
        return Asking.Ask(_input, _output, $"{question} ({string.Join(", ", BuildingFile.Directions)} or {Nothing})", Nothing, side =>
        {
            if (side == Nothing) return;
            _answers.Set(path + ".room", room);
            _answers.Set(path + ".faces", side);
        }, side => side == Nothing ? "" : _answers.Fault((path + ".room", room), (path + ".faces", side)));
    }
}
