// What every point of a house is, in the trade's words: for papers, drawings and cable lists. One table, so that all of them say the same.
// A point that is not in it cannot be described, so a test walks every point that the site reader knows.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>What a point is.</summary>
/// <param name="Part">Family of the part it belongs to: <c>air</c> stands for air-desk too, <c>surface</c> for ceilings, floors and walls.</param>
/// <param name="Point">Last part of its id.</param>
/// <param name="Words">What it is.</param>
/// <param name="Letters">Its letters on drawings by ISA-5.1 (from memory): A analysis, F flow, H hand, J power, L level, M moisture, P pressure, S speed, T temperature, X other, Z position;
/// then T transmitter, S switch, H high, C controller, V valve, Y relay, A alarm.</param>
/// <param name="Thing">The thing a cable goes to; points of one part with the same thing share one.</param>
/// <param name="Slot">Its number in cable labels, within its part: never given to another thing.</param>
public sealed record PointKind(string Part, string Point, string Words, string Letters, string Thing, int Slot)
{
    /// <summary>What an output does when it is safe; empty for an input.</summary>
    public string Safe { get; init; } = "";

    /// <summary>True for an output that stays on in frost where its loop heats.</summary>
    public bool StaysOnInFrost { get; init; }

    /// <summary>True for what is often on mains: a pump, a fan, a machine.</summary>
    public bool MayBeMains { get; init; }
}

/// <summary>A point's id in its three parts.</summary>
/// <param name="Owner">Room, loop, coil of several rooms, or a reserved word.</param>
/// <param name="Part">Part, as wired: <c>coil-north</c>.</param>
/// <param name="Point">Point.</param>
public sealed record PointId(string Owner, string Part, string Point)
{
    /// <summary>The owner in an id of a part: <c>weaving-room</c> in <c>weaving-room.coil</c>.</summary>
    public static string OwnerOf(string partId)
    {
        ArgumentNullException.ThrowIfNull(partId);
        return partId.Split('.')[0];
    }

    /// <summary>Takes an id apart: owner.part.point.</summary>
    public static PointId Of(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        var parts = id.Split('.');
        return parts.Length == 3 ? new PointId(parts[0], parts[1], parts[2]) : throw new FormatException($"{id} is not owner.part.point");
    }
}

/// <summary>The table.</summary>
public static class PointWords
{
    private const string Surface = "surface", Shut = "shut", Off = "off";

