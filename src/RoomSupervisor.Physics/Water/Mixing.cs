// What a mixing valve does: a supply made of hot (or cold) water and return.
// Must never hide that a supply cannot be reached: the fraction is clamped, and says so.
namespace RoomSupervisor.Physics;

/// <summary>Share of primary water in a mixed supply.</summary>
/// <param name="Fraction">0…1, clamped.</param>
/// <param name="Reachable">False when the wanted supply lies outside what primary and return can make; then Fraction is the nearest.</param>
public readonly record struct MixingFraction(double Fraction, bool Reachable);

/// <summary>Mixing of two streams of one heat carrier: T = x·Tp + (1−x)·Tr. Heat balance at constant specific heat.</summary>
public static class Mixing
{
    /// <summary>Temperature of the mixture, °C.</summary>
    /// <param name="fraction">Share of primary water, 0…1.</param>
    /// <param name="primaryC">−50…150 °C.</param>
    /// <param name="returnC">−50…150 °C.</param>
    /// <param name="supplyC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySupply(double fraction, double primaryC, double returnC, out double supplyC, out Impossible why)
    {
        supplyC = double.NaN;
        if (!Allowed.Range(nameof(fraction), fraction, 0, 1, out why)) return false;
        if (!Streams(primaryC, returnC, out why)) return false;
        supplyC = fraction * primaryC + (1 - fraction) * returnC;
        return true;
    }

    /// <summary>Share of primary water for a wanted supply: x = (Ts−Tr)/(Tp−Tr).</summary>
    /// <param name="supplyC">Wanted, −50…150 °C.</param>
    /// <param name="primaryC">−50…150 °C; must differ from the return by at least 0.01 K.</param>
    /// <param name="returnC">−50…150 °C.</param>
    /// <param name="fraction">The share; Fraction NaN when impossible.</param>
    /// <param name="why">What was impossible; with primary and return alike it names the primary.</param>
    public static bool TryFraction(double supplyC, double primaryC, double returnC, out MixingFraction fraction, out Impossible why)
    {
        fraction = new MixingFraction(double.NaN, false);
        if (!Allowed.Range(nameof(supplyC), supplyC, -50, 150, out why)) return false;
        if (!Streams(primaryC, returnC, out why)) return false;
        if (Math.Abs(primaryC - returnC) < 0.01)
        {
            why = new Impossible(nameof(primaryC), primaryC, returnC + 0.01, 150);
            return false;
        }

        double share = (supplyC - returnC) / (primaryC - returnC);
        fraction = new MixingFraction(Math.Clamp(share, 0, 1), share is >= 0 and <= 1);
        return true;
    }

    private static bool Streams(double primaryC, double returnC, out Impossible why) =>
        Allowed.Range(nameof(primaryC), primaryC, -50, 150, out why) && Allowed.Range(nameof(returnC), returnC, -50, 150, out why);
}
