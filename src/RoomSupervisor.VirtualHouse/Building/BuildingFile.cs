// What building.yaml says of a house that site.yaml does not: heights, outer walls, glass, what lies beyond, doors, leakage, the source's size.
// Must never hold anything the controller may know: it is read by rehearsals only.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>A building beside its site file. Everything has a default, so that a bare site can be rehearsed; <see cref="Effective"/> tells which are.</summary>
public sealed class BuildingFile
{
    /// <summary>Words of the four directions, clockwise from north; 90 degrees each.</summary>
    public static IReadOnlyList<string> Directions { get; } = ["north", "east", "south", "west"];

    /// <summary>Insulation class: old, usual, good. Its U values are in <see cref="ShellLayers"/>.</summary>
    public string Insulation { get; private set; } = "usual";

    /// <summary>light (boards), medium (brick), heavy (concrete).</summary>
    public string Weight { get; private set; } = "medium";

    /// <summary>Air changes at 50 Pa, 1/h.</summary>
    public double AirChangesAt50Pa { get; private set; } = 3;

    /// <summary>Outdoor air that is always there (fans, opened windows), changes an hour, beside the cracks.</summary>
    public double VentilationPerH { get; private set; } = 0.05;

    /// <summary>U values of outer walls, roof, floor and glass, W/(m²·K); NaN: of the class.</summary>
    public double WallU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double RoofU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double FloorU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double GlassU { get; private set; } = double.NaN;

    /// <summary>Share of the sun that the glass lets in, 0…1; NaN: of the class.</summary>
    public double GlassG { get; private set; } = double.NaN;

    /// <summary>Wind at the walls over wind at 10 m in the open.</summary>
    public double WindShare { get; private set; } = 0.55;

    /// <summary>Cold the source can make at 35 °C outdoors and 18 °C water, W; NaN: from its least output.</summary>
    public double CoolingOutputW { get; private set; } = double.NaN;

    /// <summary>Heat at 7 °C outdoors and 35 °C water, W; NaN: as much as cold, and a tenth.</summary>
    public double HeatingOutputW { get; private set; } = double.NaN;

    /// <summary>How far sensors may be off from the start, % of the accuracy that the site file states; drawn by the seed.</summary>
    public double SensorErrorPercent { get; private set; } = 50;

    /// <summary>Rooms by name; those not named have defaults.</summary>
    public IReadOnlyDictionary<string, RoomShell> Rooms { get; internal set; } = new Dictionary<string, RoomShell>();

    /// <summary>Inner doors.</summary>
    public IReadOnlyList<DoorShell> Doors { get; internal set; } = [];

    /// <summary>Doors and windows to the outside.</summary>
    public IReadOnlyList<OpeningShell> Openings { get; internal set; } = [];

    /// <summary>Every value as it holds, with whether somebody wrote it.</summary>
    public IReadOnlyList<EffectiveValue> Effective { get; internal set; } = [];

    /// <summary>Keys of the file's top.</summary>
    public static IReadOnlyList<Parameter<BuildingFile>> Parameters { get; } =
    [
        Declare.Choice<BuildingFile>("insulation", "usual", ["old", "usual", "good"], "class of walls, roof, floor and glass", b => b.Insulation, (b, v) => b.Insulation = v),
        Declare.Choice<BuildingFile>("weight", "medium", ["light", "medium", "heavy"], "boards, brick or concrete", b => b.Weight, (b, v) => b.Weight = v),
        Declare.Number<BuildingFile>("air_changes_at_50_pa", Quantity.Number, 3, 0.1, 20, "leakage as a door-blower test tells it, 1/h", b => b.AirChangesAt50Pa, (b, v) => b.AirChangesAt50Pa = v),
        Declare.Number<BuildingFile>("ventilation", Quantity.Number, 0.05, 0, 5, "outdoor air that is always there beside the cracks, changes an hour", b => b.VentilationPerH, (b, v) => b.VentilationPerH = v),
        Declare.Number<BuildingFile>("wall_u", Quantity.AreaTransfer, double.NaN, 0.08, 3, "U value of outer walls; without it that of the class", b => b.WallU, (b, v) => b.WallU = v, example: "0.3 W/m²K"),
        Declare.Number<BuildingFile>("roof_u", Quantity.AreaTransfer, double.NaN, 0.06, 3, "U value of the roof", b => b.RoofU, (b, v) => b.RoofU = v, example: "0.2 W/m²K"),
        Declare.Number<BuildingFile>("floor_u", Quantity.AreaTransfer, double.NaN, 0.08, 2.5, "U value of floors on the ground, without the soil", b => b.FloorU, (b, v) => b.FloorU = v, example: "0.3 W/m²K"),
        Declare.Number<BuildingFile>("glass_u", Quantity.AreaTransfer, double.NaN, 0.4, GlassPlan.HighestU, "U value of windows; over 3.3 W/m²K of one pane", b => b.GlassU, (b, v) => b.GlassU = v, example: "1.1 W/m²K"),
        Declare.Number<BuildingFile>("glass_g", Quantity.Number, double.NaN, 0.1, 0.8, "share of the sun that the glass lets in", b => b.GlassG, (b, v) => b.GlassG = v, example: "0.5"),
        Declare.Number<BuildingFile>("wind_share", Quantity.Number, 0.55, 0.1, 1.2, "wind at the walls over wind at 10 m in the open: 0.55 suburb, 0.76 open country", b => b.WindShare, (b, v) => b.WindShare = v),
        Declare.Number<BuildingFile>("source_cooling_output", Quantity.Power, double.NaN, 500, 100_000, "cold the source can make at 35 °C outdoors and 18 °C water", b => b.CoolingOutputW, (b, v) => b.CoolingOutputW = v, example: "9 kW"),
        Declare.Number<BuildingFile>("source_heating_output", Quantity.Power, double.NaN, 500, 100_000, "heat it can make at 7 °C outdoors and 35 °C water", b => b.HeatingOutputW, (b, v) => b.HeatingOutputW = v, example: "10 kW"),
        Declare.Number<BuildingFile>("sensor_error", Quantity.Percent, 50, 0, 200, "how far sensors may be off, of the accuracy their data sheet states", b => b.SensorErrorPercent, (b, v) => b.SensorErrorPercent = v),
    ];
}

