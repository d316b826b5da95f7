// What a building is made of, as the maker of a virtual house writes it down: rooms, layered surfaces, windows, doors.
// Must never hold what changes while it runs: that is BuildingModel's state.
namespace RoomSupervisor.VirtualHouse;

/// <summary>One layer of a surface.</summary>
/// <param name="ThicknessM">0.0002…3 m.</param>
/// <param name="ConductivityWPerMK">0.01…400 W/(m·K).</param>
/// <param name="DensityKgPerM3">0…9,000 kg/m³; 0 where only the resistance counts.</param>
/// <param name="SpecificHeatJPerKgK">0…5,000 J/(kg·K).</param>
public sealed record Layer(double ThicknessM, double ConductivityWPerMK, double DensityKgPerM3, double SpecificHeatJPerKgK);

/// <summary>How the room-side face of a surface lies.</summary>
public enum Lie
{
    /// <summary>Faces up.</summary>
    Floor,

    /// <summary>Upright.</summary>
    Wall,

    /// <summary>Faces down.</summary>
    Ceiling,
}

/// <summary>What lies behind a surface.</summary>
public enum Beyond
{
    /// <summary>The weather: air, sky, sun, wind.</summary>
    Outside,

    /// <summary>Another room of the plan (or the same one: furniture-like walls).</summary>
    Room,

    /// <summary>A neighbour's rooms, or the ground, at a temperature of their own; see <see cref="SurfacePlan.NeighbourFilm"/>.</summary>
    Neighbour,

    /// <summary>Nothing flows there.</summary>
    Nothing,
}

/// <summary>Water pipes in a surface.</summary>
/// <param name="AfterLayer">The pipes lie behind this many layers, counted from the room; at least 1.</param>
/// <param name="ResistanceM2KPerW">Between mean water and the plane of the pipes, 0.001…1 m²K/W; <see cref="PipePlane"/> works it out.</param>
/// <param name="WaterKgPerM2">Content, 0…20 kg/m².</param>
public sealed record WaterSide(int AfterLayer, double ResistanceM2KPerW, double WaterKgPerM2);

/// <summary>An opaque surface between a room and something.</summary>
/// <param name="Name">Unique in the plan.</param>
/// <param name="Room">Index of the room its front faces.</param>
/// <param name="AreaM2">0.01…10,000 m².</param>
/// <param name="Lie">How the front lies.</param>
/// <param name="Beyond">What is behind.</param>
/// <param name="Layers">From the room outwards, one to twelve.</param>
public sealed record SurfacePlan(string Name, int Room, double AreaM2, Lie Lie, Beyond Beyond, params Layer[] Layers)
{
    /// <summary>Index of the room behind, where <see cref="Beyond"/> is a room.</summary>
    public int RoomBeyond { get; init; } = -1;

    /// <summary>Film on the neighbour's side, W/(m²·K), 0.1…1e6; 7.7 for a room (ISO 6946: 1/0.13), 1e3 for ground that touches.</summary>
    public double NeighbourFilm { get; init; } = 1 / 0.13;

    /// <summary>Where the outside faces, degrees from north through east.</summary>
    public double AzimuthDegrees { get; init; }

    /// <summary>Outside tilt: 0 faces the sky, 90 upright, 180 faces the ground.</summary>
    public double TiltDegrees { get; init; } = 90;

    /// <summary>Sun taken up outside, 0…1.</summary>
    public double OutsideSolarAbsorptance { get; init; } = 0.6;

    /// <summary>Sun taken up inside, 0…1.</summary>
    public double InsideSolarAbsorptance { get; init; } = 0.6;

    /// <summary>Thermal emissivity of both faces, 0.05…1.</summary>
    public double Emissivity { get; init; } = 0.9;

    /// <summary>Roughness factor of the outside in forced convection, 1…2.2: 1 glass, 1.11 smooth paint, 1.52 concrete, 1.67 brick, 2.17 stucco (Walton 1983).</summary>
    public double Roughness { get; init; } = 1.67;

    /// <summary>Sees sun, sky and wind; false: outdoor air without wind, sun and sky (a raised floor).</summary>
    public bool Exposed { get; init; } = true;

    /// <summary>Pipes in it, or null.</summary>
    public WaterSide? Water { get; init; }

    /// <summary>Mean film inside, W/(m²·K), where a test prescribes one; NaN: worked out.</summary>
    public double FixedConvection { get; init; } = double.NaN;
}

/// <summary>A window in an outside wall.</summary>
/// <param name="Name">Unique in the plan.</param>
/// <param name="Room">Index of its room.</param>
/// <param name="AreaM2">0.01…1,000 m², glass.</param>
/// <param name="AzimuthDegrees">Where it faces, degrees from north through east.</param>
/// <param name="Glass">Its glass.</param>
public sealed record WindowPlan(string Name, int Room, double AreaM2, double AzimuthDegrees, GlassPlan Glass)
{
    /// <summary>0 faces the sky, 90 upright.</summary>
    public double TiltDegrees { get; init; } = 90;

