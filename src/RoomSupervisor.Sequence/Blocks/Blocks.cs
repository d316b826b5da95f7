// The smallest blocks: how long a condition has held, delays, latch, first-order filter. Pure functions on plain fields, so that what is remembered keeps the
// trade's name in Memory and its layout stays plain. They allocate nothing and know no clock; a new block comes with its own test.
namespace RoomSupervisor.Sequence;

/// <summary>Small blocks shared by the rules.</summary>
public static class Blocks
{
    /// <summary>Seconds a condition has held without a break: grows while true, 0 when false.</summary>
    public static void Hold(ref double forS, bool condition, double dt) => forS = condition ? forS + dt : 0;

    /// <summary>Share a first-order filter moves towards its input in <paramref name="dt"/>; 1 with a time constant of 0.</summary>
    public static double FilterShare(double dt, double timeConstantS)
    {
        if (timeConstantS <= 0)
            return 1;
        var x = dt / timeConstantS;
        return x is > 0 and < ShortStep ? x * (1 - x * (1 / 2.0 - x * (1 / 6.0 - x * (1 / 24.0 - x * (1 / 120.0 - x * (1 / 720.0 - x / 5040)))))) : 1 - Math.Exp(-x);
    }

    /// <summary>Under this share of the time constant the series of 1 − exp(−x) to the seventh power is as exact as a double can be, and several times as fast.</summary>
    private const double ShortStep = 0.02;

    /// <summary>On-delay: true once a condition has held for longer than the delay.</summary>
    /// <param name="forS">How long it has held, s; remembered.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="delayS">Delay, s.</param>
    /// <param name="dt">Time since the last call, s.</param>
    public static bool OnDelay(ref double forS, bool condition, double delayS, double dt)
    {
        Hold(ref forS, condition, dt);
        return forS > delayS;
    }

    /// <summary>Off-delay: true while a condition holds and for so long after it.</summary>
    /// <param name="leftS">Seconds left after it; remembered.</param>
    /// <param name="condition">The condition.</param>
    /// <param name="holdS">How long it is kept, s.</param>
    /// <param name="dt">Time since the last call, s.</param>
    public static bool OffDelay(ref double leftS, bool condition, double holdS, double dt)
    {
        leftS = condition ? holdS : Math.Max(0, leftS - dt);
        return condition || leftS > 0;
    }

    /// <summary>Latch: set by one condition, freed by another; where both hold it is free.</summary>
    public static bool Latch(bool isSet, bool set, bool reset) => (isSet || set) && !reset;
}
