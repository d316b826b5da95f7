// A share of time out of an opening in percent, for actuators that are only open or shut. Must never keep open what is asked shut: 0 % acts at
// once, whatever the minimum time on says.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>
/// Time-proportional switching. What was asked and not yet given is counted in seconds and carried over, through every change of the asked
/// value, so that the mean is right; a steady value in the middle gives exactly one on and one off a cycle. Where its on or off part were
/// under the minimum time, the cycle is stretched instead.
/// </summary>
/// <param name="cycleS">Time of one cycle, s, above 0.</param>
/// <param name="minimumOnS">Shortest time on, s; a share under it is saved up until it is enough.</param>
/// <param name="minimumOffS">Shortest time off, s.</param>
public sealed class OnOffCycle(double cycleS, double minimumOnS, double minimumOffS)
{
    // Time arithmetic of doubles must not shift a switching by a scan.
    private const double TinyS = 1e-6;

    private double lastS = double.NaN, changedAtS = double.NegativeInfinity, share;

    /// <summary>True while open.</summary>
    public bool IsOn { get; private set; }

    /// <summary>Seconds of being open that were asked and not yet given; below 0: given in advance.</summary>
    public double OwedS { get; private set; }

    /// <summary>True when it is to be open from now until the next call.</summary>
    /// <param name="percent">0 is always shut, 100 always open (after the minimum time off); no number counts as 0.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    public bool Step(double percent, double nowS)
    {
        Count(nowS);
        share = percent > 0 ? Math.Min(percent, 100) / 100 : 0;
        var wanted = Wanted();
        var minimumS = IsOn ? minimumOnS : minimumOffS;
        if (wanted != IsOn && (share <= 0 || nowS - changedAtS >= minimumS - TinyS))
            (IsOn, changedAtS) = (wanted, nowS);
        return IsOn;
    }

    /// <summary>Nobody knows what was given since the last call: it is not counted.</summary>
    public void Restart() => lastS = double.NaN;

    private void Count(double nowS)
    {
        var stepS = double.IsNaN(lastS) ? 0 : Math.Max(0, nowS - lastS);
        lastS = nowS;
        // Bounded: somebody who asks and takes back faster than the minimum times can never be served in full.
        var most = cycleS + minimumOnS + minimumOffS;
        OwedS = Math.Clamp(OwedS + (share - (IsOn ? 1 : 0)) * stepS, -most, most);
    }

    private bool Wanted()
    {
        if (share is <= 0 or >= 1)
            return share >= 1;
        // On until the off part of a cycle is given in advance, then off until it is used up. A short share first waits until it is a whole
        // minimum time on; what a minimum time gives or takes beyond that is counted like everything else and stretches the cycle.
        var on = (1 - share) * Math.Max(0, minimumOnS - share * cycleS);
        return IsOn ? OwedS > on - share * (1 - share) * cycleS + TinyS : OwedS >= on - TinyS;
    }
}
