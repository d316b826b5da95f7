// When the watchdog is fed: only if the loop has taken a scan since it was fed last. It must never look at anything but scans: a thread that
// feeds because it is alive itself would keep a controller alive that controls nothing.
namespace RoomSupervisor.Runtime.Board;

/// <summary>The rule of feeding. For one thread.</summary>
public sealed class FreshRule
{
    private long fedAt;
    private double freshAtS = double.NaN;

    /// <summary>Looks at the loop.</summary>
    /// <param name="scans">Scans it has taken since start.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <returns>True: feed now.</returns>
    public bool Look(long scans, double nowS)
    {
        if (scans == fedAt)
            return false;
        fedAt = scans;
        freshAtS = nowS;
        return true;
    }

    /// <summary>How long no scan has been seen, s; 0 before the first.</summary>
    public double StillS(double nowS) => double.IsNaN(freshAtS) ? 0 : nowS - freshAtS;

    /// <summary>How often to look, s: four times within the manager's patience, and often enough to tell a standstill.</summary>
    public static double EveryS(double watchdogS) => Math.Clamp(watchdogS / 4, 0.1, 5);
}
