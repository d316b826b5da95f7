// What a description needs to know of a house: which parts there are, its numbers in words. Must never say that a house has what it has not.
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>A site as its description sees it.</summary>
internal sealed class SiteView(SiteFiles files)
{
    private readonly SortedSet<string> named = new(StringComparer.Ordinal);

    public SiteFiles Files { get; } = files;

    public House House { get; } = files.House;

    /// <summary>Keys of <c>sequence:</c> that the description has named so far.</summary>
    public IReadOnlyCollection<string> Named => named;

    public bool Cools { get; } = files.House.Rooms.Any(room => Directions.Cools(files.House, room));

    public bool Heats { get; } = files.House.Rooms.Any(room => Directions.Heats(files.House, room));

    /// <summary>Circuits that may carry cold water.</summary>
    public IReadOnlyList<Circuit> Cooled { get; } = [.. files.House.Circuits.Where(circuit => files.House.Loops[circuit.Loop].Cools)];

    /// <summary>Circuits that may carry warm water.</summary>
    public IReadOnlyList<Circuit> Heated { get; } = [.. files.House.Circuits.Where(circuit => files.House.Loops[circuit.Loop].Heats)];

    /// <summary>Coils that may carry cold water.</summary>
    public IReadOnlyList<Coil> CooledCoils { get; } = [.. files.House.Coils.Where(coil => files.House.Loops[coil.Loop].Cools)];

    /// <summary>Rooms whose air is dried: cooled by a coil, with humidity read.</summary>
    public IReadOnlyList<Room> Dried => [.. House.Rooms.Where(room => StageLines.HasCoil(House, room, heats: false) && IsWired(room.AirHumidity))];

    /// <summary>The sentence with the site's numbers wherever a key stands in braces.</summary>
    public string Say(string words)
    {
        named.UnionWith(SettingWords.KeysOf(words));
        return SettingWords.Fill(words, House.Settings, House.Units);
    }

    /// <summary>The ways from stage to stage that its rooms can go.</summary>
    public IReadOnlyList<StageLine> Stages()
    {
        var lines = StageLines.Of(House);
        named.UnionWith(lines.SelectMany(line => line.Keys));
        return lines;
    }

    /// <summary>The protections that something in it can trip.</summary>
    public IReadOnlyList<ProtectionLine> Protections()
    {
        var lines = ProtectionLines.Of(House);
        named.UnionWith(lines.SelectMany(line => line.Keys));
        return lines;
    }

    /// <summary>A value in the reader's units; "–" where there is none.</summary>
    public string Show(double value, Quantity quantity) => Quantities.ShowExactly(value, quantity, House.Units);

    public bool IsWired(int input) => input >= 0 && House.Inputs[input].Wired;

    public bool CoolsRoom(Room room) => Directions.Cools(House, room);

    public bool HeatsRoom(Room room) => Directions.Heats(House, room);

    /// <summary>Names as a list in a sentence: "a, b and c".</summary>
    public static string List(IEnumerable<string> names)
    {
        string[] all = [.. names];
        return all.Length < 2 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} and {all[^1]}";
    }

    /// <summary>A count with its noun: "one coil", "3 coils".</summary>
    public static string Count(int count, string one, string many)
        => count == 1 ? $"one {one}" : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{count} {many}");
}

/// <summary>The directions a room may be worked in.</summary>
internal static class Directions
{
    public static bool Cools(House house, Room room) => StageLines.HasCoil(house, room, heats: false) || StageLines.HasSurface(house, room, heats: false);

    public static bool Heats(House house, Room room) => StageLines.HasCoil(house, room, heats: true) || StageLines.HasSurface(house, room, heats: true);
}
