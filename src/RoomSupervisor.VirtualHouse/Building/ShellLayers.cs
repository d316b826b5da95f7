// Layers of walls, roofs, floors, ceilings and surfaces with water, from a class of insulation, a weight and what the site file says of a surface.
// Must never be taken for a survey: the U values of the classes are common practice (no published source), and the report says so.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Layers from the room outwards.</summary>
public sealed class ShellLayers
{
    private readonly string _weight;

    /// <summary>Layers of a class.</summary>
    /// <param name="insulation">old, usual or good.</param>
    /// <param name="weight">light, medium or heavy.</param>
    public ShellLayers(string insulation, string weight)
    {
        _weight = weight;
        (WallU, RoofU, FloorU, GlassU, GlassG) = insulation switch
        {
            "old" => (1.2, 0.9, 1.0, 2.7, 0.70),
            "good" => (0.18, 0.14, 0.20, 0.9, 0.50),
            _ => (0.35, 0.25, 0.40, 1.4, 0.60),
        };
        Glass = GlassPlan.FromUg(GlassU, GlassG);
    }

    /// <summary>Layers of a building: its class, and the U values it says itself.</summary>
    /// <param name="file">The building.</param>
    public ShellLayers(BuildingFile file)
        : this((file ?? throw new ArgumentNullException(nameof(file))).Insulation, file.Weight)
    {
        (WallU, RoofU, FloorU) = (Said(file.WallU, WallU), Said(file.RoofU, RoofU), Said(file.FloorU, FloorU));
        (GlassU, GlassG) = (Said(file.GlassU, GlassU), Said(file.GlassG, GlassG));
        Glass = GlassPlan.FromUg(GlassU, GlassG);
    }

    /// <summary>Layers of one room: the building's, and the U values that are written for the room itself.</summary>
    /// <param name="file">The building.</param>
    /// <param name="room">The room.</param>
    public ShellLayers(BuildingFile file, RoomShell room)
        : this(file)
    {
        ArgumentNullException.ThrowIfNull(room);
        (WallU, RoofU, FloorU) = (Said(room.WallU, WallU), Said(room.RoofU, RoofU), Said(room.FloorU, FloorU));
        (GlassU, GlassG) = (Said(room.GlassU, GlassU), Said(room.GlassG, GlassG));
        Glass = GlassPlan.FromUg(GlassU, GlassG);
    }

    private static double Said(double value, double usual) => double.IsFinite(value) ? value : usual;

    /// <summary>U of the glass, W/(m²·K).</summary>
    public double GlassU { get; }

    /// <summary>Share of the sun it lets in, 0…1.</summary>
    public double GlassG { get; }

    /// <summary>Outer wall, W/(m²·K): 1.2 old, 0.35 usual, 0.18 good.</summary>
    public double WallU { get; }

    /// <summary>Roof, W/(m²·K): 0.9, 0.25, 0.14.</summary>
    public double RoofU { get; }

    /// <summary>Floor on the ground, W/(m²·K): 1.0, 0.40, 0.20.</summary>
    public double FloorU { get; }

    /// <summary>Glass: U 2.7 g 0.70, U 1.4 g 0.60, U 0.9 g 0.50.</summary>
    public GlassPlan Glass { get; }

    private static Layer Board => new(0.0125, 0.25, 800, 1000);

    private static Layer Wood => new(0.022, 0.14, 500, 1600);

    private Layer Mass => _weight switch { "heavy" => new Layer(0.15, 2.1, 2400, 1000), "light" => new Layer(0.025, 0.25, 800, 1000), _ => new Layer(0.115, 0.6, 1400, 1000) };

    /// <summary>An outer wall.</summary>
    public Layer[] Wall() => Insulated(WallU, 0.17, Mass, new Layer(0.015, 0.8, 1800, 1000));

    /// <summary>A roof over a room.</summary>
    public Layer[] Roof() => Insulated(RoofU, 0.14, Board, Wood);

