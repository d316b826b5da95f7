// Effectiveness of a heat exchanger from its number of transfer units, for four flow arrangements.
// Must never answer above 1: no exchanger gives more than an endless counterflow one.
namespace RoomSupervisor.Physics;

/// <summary>
/// Effectiveness-NTU relations (Kays and London, Compact Heat Exchangers; textbook). N transfer units 0…50, C = Cmin/Cmax 0…1.
/// </summary>
public static class Effectiveness
{
    /// <summary>Counterflow: (1−exp(−N(1−C)))/(1−C·exp(−N(1−C))), for C = 1 N/(1+N).</summary>
    /// <param name="transferUnits">0…50.</param>
    /// <param name="capacityRatio">Cmin/Cmax, 0…1.</param>
    /// <param name="effectiveness">0…1; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryCounterflow(double transferUnits, double capacityRatio, out double effectiveness, out Impossible why)
    {
        if (!Check(transferUnits, capacityRatio, out effectiveness, out why)) return false;
        effectiveness = Counterflow(transferUnits, capacityRatio);
        return true;
    }

    /// <summary>Crossflow, both streams unmixed: 1−exp((N^0.22/C)·(exp(−C·N^0.78)−1)), a correlation within about 3 % of the exact series.</summary>
    /// <inheritdoc cref="TryCounterflow"/>
    public static bool TryCrossflowUnmixed(double transferUnits, double capacityRatio, out double effectiveness, out Impossible why)
    {
        if (!Check(transferUnits, capacityRatio, out effectiveness, out why)) return false;
        effectiveness = 1 - Math.Exp(-Math.Pow(transferUnits, 0.22) * Faded(Math.Pow(transferUnits, 0.78), capacityRatio));
        return true;
    }

    /// <summary>Crossflow with the larger stream mixed: (1−exp(−C·(1−exp(−N))))/C.</summary>
    /// <inheritdoc cref="TryCounterflow"/>
    public static bool TryCrossflowLargerMixed(double transferUnits, double capacityRatio, out double effectiveness, out Impossible why)
    {
        if (!Check(transferUnits, capacityRatio, out effectiveness, out why)) return false;
        effectiveness = Faded(1 - Math.Exp(-transferUnits), capacityRatio);
        return true;
    }

    /// <summary>Parallel flow: (1−exp(−N(1+C)))/(1+C).</summary>
    /// <inheritdoc cref="TryCounterflow"/>
    public static bool TryParallel(double transferUnits, double capacityRatio, out double effectiveness, out Impossible why)
    {
        if (!Check(transferUnits, capacityRatio, out effectiveness, out why)) return false;
        effectiveness = (1 - Math.Exp(-transferUnits * (1 + capacityRatio))) / (1 + capacityRatio);
        return true;
    }

    // Also right for C over 1 (then it is the effectiveness of the stream whose transfer units these are).
    internal static double Counterflow(double transferUnits, double capacityRatio)
    {
        double gap = 1 - capacityRatio;
        // At C = 1 both parts vanish; the limit is N/(1+N) and its error here is of the order of gap².
        if (Math.Abs(gap) < 1e-6) return transferUnits / (1 + transferUnits);
        double fading = Math.Exp(-transferUnits * gap);
        return double.IsPositiveInfinity(fading) ? 1 / capacityRatio : (1 - fading) / (1 - capacityRatio * fading);
    }

    // (1 − exp(−C·x))/C, by its series where the difference would lose its digits.
    private static double Faded(double x, double c) => c * x < 1e-5 ? x * (1 - c * x / 2) : (1 - Math.Exp(-c * x)) / c;

    private static bool Check(double transferUnits, double capacityRatio, out double effectiveness, out Impossible why)
    {
        effectiveness = double.NaN;
        return Allowed.Range(nameof(transferUnits), transferUnits, 0, 50, out why)
            && Allowed.Range(nameof(capacityRatio), capacityRatio, 0, 1, out why);
    }
}
