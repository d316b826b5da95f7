// Properties of water with ethylene or propylene glycol, and the temperature at which it begins to freeze.
// Must never be asked below its freezing point: slush has no such properties.
namespace RoomSupervisor.Physics;

/// <summary>Which antifreeze.</summary>
public enum GlycolKind
{
    /// <summary>Ethylene glycol.</summary>
    Ethylene,

    /// <summary>Propylene glycol.</summary>
    Propylene,
}

/// <summary>
/// Aqueous glycol after Melinder, Properties of Secondary Working Fluids for Indirect Systems (IIR, 2010): 18-term polynomials in mass
/// concentration and temperature, coefficients as carried in an open (MIT) property library (another fit of the same book there differs by up to 0.3 K in
/// freezing point, 0.1 % in density, 1.5 % in specific heat and 3 % in viscosity). 5…60 % by mass, freezing point to 80 °C.
/// </summary>
public static class Glycol
{
    /// <summary>Temperature, °C, at which freezing begins.</summary>
    /// <param name="kind">Which glycol.</param>
    /// <param name="massPercent">5…60 % by mass.</param>
    /// <param name="freezingC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFreezingPoint(GlycolKind kind, double massPercent, out double freezingC, out Impossible why)
    {
        freezingC = double.NaN;
        if (!Allowed.Range(nameof(massPercent), massPercent, 5, 60, out why)) return false;
        freezingC = Freezing(kind, massPercent);
        return true;
    }

    /// <summary>Density, specific heat and viscosity.</summary>
    /// <param name="kind">Which glycol.</param>
    /// <param name="massPercent">5…60 % by mass.</param>
    /// <param name="temperatureC">Freezing point…80 °C.</param>
    /// <param name="properties">Properties; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryProperties(
        GlycolKind kind, double massPercent, double temperatureC, out LiquidProperties properties, out Impossible why)
    {
        properties = LiquidProperties.Unknown;
        if (!Allowed.Range(nameof(massPercent), massPercent, 5, 60, out why)) return false;
        if (!Allowed.Range(nameof(temperatureC), temperatureC, Freezing(kind, massPercent), 80, out why)) return false;
        bool ethylene = kind == GlycolKind.Ethylene;
        double x = massPercent - (ethylene ? 30.8462 : 30.7031), t = temperatureC - (ethylene ? 31.728 : 32.7083);
        properties = new LiquidProperties(
            Polynomial(ethylene ? EthyleneDensity : PropyleneDensity, x, t),
            Polynomial(ethylene ? EthyleneHeat : PropyleneHeat, x, t) / 1000,
            Math.Exp(Polynomial(ethylene ? EthyleneLogViscosity : PropyleneLogViscosity, x, t)) / 1000);
        return true;
    }

    // Σ over powers of concentration 0…5 and of temperature (3, 3, 3, 2, 1, 0 at most), in Melinder's order of terms.
    private static double Polynomial(ReadOnlySpan<double> c, double x, double t) =>
        Cubic(c[0], c[1], c[2], c[3], t)
        + x * (Cubic(c[4], c[5], c[6], c[7], t)
        + x * (Cubic(c[8], c[9], c[10], c[11], t)
        + x * (Cubic(c[12], c[13], c[14], 0, t)
        + x * (Cubic(c[15], c[16], 0, 0, t)
        + x * c[17]))));

    private static double Cubic(double a, double b, double c, double d, double t) => a + t * (b + t * (c + t * d));

    // The freezing column's temperature terms stay below 1e-3 K: only the concentration terms count.
    private static double Freezing(GlycolKind kind, double massPercent)
    {
        bool ethylene = kind == GlycolKind.Ethylene;
        double x = massPercent - (ethylene ? 30.8462 : 30.7031);
        return ethylene
            ? -15.25 + x * (-0.808 + x * (-0.01334 + x * (-0.00007293 + x * (0.000001006 + 0.00000000114 * x))))
            : -13.25 + x * (-0.6631 + x * (-0.01094 + x * (-0.0002283 + x * (-0.000003409 + 0.00000001465 * x))));
    }

    private static ReadOnlySpan<double> EthyleneDensity =>
    [
        1034, -0.4781, -0.002692, 0.000004725, 1.311, -0.006876, 0.00004805, 0.0000000169, 0.0000749, 0.00007855, -0.0000003995, 0.000000004982,
        -0.0001062, 0.000001229, -0.00000001153, -0.0000009623, -0.00000007211, 0.00000004891,
    ];

    private static ReadOnlySpan<double> EthyleneHeat =>
    [
        3737, 2.93, -0.004675, -0.00001389, -17.99, 0.1046, -0.0004147, 0.0000001847, -0.09933, 0.0003516, 0.000005109, -0.00000007138,
        0.00261, -0.000001189, -0.0000001643, 0.00001537, -0.0000004272, -0.000001618,
    ];

    private static ReadOnlySpan<double> EthyleneLogViscosity =>
    [
        0.4705, -0.0255, 0.0001782, -0.0000007669, 0.02471, -0.0001171, 0.000001052, -0.00000001634, 0.000003328, 0.000001086, 0.00000001051,
        -0.0000000006475, 0.000001659, 0.000000003157, 0.0000000004063, 0.00000003089, 0.0000000001831, -0.000000001865,
    ];

    private static ReadOnlySpan<double> PropyleneDensity =>
    [
        1018, -0.5406, -0.002666, 0.00001347, 0.7604, -0.00945, 0.00005541, -0.0000001343, -0.002498, 0.000027, -0.0000004018, 0.000000003376,
        -0.000155, 0.000002829, -0.000000007175, -0.000001131, -0.00000002221, 0.00000002342,
    ];

    private static ReadOnlySpan<double> PropyleneHeat =>
    [
        3882, 2.699, -0.001659, -0.00001032, -13.04, 0.0507, -0.00004752, 0.000001522, -0.1598, 0.00009534, 0.00001167, -0.0000000487,
        0.0003539, 0.00003102, -0.000000295, 0.00005, -0.0000007135, -0.0000004959,
    ];

    private static ReadOnlySpan<double> PropyleneLogViscosity =>
    [
        0.6837, -0.03045, 0.0002525, -0.000001399, 0.03328, -0.0003984, 0.000004332, -0.0000000186, 0.00005453, -0.000000086, -0.00000001593,
        -0.00000000004465, -0.0000039, 0.0000001054, -0.000000001589, -0.00000001587, 0.0000000004475, 0.000000003564,
    ];
}