/// <summary>The shell of one room.</summary>
public sealed class RoomShell
{
    private readonly double[] _wall = [double.NaN, double.NaN, double.NaN, double.NaN], _glass = [double.NaN, double.NaN, double.NaN, double.NaN];

    /// <summary>Height, m.</summary>
    public double HeightM { get; private set; } = 2.6;

    /// <summary>outside, neighbour, nothing (an equal room), or the name of a room.</summary>
    public string Above { get; private set; } = "nothing";

    /// <summary>ground, outside, neighbour or nothing (an equal room, or rooms that name this one as above).</summary>
    public string Below { get; private set; } = "nothing";

    /// <summary>Share of the sun on its glass that overhangs and blinds keep off, %.</summary>
    public double ShadingPercent { get; private set; } = 30;

    /// <summary>People in it when nobody says otherwise, evenings and nights.</summary>
    public double People { get; private set; } = double.NaN;

    /// <summary>Devices and light, W, day and night.</summary>
    public double DevicesW { get; private set; } = double.NaN;

    /// <summary>U values of this room's outer walls, roof, floor and glass, W/(m²·K); NaN: the building's.</summary>
    public double WallU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double RoofU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double FloorU { get; private set; } = double.NaN;

    /// <summary>See <see cref="WallU"/>.</summary>
    public double GlassU { get; private set; } = double.NaN;

    /// <summary>Share of the sun that this room's glass lets in, 0…1; NaN: the building's.</summary>
    public double GlassG { get; private set; } = double.NaN;

    /// <summary>True when any outer wall or glass was written: then what is not written is not there.</summary>
    public bool SaysOutside => _wall.Concat(_glass).Any(v => !double.IsNaN(v));

    /// <summary>Outer wall facing a direction, glass included, m²; NaN: not written.</summary>
    /// <param name="direction">0 north, 1 east, 2 south, 3 west.</param>
    public double WallM2(int direction) => _wall[direction];

    /// <summary>Glass facing a direction, m²; NaN: not written.</summary>
    /// <param name="direction">0 north, 1 east, 2 south, 3 west.</param>
    public double GlassM2(int direction) => _glass[direction];

