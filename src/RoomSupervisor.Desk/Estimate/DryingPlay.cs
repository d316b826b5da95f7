// Which rooms have their air dried in the played design day, and with how much of their coil: section 3 of the sequence in its plainest form. The surface gives way first, the coil gives no more than the room can spare,
// and one that cools the room too far rests by the clock. Must never rest until the air is warm again: a room that its surface holds would wait for ever.
namespace RoomSupervisor.Desk.Estimate;

/// <summary>Moisture state of the rooms.</summary>
internal sealed class DryingPlay(int rooms)
{
    // All of section 3: half a kelvin about the target, 80 W to spare, over 0.2 K too warm at once, shifted by 0.1 K, too cool at 0.3 K for a minute, 25 minutes at least, ten of rest, doubled twice at most where a run was cut short.
    private const double BandK = 0.5, SpareW = 80, AtOnceK = 0.2, ShiftAtMostK = 0.1, FadeBandK = 0.1, TooCoolK = 0.3, TooCoolS = 60, LeastS = 1500, RestS = 600, SlowS = 900;

    private const int MostCuts = 2;

    // Of the slowest output that a valve at a fifth of its stroke still gives: 1 + ln(0.2)/5.3, the sequence's curve.
    private const double Throttled = 0.7;

    private readonly bool[] dries = new bool[rooms], fades = new bool[rooms];
    private readonly double[] restS = new double[rooms], forS = new double[rooms], tooCoolS = new double[rooms], spareW = new double[rooms], forcedW = new double[rooms], givesWayW = new double[rooms], shiftK = new double[rooms];
    private readonly int[] cuts = new int[rooms];

    /// <summary>The room's air is being dried.</summary>
    public bool Dries(int room) => dries[room];

    /// <summary>Its surface is giving way to a coil that is about to begin.</summary>
    public bool Fades(int room) => fades[room];

    /// <summary>Sensible heat that the drying coil takes, W.</summary>
    public double ForcedW(int room) => forcedW[room];

    /// <summary>What the surface gives way by, W: more than the coil takes while it is about to begin.</summary>
    public double GivesWayW(int room) => givesWayW[room];

    /// <summary>How much cooler the room may be for it, K: only as far as it cannot spare the cold.</summary>
    public double ShiftK(int room) => shiftK[room];

    /// <summary>One step of a room.</summary>
    /// <param name="room">Its index.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="overK">Air over the temperature it is cooled to, K.</param>
    /// <param name="dewC">Dew point, °C.</param>
    /// <param name="askedW">What the room asks of all its emitters, W.</param>
    /// <param name="surfaceW">What its surfaces give, W.</param>
    /// <param name="dryW">What its leading coil gives at the drying speed, W; 0: it has none.</param>
    /// <param name="slowestW">What that gives at its slowest, W.</param>
    public void Step(int room, double stepS, double overK, double dewC, double askedW, double surfaceW, double dryW, double slowestW)
    {
        restS[room] = Math.Max(restS[room] - stepS, 0);
        forS[room] += stepS;
        spareW[room] += (Math.Max(askedW, 0) - spareW[room]) * stepS / SlowS;
        var wish = dryW > 0 && dewC > LoadRun.DryC + (dries[room] ? -BandK : BandK);
        if (dries[room])
            GoOn(room, stepS, overK, wish, surfaceW, dryW);
        else
            MayBegin(room, overK, wish, askedW, surfaceW, dryW);
        forcedW[room] = dries[room] ? Math.Min(Math.Max(spareW[room], Throttled * slowestW), dryW) : 0;
        givesWayW[room] = fades[room] ? dryW : forcedW[room];
        shiftK[room] = dries[room] ? ShiftAtMostK * Math.Clamp(2 * (1 - spareW[room] / dryW), 0, 1) : 0;
    }

    private void MayBegin(int room, double overK, bool wish, double askedW, double surfaceW, double dryW)
    {
        fades[room] = wish && restS[room] <= 0 && overK >= -ShiftAtMostK - (fades[room] ? FadeBandK : 0);
        if (!fades[room] || (dryW + surfaceW > askedW + SpareW && overK <= AtOnceK))
            return;
        (dries[room], fades[room], forS[room], tooCoolS[room]) = (true, false, 0, 0);
        spareW[room] = Math.Max(askedW, 0);
    }

    private void GoOn(int room, double stepS, double overK, bool wish, double surfaceW, double dryW)
    {
        tooCoolS[room] = overK < -TooCoolK ? tooCoolS[room] + stepS : 0;
        if (dryW <= 0 || (!wish && forS[room] > LeastS))
            (dries[room], cuts[room], restS[room]) = (false, 0, RestS);
        else if (tooCoolS[room] > TooCoolS)
        {
            var isCut = forS[room] < LeastS;
            (dries[room], restS[room]) = (false, RestS * (isCut ? 1 << cuts[room] : 1) * (surfaceW < 1 ? 0.5 : 1));
            cuts[room] = isCut ? Math.Min(cuts[room] + 1, MostCuts) : 0;
        }
    }
}
