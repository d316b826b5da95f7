// Rooms of an estimate with what is wished in them: surfaces and coils. Declarations with units, limits and defaults.
// Must never size anything: a coil without an output is sized by the desk.
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>A room; its shell is under the same name in <see cref="EstimateFile.Building"/>.</summary>
public sealed class EstimateRoom
{
    /// <summary>Name.</summary>
    public string Name { get; internal set; } = "";

    /// <summary>Floor area, m².</summary>
    public double FloorAreaM2 { get; private set; } = double.NaN;

    /// <summary>Cooled above, °C.</summary>
    public double CoolAboveC { get; private set; } = 24;

    /// <summary>Heated below, °C.</summary>
    public double HeatBelowC { get; private set; } = 20.5;

    /// <summary>Loudest the coil may be at the ear, dB(A); NaN: no limit.</summary>
    public double NoiseAtMostDb { get; private set; } = double.NaN;

    /// <summary>Fastest the fan may turn, %.</summary>
    public double FanAtMostPercent { get; private set; } = 100;

    /// <summary>When people come, minutes after midnight.</summary>
    public double PeopleFromMinutes { get; private set; } = 18 * 60;

    /// <summary>How long they stay, s.</summary>
    public double PeopleForS { get; private set; } = 13 * 3600;

    /// <summary>Their activity, met.</summary>
    public double ActivityMet { get; private set; } = 1.2;

    /// <summary>Surfaces with water.</summary>
    public IReadOnlyList<EstimateSurface> Surfaces { get; internal set; } = [];

    /// <summary>Coils.</summary>
    public IReadOnlyList<EstimateCoil> Coils { get; internal set; } = [];

    /// <summary>Keys, beside those of the room's shell (height, walls, glass, above, below, shading, people, devices).</summary>
    public static IReadOnlyList<Parameter<EstimateRoom>> Parameters { get; } =
    [
        Declare.Number<EstimateRoom>("floor_area", Quantity.Area, double.NaN, 2, 2000, "floor area", r => r.FloorAreaM2, (r, v) => r.FloorAreaM2 = v, required: true, example: "24 m²"),
        Declare.Number<EstimateRoom>("cool_above", Quantity.Temperature, 24, 18, 32, "cooled when warmer than this", r => r.CoolAboveC, (r, v) => r.CoolAboveC = v),
        Declare.Number<EstimateRoom>("heat_below", Quantity.Temperature, 20.5, 5, 28, "heated when colder than this", r => r.HeatBelowC, (r, v) => r.HeatBelowC = v),
        Declare.Number<EstimateRoom>("noise_at_most", Quantity.Level, double.NaN, 15, 60, "loudest the coil may be at the ear", r => r.NoiseAtMostDb, (r, v) => r.NoiseAtMostDb = v, example: "32 dB"),
        Declare.Number<EstimateRoom>("fan_at_most", Quantity.Percent, 100, 0, 100, "fastest the fan may turn", r => r.FanAtMostPercent, (r, v) => r.FanAtMostPercent = v),
        Declare.Number<EstimateRoom>("people_from", Quantity.TimeOfDay, 18 * 60, 0, 1439, "when people come", r => r.PeopleFromMinutes, (r, v) => r.PeopleFromMinutes = v),
        Declare.Number<EstimateRoom>("people_for", Quantity.Duration, 13 * 3600, 60, 86_400, "how long they stay", r => r.PeopleForS, (r, v) => r.PeopleForS = v),
        Declare.Number<EstimateRoom>("activity", Quantity.Number, 1.2, 0.7, 5, "their activity, met: 0.7 asleep, 1.2 sitting, 1.6 light work", r => r.ActivityMet, (r, v) => r.ActivityMet = v),
    ];
}

/// <summary>A surface with water that is wished.</summary>
public sealed class EstimateSurface
{
    /// <summary>Its key: ceiling, floor, wall, each also with a name behind.</summary>
    public string Key { get; internal set; } = "";

    /// <summary>Active area, m²; NaN: 70 % of the floor for a ceiling, 85 % for a floor, 30 % for a wall.</summary>
    public double AreaM2 { get; private set; } = double.NaN;

    /// <summary>panel, plaster, screed or usual: a panel on ceilings and walls, screed on floors.</summary>
    public string Build { get; private set; } = "usual";

    /// <summary>At 8 K between room and mean water in cooling, W/m²; NaN: 60 for a panel on a ceiling and what its exchange makes of that elsewhere, worked out by EN 1264 for the others.</summary>
    public double OutputWPerM2 { get; private set; } = double.NaN;

    /// <summary>The same in heating; NaN: the panel of the cooling output with the exchange of a heated face, worked out for the others.</summary>
    public double HeatingOutputWPerM2 { get; private set; } = double.NaN;

    /// <summary>Pipe spacing, m.</summary>
    public double SpacingM { get; private set; } = 0.15;

    /// <summary>bare, thin, wood or carpet.</summary>
    public string Covering { get; private set; } = "bare";

    /// <summary>usual (ceilings and walls), yes or no.</summary>
    public string Cooled { get; private set; } = "usual";

    /// <summary>It lies on the floor.</summary>
    public bool IsFloor => Key.StartsWith("floor", StringComparison.Ordinal);

    /// <summary>It is a wall.</summary>
    public bool IsWall => Key.StartsWith("wall", StringComparison.Ordinal);

    /// <summary>How it is built, in the words of <see cref="Build"/> without usual.</summary>
    public string Made => Build != "usual" ? Build : IsFloor ? "screed" : "panel";