    /// <summary>Keys of a room.</summary>
    public static IReadOnlyList<Parameter<RoomShell>> Parameters { get; } =
    [
        Declare.Number<RoomShell>("height", Quantity.Length, 2.6, 1.8, 12, "mean height of the room", r => r.HeightM, (r, v) => r.HeightM = v),
        Word("above", "outside, neighbour, nothing (an equal room), or the name of the room above", r => r.Above, (r, v) => r.Above = v),
        Word("below", "ground, outside, neighbour or nothing; a room below names this one as above", r => r.Below, (r, v) => r.Below = v),
        Declare.Number<RoomShell>("shading", Quantity.Percent, 30, 0, 100, "sun on its glass that overhangs and blinds keep off", r => r.ShadingPercent, (r, v) => r.ShadingPercent = v),
        Declare.Number<RoomShell>("people", Quantity.Number, double.NaN, 0, 50, "people in it in evenings and nights where no scenario says more", r => r.People, (r, v) => r.People = v, example: "2"),
        Declare.Number<RoomShell>("devices", Quantity.Power, double.NaN, 0, 5000, "devices and light, day and night", r => r.DevicesW, (r, v) => r.DevicesW = v, example: "60 W"),
        .. Enumerable.Range(0, 4).Select(i => Declare.Number<RoomShell>(
            "wall_" + BuildingFile.Directions[i], Quantity.Area, double.NaN, 0, 500, "outer wall on that side, glass included", r => r._wall[i], (r, v) => r._wall[i] = v, example: "20 m²")),
        .. Enumerable.Range(0, 4).Select(i => Declare.Number<RoomShell>(
            "glass_" + BuildingFile.Directions[i], Quantity.Area, double.NaN, 0, 300, "glass on that side", r => r._glass[i], (r, v) => r._glass[i] = v, example: "4 m²")),
        Declare.Number<RoomShell>("wall_u", Quantity.AreaTransfer, double.NaN, 0.08, 3, "U value of this room's outer walls; without it the building's", r => r.WallU, (r, v) => r.WallU = v, example: "0.3 W/m²K"),
        Declare.Number<RoomShell>("roof_u", Quantity.AreaTransfer, double.NaN, 0.06, 3, "U value of its roof, and of its floor over open air", r => r.RoofU, (r, v) => r.RoofU = v, example: "0.2 W/m²K"),
        Declare.Number<RoomShell>("floor_u", Quantity.AreaTransfer, double.NaN, 0.08, 2.5, "U value of its floor on the ground, without the soil", r => r.FloorU, (r, v) => r.FloorU = v, example: "0.3 W/m²K"),
        Declare.Number<RoomShell>("glass_u", Quantity.AreaTransfer, double.NaN, 0.4, GlassPlan.HighestU, "U value of its windows", r => r.GlassU, (r, v) => r.GlassU = v, example: "1.1 W/m²K"),
        Declare.Number<RoomShell>("glass_g", Quantity.Number, double.NaN, 0.1, 0.8, "share of the sun that its glass lets in", r => r.GlassG, (r, v) => r.GlassG = v, example: "0.5"),
    ];

    private static Parameter<RoomShell> Word(string key, string help, Func<RoomShell, string> get, Action<RoomShell, string> set)
        => new() { Key = key, Quantity = Quantity.Text, DefaultText = "nothing", Help = help, GetText = get, SetText = set };
}

/// <summary>An inner door.</summary>
public sealed class DoorShell
{
    /// <summary>Name scenarios use.</summary>
    public string Name { get; internal set; } = "";

    /// <summary>One room.</summary>
    public string From { get; private set; } = "";

    /// <summary>The other room.</summary>
    public string To { get; private set; } = "";

    /// <summary>m.</summary>
    public double WidthM { get; private set; } = 0.9;

    /// <summary>m.</summary>
    public double HeightM { get; private set; } = 2.05;

    /// <summary>How far it stands open when no scenario says otherwise, %.</summary>
    public double UsuallyPercent { get; private set; }

    /// <summary>Keys of a door.</summary>
    public static IReadOnlyList<Parameter<DoorShell>> Parameters { get; } =
    [
        Declare.Name<DoorShell>("from", "one room", d => d.From, (d, v) => d.From = v),
        Declare.Name<DoorShell>("to", "the other room", d => d.To, (d, v) => d.To = v),
        Declare.Number<DoorShell>("width", Quantity.Length, 0.9, 0.1, 20, "width", d => d.WidthM, (d, v) => d.WidthM = v),
        Declare.Number<DoorShell>("height", Quantity.Length, 2.05, 0.1, 10, "height", d => d.HeightM, (d, v) => d.HeightM = v),
        Declare.Number<DoorShell>("usually_open", Quantity.Percent, 0, 0, 100, "how far it stands open when no scenario says otherwise", d => d.UsuallyPercent, (d, v) => d.UsuallyPercent = v),
    ];
}

/// <summary>A door or window to the outside.</summary>
public sealed class OpeningShell
{
    /// <summary>Name scenarios use.</summary>
    public string Name { get; internal set; } = "";

    /// <summary>Its room.</summary>
    public string Room { get; private set; } = "";

    /// <summary>m.</summary>
    public double WidthM { get; private set; } = 0.9;

    /// <summary>m.</summary>
    public double HeightM { get; private set; } = 2.05;

    /// <summary>One of <see cref="BuildingFile.Directions"/>.</summary>
    public string Faces { get; private set; } = "south";

    /// <summary>Keys of an opening.</summary>
    public static IReadOnlyList<Parameter<OpeningShell>> Parameters { get; } =
    [
        Declare.Name<OpeningShell>("room", "the room it opens", o => o.Room, (o, v) => o.Room = v),
        Declare.Number<OpeningShell>("width", Quantity.Length, 0.9, 0.1, 20, "free width", o => o.WidthM, (o, v) => o.WidthM = v),
        Declare.Number<OpeningShell>("height", Quantity.Length, 2.05, 0.1, 10, "free height", o => o.HeightM, (o, v) => o.HeightM = v),
        Declare.Choice<OpeningShell>("faces", "south", BuildingFile.Directions, "where it faces", o => o.Faces, (o, v) => o.Faces = v),
    ];
}