    /// <summary>Share of the sun that a fixed shade keeps off, 0…1.</summary>
    public double Shaded { get; init; }
}

/// <summary>An inner door or wide opening between two rooms.</summary>
/// <param name="Name">Unique in the plan.</param>
/// <param name="RoomA">Index of one room.</param>
/// <param name="RoomB">Index of the other.</param>
/// <param name="WidthM">0.1…20 m.</param>
/// <param name="HeightM">0.1…10 m.</param>
public sealed record DoorPlan(string Name, int RoomA, int RoomB, double WidthM, double HeightM)
{
    /// <summary>Discharge coefficient, 0.2…1.</summary>
    public double Discharge { get; init; } = 0.6;

    /// <summary>Width of the gaps that stay when shut, m (0…0.1): air still passes under and beside a shut door.</summary>
    public double GapM { get; init; } = 0.003;

    /// <summary>How far it stands open when nobody says otherwise, 0…1.</summary>
    public double UsuallyOpen { get; init; }
}

/// <summary>A door or window to the outside.</summary>
/// <param name="Name">Unique in the plan.</param>
/// <param name="Room">Index of its room.</param>
/// <param name="AreaM2">Free area when wide open, 0.01…100 m².</param>
/// <param name="HeightM">Height of the opening, 0.1…10 m.</param>
public sealed record OpeningPlan(string Name, int Room, double AreaM2, double HeightM)
{
    /// <summary>Where it faces, degrees from north through east; with two that face apart and doors open between, the wind blows through.</summary>
    public double AzimuthDegrees { get; init; }
}

/// <summary>A room.</summary>
/// <param name="Name">Unique in the plan.</param>
/// <param name="FloorAreaM2">1…2,000 m².</param>
/// <param name="VolumeM3">2…20,000 m³.</param>
public sealed record RoomPlan(string Name, double FloorAreaM2, double VolumeM3)
{
    /// <summary>Outdoor air through cracks without wind and difference, air changes an hour, 0…10.</summary>
    public double InfiltrationPerH { get; init; } = 0.1;

    /// <summary>
    /// Effective leakage area, m² (0…1), in the Sherman–Grimsrud form Q = A·√(fs·dT + fw·v²) (ASHRAE Handbook Fundamentals, ch. ventilation and
    /// infiltration); added to <see cref="InfiltrationPerH"/>.
    /// </summary>
    public double LeakageAreaM2 { get; init; }

    /// <summary>Fast furniture (textiles, paper, thin wood), J/(m²·K) of floor, 0…200,000. ISO 52016-1 takes 10,000 for air and furniture together.</summary>
    public double FastFurnitureJPerM2K { get; init; } = 10_000;

    /// <summary>Slow furniture (beds, books, cupboards), J/(m²·K) of floor, 0…500,000 (common practice, no published source).</summary>
    public double SlowFurnitureJPerM2K { get; init; } = 25_000;

    /// <summary>Moisture that fast surfaces take up, g per percent of relative humidity and m² of floor (MBV classes: NORDTEST 2005), 0…10.</summary>
    public double FastMoistureGPerPercentM2 { get; init; } = 0.3;

    /// <summary>Moisture that slow materials take up, g/(%·m²), 0…30.</summary>
    public double SlowMoistureGPerPercentM2 { get; init; } = 1.5;

    /// <summary>Time constant of the fast buffer, s (common practice, no published source).</summary>
    public double FastMoistureS { get; init; } = 1800;

    /// <summary>Time constant of the slow buffer, s.</summary>
    public double SlowMoistureS { get; init; } = 8 * 3600;

    /// <summary>Temperature at the start, °C.</summary>
    public double StartC { get; init; } = 22;

    /// <summary>Relative humidity at the start, %.</summary>
    public double StartHumidityPercent { get; init; } = 50;
}

/// <summary>A whole building.</summary>
public sealed record BuildingPlan(
    RoomPlan[] Rooms, SurfacePlan[] Surfaces, WindowPlan[] Windows, DoorPlan[] Doors, OpeningPlan[] Openings)
{
    /// <summary>Mean air pressure of the place, Pa.</summary>
    public double PressurePa { get; init; } = 101_325;

    /// <summary>
    /// Wind at the walls over wind at 10 m in the open, 0…1.5: 0.55 at 3 m in a suburb, 0.76 at 1.4 m in open country (power law of the ASHRAE
    /// Handbook Fundamentals, ch. airflow around buildings).
    /// </summary>
    public double WindFactor { get; init; } = 0.55;

    /// <summary>Ground reflectance for sun, 0…1.</summary>
    public double GroundReflectance { get; init; } = 0.2;
}