    /// <summary>It is cooled where the source can.</summary>
    public bool IsCooled => Cooled == "yes" || (Cooled == "usual" && !IsFloor);

    /// <summary>Resistance of the covering, m²K/W: the four steps of EN 1264-2.</summary>
    public double CoveringM2KPerW => Covering switch { "thin" => 0.05, "wood" => 0.10, "carpet" => 0.15, _ => 0 };

    /// <summary>Active area as it is reckoned with, m².</summary>
    /// <param name="floorM2">Floor of the room.</param>
    public double Area(double floorM2) => double.IsFinite(AreaM2) ? AreaM2 : Math.Max(1, Math.Round(floorM2 * (IsFloor ? 0.85 : IsWall ? 0.3 : 0.7)));

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimateSurface>> Parameters { get; } =
    [
        Declare.Number<EstimateSurface>("area", Quantity.Area, double.NaN, 1, 2000, "active area; without it 70 % of the floor on ceilings, 85 % on floors, 30 % on walls", s => s.AreaM2, (s, v) => s.AreaM2 = v, example: "16 m²"),
        Declare.Choice<EstimateSurface>("build", "usual", ["usual", "panel", "plaster", "screed"], "panel, pipes in plaster or pipes in screed; usual: panels on ceilings and walls, screed on floors", s => s.Build, (s, v) => s.Build = v),
        Declare.Number<EstimateSurface>("output", Quantity.AreaPower, double.NaN, 5, 150, "cooling output at 8 K between room and mean water, from a test sheet; without it 60 W/m² for panels on ceilings (48 W/m² on walls, 44 W/m² on floors), by EN 1264 for the others", s => s.OutputWPerM2, (s, v) => s.OutputWPerM2 = v, example: "60 W/m²"),
        Declare.Number<EstimateSurface>("heating_output", Quantity.AreaPower, double.NaN, 5, 150, "heating output at 8 K; without it what the panel of the cooling output gives with a heated face's exchange (39 W/m² for 60 W/m² on ceilings), by EN 1264 for the others", s => s.HeatingOutputWPerM2, (s, v) => s.HeatingOutputWPerM2 = v, example: "55 W/m²"),
        Declare.Number<EstimateSurface>("spacing", Quantity.Length, 0.15, 0.05, 0.375, "pipe spacing in plaster or screed", s => s.SpacingM, (s, v) => s.SpacingM = v),
        Declare.Choice<EstimateSurface>("covering", "bare", ["bare", "thin", "wood", "carpet"], "what covers it: bare or tiles, thin (0.05 m²K/W), wood (0.10), carpet (0.15)", s => s.Covering, (s, v) => s.Covering = v),
        Declare.Choice<EstimateSurface>("cooled", "usual", ["usual", "yes", "no"], "whether it is cooled as well; usual: ceilings and walls are, floors are not", s => s.Cooled, (s, v) => s.Cooled = v),
    ];
}

/// <summary>A fan coil that is wished.</summary>
public sealed class EstimateCoil
{
    /// <summary>Its key: coil, also with a name behind.</summary>
    public string Key { get; internal set; } = "";

    /// <summary>Sensible output at full speed with water of 7 °C and a room of 27 °C, W; NaN: sized.</summary>
    public double OutputW { get; private set; } = double.NaN;

    /// <summary>Heat at full speed with water of 40 °C and a room of 20 °C, W; NaN: one and a half of the cold.</summary>
    public double HeatingOutputW { get; private set; } = double.NaN;

    /// <summary>voltage or steps.</summary>
    public string Fan { get; private set; } = "voltage";

    /// <summary>Slowest speed, % of full.</summary>
    public double StartSpeedPercent { get; private set; } = 20;

    /// <summary>At the ear at full speed, dB(A).</summary>
    public double LevelDb { get; private set; } = 42;

    /// <summary>Another room it serves as well; empty: none.</summary>
    public string SharedWith { get; private set; } = "";

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimateCoil>> Parameters { get; } =
    [
        Declare.Number<EstimateCoil>("output", Quantity.Power, double.NaN, 100, 20_000, "sensible output at full speed, water 7 °C, room 27 °C; without it the coil is sized", c => c.OutputW, (c, v) => c.OutputW = v, example: "1.2 kW"),
        Declare.Number<EstimateCoil>("heating_output", Quantity.Power, double.NaN, 100, 40_000, "heat at full speed, water 40 °C, room 20 °C; without it one and a half of the cold", c => c.HeatingOutputW, (c, v) => c.HeatingOutputW = v, example: "1.8 kW"),
        Declare.Choice<EstimateCoil>("fan", "voltage", ["voltage", "steps"], "0-10 V, or three steps (30 %, 60 %, 100 %)", c => c.Fan, (c, v) => c.Fan = v),
        Declare.Number<EstimateCoil>("start_speed", Quantity.Percent, 20, 5, 60, "slowest speed of a 0-10 V fan", c => c.StartSpeedPercent, (c, v) => c.StartSpeedPercent = v),
        Declare.Number<EstimateCoil>("level", Quantity.Level, 42, 15, 80, "sound at the ear at full speed", c => c.LevelDb, (c, v) => c.LevelDb = v),
        Declare.Name<EstimateCoil>("shared_with", "another room it serves as well, by a duct", c => c.SharedWith, (c, v) => c.SharedWith = v, required: false, example: "office"),
    ];
}