    /// <summary>A floor on the ground, with a metre of soil.</summary>
    public Layer[] GroundFloor() => [.. Insulated(FloorU, 0.17, Wood, new Layer(0.12, 1.7, 2300, 1000)), new Layer(1, 1.5, 1800, 1000)];

    /// <summary>What parts two storeys, from the room below upwards.</summary>
    public Layer[] Storey() => _weight == "heavy" ? [new(0.18, 2.1, 2400, 1000), new(0.03, 0.04, 60, 1000), new(0.05, 1.4, 2000, 1000)] : [Board, new(0.08, 0.045, 40, 1000), Wood];

    /// <summary>An inner wall.</summary>
    public Layer[] InnerWall() => _weight == "light" ? [Board, new(0.05, 0.045, 40, 1000), Board] : [new(0.1, 0.6, 1200, 1000)];

    private static Layer[] Insulated(double u, double films, Layer inner, Layer outer)
    {
        double others = films + inner.ThicknessM / inner.ConductivityWPerMK + outer.ThicknessM / outer.ConductivityWPerMK;
        double thickness = Math.Max(1 / u - others, 0.02) * 0.036;
        return [inner, new Layer(thickness, 0.036, 40, 1000), outer];
    }

    /// <summary>
    /// A thin panel on what is behind it. Its resistance to water is what its rated output at 8 K leaves when the film of 10.8 W/(m²·K) is taken off (EN 1264-5's
    /// total exchange of a cooled ceiling), its mass what its response asks for.
    /// </summary>
    /// <param name="outputWPerM2">At 8 K, W/m².</param>
    /// <param name="responseS">Time constant, s.</param>
    /// <param name="waterKgPerM2">Content.</param>
    /// <param name="behind">Layers behind its insulation.</param>
    public static (Layer[] Layers, WaterSide Water) Panel(double outputWPerM2, double responseS, double waterKgPerM2, Layer[] behind)
    {
        double resistance = Math.Clamp(8 / outputWPerM2 - 1 / CeilingFilm - 0.001, 0.004, 0.9);
        double joules = Math.Clamp(responseS * (1 / resistance + CeilingFilm) - waterKgPerM2 * Matter.WaterJPerKgK, 2500, 80_000);
        // One layer that carries the mass: conducting well, as aluminium or graphite-filled board does.
        Layer face = new(0.01, 10, Math.Min(joules / (0.01 * 1000), 8900), 1000);
        return ([face, new Layer(0.03, 0.035, 40, 1000), .. behind], new WaterSide(1, resistance, waterKgPerM2));
    }

    /// <summary>
    /// Pipes in screed on insulation. Covering and screed above the pipes are what the rated output at 8 K leaves under the film of 10.8 W/(m²·K) of a heated
    /// floor (EN 1264-2); the water's own resistance is taken as 0.02 m²K/W.
    /// </summary>
    /// <param name="outputWPerM2">Heating, at 8 K, W/m².</param>
    /// <param name="waterKgPerM2">Content.</param>
    /// <param name="behind">Layers under the insulation.</param>
    public static (Layer[] Layers, WaterSide Water) Slab(double outputWPerM2, double waterKgPerM2, Layer[] behind)
    {
        double rest = Math.Clamp(8 / outputWPerM2 - 1 / FloorFilm - 0.02, 0.01, 0.5), screed = Math.Min(0.045 / 1.4, rest * 0.8), covering = rest - screed;
        Layer top = new(covering * 0.5, 0.5, 1500, 1000), above = new(screed * 1.4, 1.4, 2000, 1000), under = new(0.02, 1.4, 2000, 1000);
        return ([top, above, under, new Layer(0.04, 0.035, 40, 1000), .. behind], new WaterSide(2, 0.02, waterKgPerM2));
    }

    private const double CeilingFilm = 10.8, FloorFilm = 10.8;
}
