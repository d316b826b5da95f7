// The mean difference that drives heat between water in a surface and its room.
// Must never use the arithmetic mean (0.1 to 0.6 K too much) nor answer NaN where there is simply no output.
namespace RoomSupervisor.Physics;

/// <summary>Logarithmic mean over-temperature (EN 1264-2; ISO 11855-2 Annex A.1).</summary>
public static class OverTemperature
{
    /// <summary>
    /// Mean difference between water and room, K, always a magnitude: (tV−tR)/ln((tV−ti)/(tR−ti)), for heating and, with both signs flipped,
    /// for cooling. Equal supply and return give their common difference. Where either end stands at the room's temperature or past it
    /// (one end warmer, one colder) the surface has no defined output: 0.
    /// </summary>
    /// <param name="supplyC">−20…120 °C.</param>
    /// <param name="returnC">−20…120 °C.</param>
    /// <param name="roomC">−20…60 °C.</param>
    /// <param name="differenceK">K, 0 or more; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryLogarithmicMean(double supplyC, double returnC, double roomC, out double differenceK, out Impossible why)
    {
        differenceK = double.NaN;
        if (!Allowed.Range(nameof(supplyC), supplyC, -20, 120, out why)) return false;
        if (!Allowed.Range(nameof(returnC), returnC, -20, 120, out why)) return false;
        if (!Allowed.Range(nameof(roomC), roomC, -20, 60, out why)) return false;
        differenceK = LogarithmicMean(supplyC - roomC, returnC - roomC);
        return true;
    }

    internal static double LogarithmicMean(double a, double b)
    {
        if (a * b <= 0) return 0;
        double ratio = a / b;
        // Near 1 the quotient loses digits; the series of the logarithmic mean does not.
        if (Math.Abs(ratio - 1) < 1e-3)
        {
            double mean = (a + b) / 2, z = (a - b) / (a + b);
            return Math.Abs(mean * (1 - z * z / 3));
        }

        return Math.Abs((a - b) / Math.Log(ratio));
    }
}
