// Which rooms have their air dried in the played design day, and with how much of their coil: section 3 of the sequence in its plainest form. The surface gives way first, the coil gives no more than the room can spare,
// and one that cools the room too far rests by the clock. Must never rest until the air is warm again: a room that its surface holds would wait for ever.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Moisture state of the rooms.</summary>
internal sealed class DryingPlay(int rooms)
{
    /// <summary>The controller's own numbers of section 3, as shipped.</summary>
    public static readonly SequenceSettings Shipped = new();

    /// <summary>A drying coil's valve stays this far open, share of its stroke: the sequence's, no setting there.</summary>
    public const double LeastStroke = 0.2;

    // Of the sequence too, and no settings there: the edge at which a surface begins to give way, the mean of what a room can spare.
    private const double FadeBandK = 0.1, SlowS = 900;

    private const int MostCuts = 2;

    private readonly bool[] dries = new bool[rooms], fades = new bool[rooms];
    private readonly double[] restS = new double[rooms], forS = new double[rooms], tooCoolS = new double[rooms], spareW = new double[rooms], forcedW = new double[rooms], givesWayW = new double[rooms], shiftK = new double[rooms];
    private readonly int[] cuts = new int[rooms];

    /// <summary>The room's air is being dried.</summary>
    public bool Dries(int room) => dries[room];

    /// <summary>Sensible heat that the drying coil takes, W.</summary>
    public double ForcedW(int room) => forcedW[room];

    /// <summary>What the surface gives way by, W: what the coil gives at its drying speed, though it may be throttled.</summary>
    public double GivesWayW(int room) => givesWayW[room];

    /// <summary>How much cooler the room may be for it, K: only as far as it cannot spare the cold.</summary>
    public double ShiftK(int room) => shiftK[room];

    /// <summary>One step of a room.</summary>
    /// <param name="room">Its index.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="overK">Air over the temperature it is cooled to, K.</param>
    /// <param name="dewC">Dew point, °C.</param>
    /// <param name="askedW">What the room asks of all its emitters, W.</param>
    /// <param name="surfaceW">What its surfaces give the room, W.</param>
    /// <param name="dryW">What its leading coil gives at the drying speed, W; 0: it has none.</param>
    /// <param name="slowestW">What that gives at its slowest, W.</param>
    /// <param name="throttledW">What that gives there with its valve as far shut as drying lets it, W.</param>
    public void Step(int room, double stepS, double overK, double dewC, double askedW, double surfaceW, double dryW, double slowestW, double throttledW)
    {
        restS[room] = Math.Max(restS[room] - stepS, 0);
        forS[room] += stepS;
        var spare = Math.Max(askedW - surfaceW, 0);
        spareW[room] += (spare - spareW[room]) * stepS / SlowS;
        var wish = dryW > 0 && dewC > LoadRun.DryC + (dries[room] ? -Shipped.DryBandK : Shipped.DryBandK);
        if (dries[room])
            GoOn(room, stepS, overK, wish, surfaceW, dryW);
        else
            MayBegin(room, overK, wish, askedW, surfaceW, dryW);
        // The fan follows the mean, and under its slowest the valve what is asked now.
        forcedW[room] = !dries[room] ? 0 : spare < slowestW ? Math.Min(Math.Max(spare, throttledW), dryW) : Math.Clamp(spareW[room], Math.Min(slowestW, dryW), dryW);
        givesWayW[room] = fades[room] || dries[room] ? dryW : 0;
        shiftK[room] = dries[room] ? Shipped.DryShiftK * Math.Clamp(2 * (1 - spare / dryW), 0, 1) : 0;
    }

    private void MayBegin(int room, double overK, bool wish, double askedW, double surfaceW, double dryW)
    {
        fades[room] = wish && restS[room] <= 0 && overK >= -Shipped.DryShiftK - (fades[room] ? FadeBandK : 0);
        if (!fades[room] || (dryW + surfaceW > askedW + Shipped.DrySpareW && overK <= Shipped.DryAtOnceAboveK))
            return;
        (dries[room], fades[room], forS[room], tooCoolS[room]) = (true, false, 0, 0);
        spareW[room] = Math.Max(askedW - surfaceW, 0);
    }

    private void GoOn(int room, double stepS, double overK, bool wish, double surfaceW, double dryW)
    {
        tooCoolS[room] = overK < -Shipped.DryStopsBelowK ? tooCoolS[room] + stepS : 0;
        if (dryW <= 0 || (!wish && forS[room] > Shipped.DryAtLeastS))
            (dries[room], cuts[room], restS[room]) = (false, 0, Shipped.DryRestS);
        else if (tooCoolS[room] > Shipped.DryStopsAfterS)
        {
            var isCut = forS[room] < Shipped.DryAtLeastS;
            (dries[room], restS[room]) = (false, Shipped.DryRestS * (isCut ? 1 << cuts[room] : 1) * (surfaceW < 1 ? 0.5 : 1));
            cuts[room] = isCut ? Math.Min(cuts[room] + 1, MostCuts) : 0;
        }
    }
}
