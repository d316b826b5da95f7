// What the installer says of a room, its coils and its surfaces in site.yaml, beyond their names and kinds. Filled by the site reader;
// never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A room's own keys.</summary>
public sealed class RoomSettings
{
    /// <summary>Stable number: wire labels hang on it.</summary>
    public int Number { get; private set; }

    /// <summary>Floor area, m².</summary>
    public double FloorAreaM2 { get; private set; }

    private double airCapacity = double.NaN;

    /// <summary>Effective heat capacity of air and light furniture, kJ/K. Until measured: 15 kJ/K a square metre of floor (project choice:
    /// 2.6 m of air give 3.1 kJ/K, light furniture and surfaces several times that within minutes).</summary>
    public double AirCapacityKJPerK => double.IsNaN(airCapacity) ? 15 * FloorAreaM2 : airCapacity;

    private string controlBy = ControlByChoices[0];

    /// <summary>True where the operative temperature counts, not the air's.</summary>
    public bool IsOperative => controlBy == ControlByChoices[1];

    private static IReadOnlyList<string> ControlByChoices { get; } = ["air", "operative"];

    /// <summary>True for a room whose doors or windows are opened every day though no contact tells.</summary>
    public bool OpeningsLikely { get; private set; }

    public static IReadOnlyList<Parameter<RoomSettings>> Parameters { get; } =
    [
        Declare.Number<RoomSettings>("number", Quantity.Number, double.NaN, 1, 999, "stable number of the room; wire labels hang on it",
            r => r.Number, (r, v) => r.Number = (int)v, required: true, restart: true, whole: true, step: 1, example: "1"),
        Declare.Number<RoomSettings>("floor_area", Quantity.Area, double.NaN, 2, 2000, "floor area", r => r.FloorAreaM2, (r, v) => r.FloorAreaM2 = v, required: true, step: 0.5, example: "24 m²"),
        Declare.Number<RoomSettings>("air_capacity", Quantity.HeatCapacity, double.NaN, 20, 100000, "effective heat capacity of air and light furniture; without it by the floor's area",
            r => r.AirCapacityKJPerK, (r, v) => r.airCapacity = v, step: 10, example: "360 kJ/K", more: "Until it is measured: 150 kJ/K for every 10 m² of floor."),
        Declare.Choice<RoomSettings>("control_by", ControlByChoices[0], ControlByChoices, "the temperature that counts: the air's, or the operative one, with surfaces that have a sensor",
            r => r.controlBy, (r, v) => r.controlBy = v, more: "Operative: mean of air and surfaces, those with a sensor by their share of the room's area, the rest at air temperature."),
        Declare.Switch<RoomSettings>("openings_likely", false, "its doors or windows are opened every day though no contact tells", r => r.OpeningsLikely, (r, v) => r.OpeningsLikely = v,
            "On humid days a cooled slab then stays warm enough not to be wetted at once. A room with a contact learns it from the contact."),
    ];
}

/// <summary>A coil's own keys in its room.</summary>
public sealed class CoilSettings
{
    /// <summary>Speed above which people at the usual seat feel a draught, % of full speed; 100: none found.</summary>
    public double DraughtAtMostPercent { get; private set; } = 100;

    public static IReadOnlyList<Parameter<CoilSettings>> Parameters { get; } =
    [
        Declare.Number<CoilSettings>("draught_fan_at_most", Quantity.Percent, 100, 10, 100, "speed above which people at the usual seat feel a draught, found at checkout",
            c => c.DraughtAtMostPercent, (c, v) => c.DraughtAtMostPercent = v, step: 1),
    ];
}

/// <summary>A surface's own keys in its room.</summary>
public sealed class SurfaceSettings
{
    /// <summary>Active area, m².</summary>
    public double AreaM2 { get; private set; }

    /// <summary>Length of one of its pipes with the way to the manifold and back, m; NaN: by area and spacing.</summary>
    public double PipeLengthM { get; private set; } = double.NaN;

    /// <summary>Distance between two runs of pipe, m.</summary>
    public double PipeSpacingM { get; private set; } = 0.15;

    /// <summary>Inner diameter of the pipe, m.</summary>
    public double PipeBoreM { get; private set; } = 0.012;

    /// <summary>Circuits that it has on the manifold, all of the same length; 0: not said.</summary>
    public int PipeCircuits { get; private set; }

    /// <summary>First of its ports on the manifold; 0: not said.</summary>
    public int Port { get; private set; }

    /// <summary>True for the floor of a bathroom: it may be warmer.</summary>
    public bool IsBath { get; private set; }

    /// <summary>True for the floor of an edge zone, where nobody stays.</summary>
    public bool IsEdge { get; private set; }

    public static IReadOnlyList<Parameter<SurfaceSettings>> Parameters { get; } =
    [
        Declare.Number<SurfaceSettings>("area", Quantity.Area, double.NaN, 1, 2000, "active area of the surface", s => s.AreaM2, (s, v) => s.AreaM2 = v, required: true, step: 0.5, example: "16 m²"),
        Declare.Number<SurfaceSettings>("pipe_circuits", Quantity.Number, 0, 0, 20, "circuits it has on the manifold; 0 where it is not said: then as many as keep each under 100 m", s => s.PipeCircuits, (s, v) => s.PipeCircuits = (int)v, whole: true, step: 1, more: "For balance; control does not use it."),
        Declare.Number<SurfaceSettings>("pipe_length", Quantity.Length, double.NaN, 3, 250, "length of one of its circuits with the way to the manifold and back; without it by area and spacing",
            s => s.PipeLengthM, (s, v) => s.PipeLengthM = v, step: 1, example: "84 m", more: "For balance; control does not use it."),
        Declare.Number<SurfaceSettings>("pipe_spacing", Quantity.Length, 0.15, 0.03, 0.5, "distance between two runs of pipe", s => s.PipeSpacingM, (s, v) => s.PipeSpacingM = v, step: 0.01, more: "For balance, where the length is not known."),
        Declare.Number<SurfaceSettings>("pipe_bore", Quantity.Length, 0.012, 0.004, 0.03, "inner diameter of the pipe", s => s.PipeBoreM, (s, v) => s.PipeBoreM = v, step: 0.001, more: "For balance; a pipe of 16 × 2 mm has 12 mm."),
        Declare.Number<SurfaceSettings>("port", Quantity.Number, 0, 0, 40, "first of its ports on the manifold; 0 where it is not said", s => s.Port, (s, v) => s.Port = (int)v, whole: true, step: 1),
    ];

    /// <summary>Keys of a floor besides.</summary>
    public static IReadOnlyList<Parameter<SurfaceSettings>> FloorParameters { get; } =
    [
        .. Parameters,
        Declare.Switch<SurfaceSettings>("bath", false, "the floor of a bathroom, which may be warmer (33 °C instead of 29 °C)", s => s.IsBath, (s, v) => s.IsBath = v),
        Declare.Switch<SurfaceSettings>("edge", false, "the floor of an edge zone along an outer wall, where nobody stays (35 °C)", s => s.IsEdge, (s, v) => s.IsEdge = v),
    ];
}
