// An on-off output as a share of time: wax actuators and fans with one speed. Keeps account of the seconds it owes, so that the mean is
// what was asked whatever its shortest times. Nothing asked shuts at once: protection never waits for a shortest time.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>Time-proportional switching of one relay.</summary>
/// <param name="cycleS">Wanted time of one on-off cycle at half opening, s.</param>
/// <param name="minimumOnS">Shortest time on, s.</param>
/// <param name="minimumOffS">Shortest time off, s.</param>
internal sealed class OnOffCycle(double cycleS, double minimumOnS, double minimumOffS)
{
    /// <summary>
    /// Seconds owed at which it switches over: at half opening the account runs from −h to +h and back in 8·h. Time on is at least 2·h, and so is time
    /// off, so the shortest times hold by themselves.
    /// </summary>
    private readonly double band = Math.Max(cycleS / 8, Math.Max(minimumOnS, minimumOffS) / 2);

    private double owedS;

    public bool IsOn { get; private set; }

    /// <summary>How often it has been switched on.</summary>
    public long Starts { get; private set; }

    /// <summary>Moves on and gives the relay's state.</summary>
    /// <param name="askedPercent">Share of time wanted, 0–100 %.</param>
    /// <param name="stepS">Seconds since the last call.</param>
    public bool Step(double askedPercent, double stepS)
    {
        if (!(askedPercent > 0) || askedPercent >= 100)
        {
            owedS = 0;
            return Set(askedPercent >= 100);
        }
        owedS += (askedPercent / 100 - (IsOn ? 1 : 0)) * stepS;
        // A share that changes must not leave a debt of hours behind.
        owedS = Math.Clamp(owedS, -2 * band, 2 * band);
        if (owedS >= band)
            return Set(true);
        return owedS <= -band ? Set(false) : IsOn;
    }

    private bool Set(bool on)
    {
        Starts += on && !IsOn ? 1 : 0;
        return IsOn = on;
    }
}