    /// <summary>Every kind of point.</summary>
    public static IReadOnlyList<PointKind> All { get; } =
    [
        new("air", "temperature", "air temperature", "TT", "air sensor", 1), new("air", "humidity", "relative humidity of the air", "MT", "air sensor", 1), new("air", "co2", "carbon dioxide in the air", "AT", "air sensor", 1),
        new("opening", "open", "door or window contact", "ZS", "opening contact", 6), new("unit", "dial", "dial of the room unit", "HT", "room unit", 7), new("unit", "button", "button of the room unit", "HS", "room unit", 7),
        new("people", "present", "somebody is there", "XS", "presence detector", 8),
        new("coil", "fan", "speed of the coil's fan", "SC", "fan", 1) { Safe = Off, MayBeMains = true },
        new("coil", "valve", "valve of the coil", "TV", "valve actuator", 2) { Safe = Shut, StaysOnInFrost = true },
        new("coil", "heating_valve", "heating valve of the coil", "TV", "heating valve actuator", 7) { Safe = Shut, StaysOnInFrost = true },
        new("coil", "drip_tray_full", "drip tray is full", "LSH", "drip tray switch", 3), new("coil", "fan_proof", "the fan turns", "SS", "fan proof", 4),
        new("coil", "water_temperature", "water at the coil", "TT", "water sensor", 5), new("coil", "return_air_temperature", "air that the coil draws", "TT", "return air sensor", 6),
        new(Surface, "valve", "valve of the surface's circuit", "TV", "circuit actuator", 1) { Safe = Shut, StaysOnInFrost = true },
        new(Surface, "temperature", "temperature of the surface", "TT", "surface sensor", 2), new(Surface, "condensation", "the surface is wet", "MSH", "condensation switch", 3),
        new(Surface, "end_switch", "end switch of the circuit's actuator", "ZS", "end switch", 4),
        new("supply", "temperature", "supply water", "TT", "supply sensor", 1), new("return", "temperature", "return water", "TT", "return sensor", 2),
        new("mixing", "valve", "mixing valve", "TV", "mixing valve actuator", 3) { Safe = "full recirculation" },
        new("pump", "run", "pump", "XY", "pump", 4) { Safe = Off, StaysOnInFrost = true, MayBeMains = true }, new("pump", "speed", "speed of the pump", "SC", "pump speed", 5) { Safe = "0 %", StaysOnInFrost = true },
        new("standby_pump", "run", "stand-by pump", "XY", "stand-by pump", 6) { Safe = Off, StaysOnInFrost = true, MayBeMains = true }, new("pump", "proof", "the pump runs", "XS", "pump proof", 7),
        new("flow", "rate", "water flow", "FT", "flow meter", 8), new("high_limit", "tripped", "high limit has tripped", "TSHH", "high-limit thermostat", 9),
        new("water", "pressure", "water pressure", "PT", "pressure gauge", 10), new("manifold", "condensation", "the manifold is wet", "MSH", "condensation switch", 11),
        new("state", "running", "the source runs", "XS", "contacts", 2), new("state", "defrosting", "the source defrosts", "XS", "contacts", 2),
        new("state", "making_hot_water", "the source makes hot water", "XS", "contacts", 2), new("state", "locked_out", "the utility has locked the source", "XS", "contacts", 2),
        new("state", "fault", "the source has a fault", "XA", "contacts", 2),
        new("call", "enable", "call for the source", "XY", "call", 3) { Safe = Off, MayBeMains = true }, new("call", "cooling", "the source shall cool", "XY", "call", 3) { Safe = Off, MayBeMains = true },
        new("call", "set_point", "set point for the source", "TY", "set point", 4) { Safe = "without effect: the call is off" },
        new("change_over", "valve", "change-over valve", "XV", "change-over valve", 5) { Safe = "at rest", MayBeMains = true },
        new("top", "temperature", "top of the buffer", "TT", "top sensor", 1), new("bottom", "temperature", "bottom of the buffer", "TT", "bottom sensor", 2),
        new("tank", "temperature", "hot water tank", "TT", "tank sensor", 1), new("charge", "enable", "charging of the hot water tank", "XY", "charge valve or pump", 2) { Safe = Off, MayBeMains = true },
        new("leak", "detected", "water on the floor", "LSH", "leak detector", 1), new("surplus", "available", "surplus power", "JS", "surplus contact", 2),
        new("manual_switch", "in_hand", "the plant is in hand", "HS", "hand switch", 3), new("health", "ok", "all is well", "XY", "health relay", 4) { Safe = "off: the alarm shows" },
    ];

    /// <summary>The family of a part, as wired: <c>coil-north</c> is a coil, <c>floor</c> a surface.</summary>
    public static string FamilyOf(string part)
    {
        ArgumentNullException.ThrowIfNull(part);
        var word = part.Split('-')[0];
        return word is "ceiling" or "floor" or "wall" ? Surface : word;
    }

    /// <summary>What a point is.</summary>
    /// <param name="id">Id of the point.</param>
    /// <exception cref="KeyNotFoundException">The table does not know such a point.</exception>
    public static PointKind Of(string id)
    {
        var name = PointId.Of(id);
        var family = FamilyOf(name.Part);
        return All.FirstOrDefault(kind => kind.Part == family && kind.Point == name.Point) ?? throw new KeyNotFoundException($"{id}: there are no words for such a point");
    }

    /// <summary>Letters with what they mean, for the key of a drawing.</summary>
    public static string Meaning(string letters) => letters switch
    {
        "TT" => "temperature sensor",
        "MT" => "humidity sensor",
        "AT" => "carbon dioxide sensor",
        "FT" => "flow meter",
        "PT" => "pressure gauge",
        "HT" => "dial",
        "HS" => "hand switch",
        "ZS" => "position contact",
        "LSH" => "water where none should be",
        "MSH" => "condensation switch",
        "TSHH" => "high-limit thermostat",
        "SS" => "speed contact",
        "XS" => "state contact",
        "XA" => "fault contact",
        "JS" => "power contact",
        "TV" => "valve actuator",
        "XV" => "change-over valve",
        "SC" => "speed output",
        "XY" => "switched output",
        "TY" => "set point output",
        _ => throw new ArgumentOutOfRangeException(nameof(letters), letters, "no letters of the table"),
    };
}
