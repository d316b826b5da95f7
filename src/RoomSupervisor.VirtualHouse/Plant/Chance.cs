// Numbers of chance without a generator's state: the same seed, place and step give the same number, whatever ran before.
// Must never read a clock or a shared generator.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Counter-based noise: SplitMix64 (Steele, Lea and Flood, OOPSLA 2014) as a hash of seed, place and step.</summary>
public static class Chance
{
    /// <summary>Even over 0…1, 1 not included.</summary>
    /// <param name="seed">Of the run.</param>
    /// <param name="place">Which sensor or part.</param>
    /// <param name="step">Which step.</param>
    public static double Even(ulong seed, int place, long step) => (Mix(seed, place, step) >> 11) * (1.0 / (1UL << 53));

    /// <summary>Close to normal, mean 0, deviation 1, never beyond ±4.9: eight even numbers added and scaled.</summary>
    /// <param name="seed">Of the run.</param>
    /// <param name="place">Which sensor or part.</param>
    /// <param name="step">Which step.</param>
    public static double Normal(ulong seed, int place, long step)
    {
        ulong a = Mix(seed, place, step), b = Mix(seed ^ 0xD1B54A32D192ED03UL, place, step);
        double sum = 0;
        for (int i = 0; i < 4; i++) sum += ((a >> (16 * i)) & 0xFFFF) + ((b >> (16 * i)) & 0xFFFF);
        // Eight even numbers of variance 1/12 each.
        return (sum / 65_535 - 4) * 1.2247448713915890;
    }

    private static ulong Mix(ulong seed, int place, long step)
    {
        ulong z = seed + 0x9E3779B97F4A7C15UL * ((ulong)step * 65_537 + (uint)place + 1);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
