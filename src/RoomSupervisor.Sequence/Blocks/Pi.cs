// Proportional and integral control with anti-windup: the integral stands still while the output is at a limit and the error would drive it further
// there. Pure; the integral stands in Memory, in the unit of the output. Must never wind up behind a limit.
namespace RoomSupervisor.Sequence;

/// <summary>Limits of a PI block, in the unit of its output.</summary>
/// <param name="Least">Lowest output.</param>
/// <param name="Most">Highest output; at least <paramref name="Least"/>.</param>
/// <param name="IntegralLeast">Lowest integral.</param>
/// <param name="IntegralMost">Highest integral.</param>
public readonly record struct PiLimits(double Least, double Most, double IntegralLeast = double.NegativeInfinity, double IntegralMost = double.PositiveInfinity);

/// <summary>PI control.</summary>
public static class Pi
{
    /// <summary>Output = gain·error + integral; the integral gains gain·error·dt/integralS. An error that is no number leaves the integral alone and counts as 0.</summary>
    /// <param name="integral">Integral in the unit of the output; remembered.</param>
    /// <param name="error">Positive when the output must rise.</param>
    /// <param name="gain">Output a unit of error, 0 or more.</param>
    /// <param name="integralS">Integral time, s, over 0.</param>
    /// <param name="limits">Limits of output and integral.</param>
    /// <param name="dt">Time since the last call, s.</param>
    public static double Step(ref double integral, double error, double gain, double integralS, in PiLimits limits, double dt)
        => Step(ref integral, error, gain * error, gain * error * dt / integralS, 0, limits);

    /// <summary>The same with its parts made by the caller, and a feed-forward.</summary>
    /// <param name="integral">Integral in the unit of the output; remembered.</param>
    /// <param name="error">Its sign says where the integral would go.</param>
    /// <param name="proportional">Proportional part.</param>
    /// <param name="gains">What the integral gains now.</param>
    /// <param name="forward">Feed-forward.</param>
    /// <param name="limits">Limits of output and integral.</param>
    public static double Step(ref double integral, double error, double proportional, double gains, double forward, in PiLimits limits)
    {
        if (double.IsNaN(error))
            return Math.Clamp(forward + integral, limits.Least, limits.Most);
        var wish = forward + proportional + integral;
        var windsUp = (wish >= limits.Most && error > 0) || (wish <= limits.Least && error < 0);
        integral = Math.Clamp(windsUp ? integral : integral + gains, limits.IntegralLeast, limits.IntegralMost);
        return Math.Clamp(forward + proportional + integral, limits.Least, limits.Most);
    }
}
