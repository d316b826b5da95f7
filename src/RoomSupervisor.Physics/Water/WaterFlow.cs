// Flow for a power, power of a flow, velocity, friction, and the store that keeps a machine from cycling.
// Must never assume 4,180 kJ/(m³·K): the error would reach 1.6 % in a hot circuit.
namespace RoomSupervisor.Physics;

/// <summary>Flows of a heat carrier in pipes. The carrier's properties come from <see cref="Water"/> or <see cref="Glycol"/>.</summary>
public static class WaterFlow
{
    /// <summary>Mass flow, kg/s, that carries a power over a temperature difference: P/(cp·dT). Heat balance.</summary>
    /// <param name="powerW">0…1e6 W.</param>
    /// <param name="differenceK">0.1…80 K.</param>
    /// <param name="carrier">Properties at the mean temperature.</param>
    /// <param name="massFlowKgPerS">kg/s; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryMassFlow(
        double powerW, double differenceK, in LiquidProperties carrier, out double massFlowKgPerS, out Impossible why)
    {
        massFlowKgPerS = double.NaN;
        if (!Allowed.Range(nameof(powerW), powerW, 0, 1e6, out why)) return false;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0.1, 80, out why)) return false;
        if (!Carrier(carrier, out why)) return false;
        massFlowKgPerS = powerW / (1000 * carrier.SpecificHeatKJPerKgK * differenceK);
        return true;
    }

    /// <summary>Volume flow, m³/h, that carries a power over a temperature difference: P/(rho·cp·dT).</summary>
    /// <inheritdoc cref="TryMassFlow"/>
    /// <param name="powerW">0…1e6 W.</param>
    /// <param name="differenceK">0.1…80 K.</param>
    /// <param name="carrier">Properties at the mean temperature.</param>
    /// <param name="flowM3PerH">m³/h; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryVolumeFlow(
        double powerW, double differenceK, in LiquidProperties carrier, out double flowM3PerH, out Impossible why)
    {
        flowM3PerH = double.NaN;
        if (!TryMassFlow(powerW, differenceK, carrier, out double mass, out why)) return false;
        flowM3PerH = 3600 * mass / carrier.DensityKgPerM3;
        return true;
    }

    /// <summary>Power, W, that a volume flow carries over a temperature difference (sign of the difference kept).</summary>
    /// <param name="flowM3PerH">0…1000 m³/h.</param>
    /// <param name="differenceK">−100…100 K.</param>
    /// <param name="carrier">Properties at the mean temperature.</param>
    /// <param name="powerW">W; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryPower(double flowM3PerH, double differenceK, in LiquidProperties carrier, out double powerW, out Impossible why)
    {
        powerW = double.NaN;
        if (!Allowed.Range(nameof(flowM3PerH), flowM3PerH, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(differenceK), differenceK, -100, 100, out why)) return false;
        if (!Carrier(carrier, out why)) return false;
        powerW = flowM3PerH / 3.6 * carrier.HeatKJPerM3K * differenceK;
        return true;
    }

    /// <summary>Mean velocity, m/s, in a round bore.</summary>
    /// <param name="flowM3PerH">0…1000 m³/h.</param>
    /// <param name="boreM">0.002…1 m.</param>
    /// <param name="velocityMPerS">m/s; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryVelocity(double flowM3PerH, double boreM, out double velocityMPerS, out Impossible why)
    {
        velocityMPerS = double.NaN;
        if (!Allowed.Range(nameof(flowM3PerH), flowM3PerH, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(boreM), boreM, 0.002, 1, out why)) return false;
        velocityMPerS = flowM3PerH / 900 / (Math.PI * boreM * boreM);
        return true;
    }

    /// <summary>
    /// Darcy friction factor: 64/Re up to 2300, Colebrook and White (J. Inst. Civ. Eng. 11, 1939) from 4000, straight between the two.
    /// </summary>
    /// <param name="reynolds">1…1e8.</param>
    /// <param name="relativeRoughness">Roughness over bore, 0…0.05.</param>
    /// <param name="factor">Darcy factor; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFrictionFactor(double reynolds, double relativeRoughness, out double factor, out Impossible why)
    {
        factor = double.NaN;
        if (!Allowed.Range(nameof(reynolds), reynolds, 1, 1e8, out why)) return false;
        if (!Allowed.Range(nameof(relativeRoughness), relativeRoughness, 0, 0.05, out why)) return false;
        factor = reynolds <= 2300 ? 64 / reynolds
            : reynolds >= 4000 ? Colebrook(reynolds, relativeRoughness)
            : 64.0 / 2300 + (reynolds - 2300) / 1700 * (Colebrook(4000, relativeRoughness) - 64.0 / 2300);
        return true;
    }

    /// <summary>Pressure lost to friction per metre of straight pipe, Pa/m: f/D·rho·v²/2 (Darcy and Weisbach).</summary>
    /// <param name="velocityMPerS">0…10 m/s.</param>
    /// <param name="boreM">0.002…1 m.</param>
    /// <param name="roughnessM">0…0.001 m (drawn copper and plastic about 1.5e-6, steel 4.5e-5).</param>
    /// <param name="carrier">Properties at the mean temperature.</param>
    /// <param name="pascalsPerM">Pa/m; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFriction(
        double velocityMPerS, double boreM, double roughnessM, in LiquidProperties carrier, out double pascalsPerM, out Impossible why)
    {
        pascalsPerM = double.NaN;
        if (!Allowed.Range(nameof(velocityMPerS), velocityMPerS, 0, 10, out why)) return false;
        if (!Allowed.Range(nameof(boreM), boreM, 0.002, 1, out why)) return false;
        if (!Allowed.Range(nameof(roughnessM), roughnessM, 0, Math.Min(0.001, 0.05 * boreM), out why)) return false;
        if (!Carrier(carrier, out why)) return false;
        double reynolds = carrier.DensityKgPerM3 * velocityMPerS * boreM / carrier.ViscosityPaS;
        // Below Re 1 flow is laminar all the same: 32·mu·v/D².
        if (reynolds < 1) pascalsPerM = 32 * carrier.ViscosityPaS * velocityMPerS / (boreM * boreM);
        else if (!TryFrictionFactor(reynolds, roughnessM / boreM, out double factor, out why)) return false;
        else pascalsPerM = factor / boreM * carrier.DensityKgPerM3 * velocityMPerS * velocityMPerS / 2;
        return true;
    }

    /// <summary>Store, litres, that takes up a machine's least power for its shortest run: V = P·t/(rho·cp·dT). Heat balance.</summary>
    /// <param name="leastPowerW">0…1e6 W.</param>
    /// <param name="shortestRunS">0…86,400 s.</param>
    /// <param name="swingK">0.1…80 K, how far the store may drift in that run.</param>
    /// <param name="carrier">Properties at the mean temperature.</param>
    /// <param name="litres">l; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryStore(
        double leastPowerW, double shortestRunS, double swingK, in LiquidProperties carrier, out double litres, out Impossible why)
    {
        litres = double.NaN;
        if (!Allowed.Range(nameof(leastPowerW), leastPowerW, 0, 1e6, out why)) return false;
        if (!Allowed.Range(nameof(shortestRunS), shortestRunS, 0, 86_400, out why)) return false;
        if (!Allowed.Range(nameof(swingK), swingK, 0.1, 80, out why)) return false;
        if (!Carrier(carrier, out why)) return false;
        litres = leastPowerW * shortestRunS / (carrier.HeatKJPerM3K * swingK);
        return true;
    }

    private static bool Carrier(in LiquidProperties carrier, out Impossible why) =>
        Allowed.Range("carrier.DensityKgPerM3", carrier.DensityKgPerM3, 500, 2000, out why)
        && Allowed.Range("carrier.SpecificHeatKJPerKgK", carrier.SpecificHeatKJPerKgK, 1, 6, out why)
        && Allowed.Range("carrier.ViscosityPaS", carrier.ViscosityPaS, 1e-5, 1, out why);

    // 1/√f = −2·log10(e/3.7 + 2.51/(Re·√f)); five rounds from the smooth guess settle to 1e-8 over the whole range.
    private static double Colebrook(double reynolds, double relativeRoughness)
    {
        double x = 1.8 * Math.Log10(reynolds / 6.9);
        for (int round = 0; round < 8; round++) x = -2 * Math.Log10(relativeRoughness / 3.7 + 2.51 * x / reynolds);
        return 1 / (x * x);
    }
}
