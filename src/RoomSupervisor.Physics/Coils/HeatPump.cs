// Efficiency of a heat pump against water and outdoor temperature, at part load and when it cycles.
// Must never promise a catalogue's figure: one share of the ideal stands for the whole machine.
namespace RoomSupervisor.Physics;

/// <summary>
/// Coefficient of performance as a share of Carnot between refrigerant temperatures that stand a few kelvin beyond water and source
/// (textbook), with the cycling loss of EN 14825 for water-borne units (from memory, clause not read).
/// </summary>
public static class HeatPump
{
    /// <summary>
    /// Heating: share·(Tc)/(Tc−Te), with Tc = water + approach and Te = source − approach, kelvin. At least 1.
    /// </summary>
    /// <param name="sourceC">Outdoor air or source, −30…45 °C.</param>
    /// <param name="waterC">Leaving water, 15…75 °C.</param>
    /// <param name="shareOfIdeal">0.1…0.9; about 0.4 to 0.5.</param>
    /// <param name="approachK">0…20 K at each exchanger.</param>
    /// <param name="performance">Heat per work; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryHeating(
        double sourceC, double waterC, double shareOfIdeal, double approachK, out double performance, out Impossible why)
    {
        performance = double.NaN;
        if (!Allowed.Range(nameof(sourceC), sourceC, -30, 45, out why)) return false;
        if (!Allowed.Range(nameof(waterC), waterC, 15, 75, out why)) return false;
        if (!Machine(shareOfIdeal, approachK, out why)) return false;
        double lift = Math.Max(waterC - sourceC + 2 * approachK, LeastLiftK);
        performance = Math.Max(shareOfIdeal * (waterC + approachK + MoistAir.ZeroCelsius) / lift, 1);
        return true;
    }

    /// <summary>Cooling: share·Te/(Tc−Te), with Te = water − approach and Tc = outdoor + approach, kelvin.</summary>
    /// <param name="outdoorC">−10…55 °C.</param>
    /// <param name="waterC">Leaving water, 4…25 °C.</param>
    /// <param name="shareOfIdeal">0.1…0.9; about 0.4 to 0.5.</param>
    /// <param name="approachK">0…20 K at each exchanger.</param>
    /// <param name="performance">Cold per work; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryCooling(
        double outdoorC, double waterC, double shareOfIdeal, double approachK, out double performance, out Impossible why)
    {
        performance = double.NaN;
        if (!Allowed.Range(nameof(outdoorC), outdoorC, -10, 55, out why)) return false;
        if (!Allowed.Range(nameof(waterC), waterC, 4, 25, out why)) return false;
        if (!Machine(shareOfIdeal, approachK, out why)) return false;
        double lift = Math.Max(outdoorC - waterC + 2 * approachK, LeastLiftK);
        performance = shareOfIdeal * (waterC - approachK + MoistAir.ZeroCelsius) / lift;
        return true;
    }

    /// <summary>
    /// Factor on the performance when the machine cycles because the load is below its least output: r/(Cc·r + 1 − Cc). EN 14825, water-borne,
    /// Cc = 0.9 by default there (from memory).
    /// </summary>
    /// <param name="loadRatio">Load over least output, 0…1; 0 gives 0.</param>
    /// <param name="cyclingCoefficient">Cc, 0.5…1.</param>
    /// <param name="factor">0…1; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryCyclingFactor(double loadRatio, double cyclingCoefficient, out double factor, out Impossible why)
    {
        factor = double.NaN;
        if (!Allowed.Range(nameof(loadRatio), loadRatio, 0, 1, out why)) return false;
        if (!Allowed.Range(nameof(cyclingCoefficient), cyclingCoefficient, 0.5, 1, out why)) return false;
        factor = loadRatio == 0 ? 0 : loadRatio / (cyclingCoefficient * loadRatio + 1 - cyclingCoefficient);
        return true;
    }

    /// <summary>Starts per hour of an on/off machine with a store: n = 4·n_max·r·(1−r) for a fixed swing (textbook thermostat cycle).</summary>
    /// <param name="loadRatio">Load over output, 0…1.</param>
    /// <param name="startsAtHalfLoadPerH">0…60 1/h, the most, at half load.</param>
    /// <param name="startsPerH">1/h; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryStarts(double loadRatio, double startsAtHalfLoadPerH, out double startsPerH, out Impossible why)
    {
        startsPerH = double.NaN;
        if (!Allowed.Range(nameof(loadRatio), loadRatio, 0, 1, out why)) return false;
        if (!Allowed.Range(nameof(startsAtHalfLoadPerH), startsAtHalfLoadPerH, 0, 60, out why)) return false;
        startsPerH = 4 * startsAtHalfLoadPerH * loadRatio * (1 - loadRatio);
        return true;
    }

    // Machines cannot use a lift under this (pressure ratio of compressor and valve); common practice, no published source.
    private const double LeastLiftK = 15;

    private static bool Machine(double shareOfIdeal, double approachK, out Impossible why) =>
        Allowed.Range(nameof(shareOfIdeal), shareOfIdeal, 0.1, 0.9, out why) && Allowed.Range(nameof(approachK), approachK, 0, 20, out why);
}
