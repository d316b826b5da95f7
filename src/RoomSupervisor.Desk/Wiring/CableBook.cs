// Labels of cables: from the stable number of a room, the place of a loop in the file, and a number of each thing that never goes to another. One cable to each thing.
// Must never give two cables one label.
using System.Globalization;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Gives cables their labels and collects them.</summary>
internal sealed class CableBook(House house)
{
    /// <summary>First labels of coils and surfaces within a room: coil n has 10·n + slot, surface n 50 + 10·(n − 1) + slot; beyond four coils and five surfaces 100 and 200 and more.</summary>
    private const int Step = 10, FirstSurface = 50, FurtherCoils = 100, FurtherSurfaces = 200, MostCoils = 4, MostSurfaces = 5;

    private readonly Dictionary<(string Device, string Owner, string Part, string Thing, int Nth), string> labels = [];
    private readonly Dictionary<string, List<(string Point, PointKind Kind, IReadOnlyList<Terminal> Terminals)>> points = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (string Thing, string Owner, WiredDevice From)> ends = new(StringComparer.Ordinal);

    /// <summary>The label of the cable from a device to the thing a point belongs to; made at the first call.</summary>
    /// <param name="id">Id of the point.</param>
    /// <param name="device">Device at the other end.</param>
    /// <param name="terminals">Terminals of the point that this cable carries.</param>
    /// <param name="nth">Which of several actuators of one output, from 0; −1: there is one.</param>
    public string Label(string id, WiredDevice device, IReadOnlyList<Terminal> terminals, int nth = -1)
    {
        var (name, kind) = (PointId.Of(id), PointWords.Of(id));
        var key = (device.Name, name.Owner, BaseOf(name).ToString(CultureInfo.InvariantCulture), kind.Thing, nth);
        if (!labels.TryGetValue(key, out var label))
        {
            label = Free(string.Create(CultureInfo.InvariantCulture, $"{PrefixOf(name.Owner)}-{BaseOf(name) + kind.Slot:00}") + (nth >= 0 ? ((char)('a' + nth)).ToString() : ""));
            labels[key] = label;
            points[label] = [];
            ends[label] = (nth < 0 ? kind.Thing : string.Create(CultureInfo.InvariantCulture, $"{kind.Thing} {nth + 1}"), name.Owner, device);
        }
        points[label].Add((id, kind, terminals));
        return label;
    }

    /// <summary>Every cable that was asked for, by label.</summary>
    public IEnumerable<CableRun> Cables() => points.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair =>
    {
        var (thing, owner, from) = ends[pair.Key];
        var part = PointId.Of(pair.Value[0].Point).Part;
        var what = PointWords.FamilyOf(part) is "coil" or "surface" ? $"{owner} {part}: {thing}" : $"{owner}: {thing}";
        return new CableRun(pair.Key, from.Name, from.Panel, what, TypeOf(pair.Value), CoresOf(pair.Value), [.. pair.Value.Select(one => one.Point)]);
    });

    private string Free(string wanted)
    {
        if (!points.ContainsKey(wanted))
            return wanted;
        for (var more = 2; ; more++)
        {
            var next = string.Create(CultureInfo.InvariantCulture, $"{wanted}/{more}");
            if (!points.ContainsKey(next))
                return next;
        }
    }

    private string PrefixOf(string owner)
    {
        if (house.Rooms.FirstOrDefault(room => room.Id == owner) is { } room)
            return string.Create(CultureInfo.InvariantCulture, $"R{room.Settings.Number}");
        var loop = house.Loops.ToList().FindIndex(candidate => candidate.Id == owner);
        if (loop >= 0)
            return string.Create(CultureInfo.InvariantCulture, $"L{loop + 1}");
        return owner switch
        {
            "source" => "S1",
            "heat-source" => "S2",
            "buffer" => "B",
            "hot-water" => "W",
            "outdoor" => "O",
            "site" => "X",
            _ => string.Create(CultureInfo.InvariantCulture, $"C{Shared.FindIndex(coil => PointId.OwnerOf(coil.Id) == owner) + 1}"),
        };
    }

    /// <summary>Coils that belong to no room: they serve several.</summary>
    private List<Coil> Shared => [.. house.Coils.Where(coil => !house.Rooms.Any(room => room.Id == PointId.OwnerOf(coil.Id)))];

    /// <summary>What a part of a room adds to the number of its things.</summary>
    private int BaseOf(PointId name)
    {
        var room = house.Rooms.FirstOrDefault(candidate => candidate.Id == name.Owner);
        switch (PointWords.FamilyOf(name.Part))
        {
            case "air" when room is not null:
                return 1 + room.OtherAir.ToList().FindIndex(sensor => sensor.Name == name.Part);
            case "coil" when room is not null:
                var coil = house.Coils.Where(candidate => candidate.Id.StartsWith(name.Owner + ".", StringComparison.Ordinal)).ToList().FindIndex(candidate => candidate.Id == $"{name.Owner}.{name.Part}");
                return coil < MostCoils ? Step * (coil + 1) : FurtherCoils + Step * (coil - MostCoils);
            case "surface":
                var surface = house.Circuits.Where(candidate => candidate.Id.StartsWith(name.Owner + ".", StringComparison.Ordinal)).ToList().FindIndex(candidate => candidate.Id == $"{name.Owner}.{name.Part}");
                return surface < MostSurfaces ? FirstSurface + Step * surface : FurtherSurfaces + Step * (surface - MostSurfaces);
            default:
                return 0;
        }
    }

    private static int CoresOf(List<(string Point, PointKind Kind, IReadOnlyList<Terminal> Terminals)> on)
    {
        var terminals = on.SelectMany(one => one.Terminals).ToList();
        return terminals[0].Kind switch
        {
            TerminalKind.Voltage when on[0].Kind.Thing is "fan" or "pump speed" => 2,   // signal and common: motors are supplied for themselves
            TerminalKind.Voltage => 3,                                                  // supply, common, signal
            TerminalKind.Measured => on is [{ Kind.Letters: "TT" }] ? 2 : on.Count + 2,    // two of a thermometer; supply, common and a core a value of a transmitter
            _ => terminals.Count + 1,                                                   // a common and a core each
        };
    }

    private static string TypeOf(List<(string Point, PointKind Kind, IReadOnlyList<Terminal> Terminals)> on) => on[0].Terminals[0].Kind switch
    {
        TerminalKind.Measured => "screened pairs, 0.5 mm² or more",
        TerminalKind.Contact => "twisted pairs, 0.5 mm² or more",
        TerminalKind.Voltage => "screened, 0.75 mm² or more, screen earthed at one end",
        TerminalKind.Pulse => "screened pair, short",
        TerminalKind.Value => "over the bus; screened pair where the module gives a voltage",
        _ when on.Any(one => one.Kind.MayBeMains) => "by what it switches: on mains by a licensed electrician",
        _ => "0.75 mm² or more, extra-low voltage; on mains by a licensed electrician",
    };
}
