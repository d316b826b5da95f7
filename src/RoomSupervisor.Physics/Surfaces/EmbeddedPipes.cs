// Pipes in screed (type A: pipes within it; type C: in a levelling layer below it): heat per m² and K of over-temperature.
// Must never be used for other types (B, plates; D, plane sections): their formulas differ and are not here.
namespace RoomSupervisor.Physics;

/// <summary>A layout of pipes in screed.</summary>
/// <param name="SpacingM">Pipe spacing, 0.05…0.375 m.</param>
/// <param name="OutsideDiameterM">Pipe outside diameter, 0.008…0.03 m.</param>
/// <param name="WallM">Pipe wall, 0.0005…0.004 m.</param>
/// <param name="PipeConductivityWPerMK">0.1…500 W/(m·K); plastic about 0.35.</param>
/// <param name="ScreedAboveM">Screed above the pipes, 0.01…0.2 m.</param>
/// <param name="ScreedConductivityWPerMK">0.3…3 W/(m·K).</param>
/// <param name="CoveringM2KPerW">Resistance of the covering, 0…0.15 m²K/W.</param>
public readonly record struct PipeLayout(
    double SpacingM, double OutsideDiameterM, double WallM, double PipeConductivityWPerMK,
    double ScreedAboveM, double ScreedConductivityWPerMK, double CoveringM2KPerW);

/// <summary>
/// EN 1264-2 (= ISO 11855-2) for types A and C: q = K·dTH with K = B·aB·aT^mT·aU^mU·aD^mD, B = 6.7. Factor tables as in two public
/// transcriptions that agree; the standard itself was not read.
/// </summary>
public static class EmbeddedPipes
{
    /// <summary>Exchange coefficient the basic factor is made for (floor heating), W/(m²·K).</summary>
    public const double FloorHeatingExchange = 10.8;

    /// <summary>Factor K, W/(m²·K), for floor heating.</summary>
    /// <param name="layout">The layout, ranges at <see cref="PipeLayout"/>.</param>
    /// <param name="factorWPerM2K">W/(m²·K); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFloorHeatingFactor(in PipeLayout layout, out double factorWPerM2K, out Impossible why)
    {
        factorWPerM2K = double.NaN;
        if (!Check(layout, out why)) return false;
        factorWPerM2K = Factor(layout);
        return true;
    }

    /// <summary>
    /// Factor K, W/(m²·K), for another surface, by its exchange coefficient: K = Kf/(1+((1/a−1/10.8+R)/0.15)·(Kf/Kf*−1)), Kf without covering
    /// and Kf* with 0.15 m²K/W. EN 1264-5, ISO 11855-2. Coefficients: wall 8; ceiling heating 6 (ISO) or 6.5 (EN 1264-5); floor cooling 7
    /// (ISO) or 6.5 (EN 1264-5); ceiling cooling 10.8.
    /// </summary>
    /// <param name="layout">The layout, ranges at <see cref="PipeLayout"/>.</param>
    /// <param name="exchangeWPerM2K">Exchange coefficient, 4…15 W/(m²·K).</param>
    /// <param name="factorWPerM2K">W/(m²·K); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryFactor(in PipeLayout layout, double exchangeWPerM2K, out double factorWPerM2K, out Impossible why)
    {
        factorWPerM2K = double.NaN;
        if (!Check(layout, out why)) return false;
        if (!Allowed.Range(nameof(exchangeWPerM2K), exchangeWPerM2K, 4, 15, out why)) return false;
        double bare = Factor(layout with { CoveringM2KPerW = 0 }), covered = Factor(layout with { CoveringM2KPerW = 0.15 });
        double extra = 1 / exchangeWPerM2K - 1 / FloorHeatingExchange + layout.CoveringM2KPerW;
        factorWPerM2K = bare / (1 + extra / 0.15 * (bare / covered - 1));
        return true;
    }

