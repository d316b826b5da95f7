// The smallest blocks: how long a condition has held, first-order filters. Pure.
namespace RoomSupervisor.Sequence;

/// <summary>Small blocks shared by the rules.</summary>
internal static class Blocks
{
    /// <summary>Seconds a condition has held without a break: grows while true, 0 when false.</summary>
    public static void Hold(ref double forS, bool condition, double dt) => forS = condition ? forS + dt : 0;

    /// <summary>Share a first-order filter moves towards its input in <paramref name="dt"/>; 1 with a time constant of 0.</summary>
    public static double FilterShare(double dt, double timeConstantS) => timeConstantS <= 0 ? 1 : 1 - Math.Exp(-dt / timeConstantS);
}
