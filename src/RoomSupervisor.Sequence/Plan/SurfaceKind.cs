// A kind of radiant surface: thin panels and slabs, described once in site.yaml. Filled by the site reader; never changed once a House
// holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>
/// A kind of surface (<c>type: panel</c> or <c>type: slab</c>): output per area = rated × (difference / 8 K)^exponent, reached with a time constant.
/// </summary>
public sealed class SurfaceKind
{
    /// <summary>Difference between room and mean water at which outputs are rated, K (EN 14240 nominal for chilled ceilings, from memory).</summary>
    public const double RatedK = 8;

    /// <summary>True for pipes in screed or concrete: slow, heavy, cannot be warmed in time.</summary>
    public bool IsSlab { get; private init; }

    /// <summary>Cooling output at 8 K between room and mean water, W/m².</summary>
    public double OutputWPerM2 { get; private set; } = 60;

    /// <summary>Heating output at 8 K between mean water and room, W/m²; NaN: as in cooling.</summary>
    public double HeatingOutputWPerM2 { get; private set; } = double.NaN;

    /// <summary>Exponent of the output characteristic.</summary>
    public double Exponent { get; private set; } = 1.1;

    /// <summary>Time constant with which the output follows the water, s.</summary>
    public double ResponseS { get; private set; } = 300;

    /// <summary>Water in it, l/m².</summary>
    public double WaterContentLPerM2 { get; private set; } = 1;

    /// <summary>A panel with its defaults.</summary>
    public static SurfaceKind Panel() => new();

    /// <summary>A slab with its defaults.</summary>
    public static SurfaceKind Slab() => new() { IsSlab = true, OutputWPerM2 = 35, HeatingOutputWPerM2 = 40, ResponseS = 5400, WaterContentLPerM2 = 1 };

    /// <summary>Keys of a panel.</summary>
    public static IReadOnlyList<Parameter<SurfaceKind>> Parameters { get; } = [.. Of(60, double.NaN, 300)];

    /// <summary>Keys of a slab: the same with other defaults.</summary>
    public static IReadOnlyList<Parameter<SurfaceKind>> SlabParameters { get; } = [.. Of(35, 40, 5400)];

    private static Parameter<SurfaceKind>[] Of(double output, double heating, double response) =>
    [
        Declare.Number<SurfaceKind>("output", Quantity.AreaPower, output, 5, 150, "cooling output at 8 K between the room and the mean water",
            k => k.OutputWPerM2, (k, v) => k.OutputWPerM2 = v, step: 1, more: "From the maker's test sheet. The coverings over a floor count: wood halves it."),
        Declare.Number<SurfaceKind>("heating_output", Quantity.AreaPower, heating, 5, 150, "heating output at 8 K between the mean water and the room",
            k => k.HeatingOutputWPerM2, (k, v) => k.HeatingOutputWPerM2 = v, step: 1, example: "60 W/m²", more: "Without it a panel heats as much as it cools."),
        Declare.Number<SurfaceKind>("exponent", Quantity.Number, 1.1, 1, 1.3, "exponent of the output over the temperature difference", k => k.Exponent, (k, v) => k.Exponent = v, step: 0.01),
        Declare.Number<SurfaceKind>("response", Quantity.Duration, response, 60, 6 * 3600, "time constant with which its output follows the water", k => k.ResponseS, (k, v) => k.ResponseS = v, step: 60,
            more: "Thin panels 5 to 15 min, 65 mm of screed about 90 min: common practice, no published source."),
        Declare.Number<SurfaceKind>("water_content", Quantity.AreaVolume, 1, 0.1, 10, "water in it for each square metre",
            k => k.WaterContentLPerM2, (k, v) => k.WaterContentLPerM2 = v, step: 0.1, more: "For the estimate of volumes and fill; control does not use it."),
    ];
}
