// How a room comes back after a door has stood open: how long, how far past, how it bounces. Must never forgive: what is not reached counts to the end.
namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>One recovery after an opening.</summary>
public sealed class Recovery
{
    /// <summary>Second of the run at which the door shut.</summary>
    public double ShutAtS { get; init; }

    /// <summary>Door shut to the beginning of the first 15 min within 0.3 K of the wanted band, min; to the end of watching where it never was.</summary>
    public double PullDownMin { get; internal set; }

    /// <summary>Door shut to the first moment within 0.3 K, min; NaN: never.</summary>
    public double FirstTouchMin { get; internal set; } = double.NaN;

    /// <summary>Furthest under the upper end of the band within an hour of the first touch, while something cooled, K.</summary>
    public double OvershootK { get; internal set; }

    /// <summary>Most it rose again over its lowest within an hour of the first touch, K.</summary>
    public double BounceK { get; internal set; }

    /// <summary>Shortest possible, min; NaN: not worked out.</summary>
    public double BoundMin { get; set; } = double.NaN;

    /// <summary>True when it was reached.</summary>
    public bool IsReached { get; internal set; }
}

/// <summary>
/// Watches openings. One counts when it lasted five minutes or more and left the room more than 0.6 K over its band (the sequence calls for a pull-down
/// there). Watched until the next opening, a change of the wanted band, or four hours.
/// </summary>
public sealed class PullDownWatch
{
    /// <summary>Within this of the band the room counts as back, K.</summary>
    public const double BackK = 0.3;

    /// <summary>It counts as back once it has been within for so long, and is given up after so long, s.</summary>
    public const double HoldsS = 900, LongestS = 4 * 3600;

    private const double LeastOpenS = 300, CallsK = 0.6, AfterS = 3600;

    private readonly List<Recovery> all = [];
    private Recovery? now;
    private double openForS, sinceShutS, withinForS, sinceTouchS, lowestC, wantedC;

    /// <summary>Recoveries so far.</summary>
    public IReadOnlyList<Recovery> All => all;

    /// <summary>The one being watched that is not back yet; null: none.</summary>
    public Recovery? Pending => now is { IsReached: false } ? now : null;

    /// <summary>True in the step in which one began.</summary>
    public bool JustShut { get; private set; }

    /// <summary>One step.</summary>
    /// <param name="room">The room.</param>
    /// <param name="atS">Second of the run at the end of the step.</param>
    /// <param name="stepS">Its length.</param>
    public void Add(in RoomMoment room, double atS, double stepS)
    {
        JustShut = false;
        if (room.Open)
        {
            Leave();
            openForS += stepS;
            return;
        }
        if (openForS >= LeastOpenS && room.AirC > room.CoolAboveC + CallsK)
        {
            now = new Recovery { ShutAtS = atS - stepS };
            all.Add(now);
            (sinceShutS, withinForS, sinceTouchS, lowestC, wantedC) = (0, 0, 0, double.PositiveInfinity, room.CoolAboveC);
            JustShut = true;
        }
        openForS = 0;
        if (now is not null)
            Follow(now, room, stepS);
    }

    private void Leave() => now = null;

    private void Follow(Recovery one, in RoomMoment room, double stepS)
    {
        sinceShutS += stepS;
        if (room.CoolAboveC != wantedC || sinceShutS > LongestS)
        {
            Leave();
            return;
        }
        withinForS = Math.Abs(room.ErrorK) <= BackK ? withinForS + stepS : 0;
        if (!one.IsReached)
            one.PullDownMin = sinceShutS / 60;
        if (!one.IsReached && withinForS >= HoldsS)
            (one.IsReached, one.PullDownMin) = (true, (sinceShutS - withinForS + stepS) / 60);
        if (double.IsNaN(one.FirstTouchMin) && withinForS > 0)
            one.FirstTouchMin = sinceShutS / 60;
        if (!double.IsNaN(one.FirstTouchMin))
            After(one, room, stepS);
    }

    private void After(Recovery one, in RoomMoment room, double stepS)
    {
        sinceTouchS += stepS;
        if (sinceTouchS > AfterS)
            return;
        lowestC = Math.Min(lowestC, room.AirC);
        one.BounceK = Math.Max(one.BounceK, room.AirC - lowestC);
        // A cool evening takes a room under its band by itself: only what something cools is overshot.
        if (room.SurfaceW + room.CoilSensibleW < -20)
            one.OvershootK = Math.Max(one.OvershootK, room.CoolAboveC - room.AirC);
    }
}
