// The smallest blocks: how long a condition has held, first-order filters, slew in decibels. Pure.
namespace RoomSupervisor.Sequence;

/// <summary>Small blocks shared by the rules.</summary>
internal static class Blocks
{
    /// <summary>Seconds a condition has held without a break: grows while true, 0 when false.</summary>
    public static void Hold(ref double forS, bool condition, double dt) => forS = condition ? forS + dt : 0;

    /// <summary>Share a first-order filter moves towards its input in <paramref name="dt"/>; 1 with a time constant of 0.</summary>
    public static double FilterShare(double dt, double timeConstantS) => timeConstantS <= 0 ? 1 : 1 - Math.Exp(-dt / timeConstantS);

    /// <summary>Ratio of speeds that a level change of so many decibels means, by 50·log10 of the speed ratio (fan law, ±2 dB; common practice).</summary>
    public static double SpeedRatio(double decibels) => Math.Exp(decibels * (Math.Log(10) / 50));
}