    /// <summary>Heat lost downwards, W/m²: qu = (Ro·q + ti − tu)/Ru, Ro = 1/10.8 + R + su/lambda. EN 1264-2.</summary>
    /// <param name="layout">The layout; covering and screed make Ro.</param>
    /// <param name="upwardWattsPerM2">0…500 W/m².</param>
    /// <param name="roomC">−20…60 °C above.</param>
    /// <param name="belowC">−40…60 °C below.</param>
    /// <param name="belowM2KPerW">Resistance from the pipes to the space below, 0.05…50 m²K/W.</param>
    /// <param name="downwardWattsPerM2">W/m²; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDownwardLoss(
        in PipeLayout layout, double upwardWattsPerM2, double roomC, double belowC, double belowM2KPerW,
        out double downwardWattsPerM2, out Impossible why)
    {
        downwardWattsPerM2 = double.NaN;
        if (!Check(layout, out why)) return false;
        if (!Allowed.Range(nameof(upwardWattsPerM2), upwardWattsPerM2, 0, 500, out why)) return false;
        if (!Allowed.Range(nameof(roomC), roomC, -20, 60, out why)) return false;
        if (!Allowed.Range(nameof(belowC), belowC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(belowM2KPerW), belowM2KPerW, 0.05, 50, out why)) return false;
        double above = 1 / FloorHeatingExchange + layout.CoveringM2KPerW + layout.ScreedAboveM / layout.ScreedConductivityWPerMK;
        downwardWattsPerM2 = (above * upwardWattsPerM2 + roomC - belowC) / belowM2KPerW;
        return true;
    }

    // The plain factor, then a pipe other than 2 mm of 0.35 W/(m·K), then screed thicker than the limit (both EN 1264-2).
    private static double Factor(in PipeLayout l)
    {
        double limit = l.SpacingM <= 0.2 ? 0.065 : 0.5 * l.SpacingM;
        double screed = Math.Min(l.ScreedAboveM, limit);
        double aB = (1 / 10.8 + 0.045) / (1 / 10.8 + 0.045 / l.ScreedConductivityWPerMK + l.CoveringM2KPerW);
        double product = aB
            * Math.Pow(EmbeddedPipeTables.Spacing(l.CoveringM2KPerW), 1 - l.SpacingM / 0.075)
            * Math.Pow(EmbeddedPipeTables.Screed(l.SpacingM, l.CoveringM2KPerW), 100 * (0.045 - screed))
            * Math.Pow(EmbeddedPipeTables.Diameter(l.SpacingM, l.CoveringM2KPerW), 250 * (l.OutsideDiameterM - 0.020));
        double pipe = Wall(l.OutsideDiameterM, l.WallM, l.PipeConductivityWPerMK) - Wall(l.OutsideDiameterM, 0.002, 0.35);
        double inverse = 1 / (6.7 * product) + 1.1 / 6.7 * product * l.SpacingM * pipe;
        return 1 / (inverse + (l.ScreedAboveM - screed) / l.ScreedConductivityWPerMK);
    }

    private static double Wall(double outside, double wall, double conductivity) =>
        Math.Log(outside / (outside - 2 * wall)) / (2 * Math.PI * conductivity);

    private static bool Check(in PipeLayout l, out Impossible why) =>
        Allowed.Range("layout.SpacingM", l.SpacingM, 0.05, 0.375, out why)
        && Allowed.Range("layout.OutsideDiameterM", l.OutsideDiameterM, 0.008, 0.03, out why)
        && Allowed.Range("layout.WallM", l.WallM, 0.0005, Math.Min(0.004, 0.4 * l.OutsideDiameterM), out why)
        && Allowed.Range("layout.PipeConductivityWPerMK", l.PipeConductivityWPerMK, 0.1, 500, out why)
        && Allowed.Range("layout.ScreedAboveM", l.ScreedAboveM, 0.01, 0.2, out why)
        && Allowed.Range("layout.ScreedConductivityWPerMK", l.ScreedConductivityWPerMK, 0.3, 3, out why)
        && Allowed.Range("layout.CoveringM2KPerW", l.CoveringM2KPerW, 0, 0.15, out why);
}
