// Section 2, rule 4: a room that comes back after its coil has handed over shows that its surface carries less than it was believed to. Tells it, and asks more of the next hand-over.
// Never undoes a hand-over that is under way.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The bounce after a hand-over, and what it teaches.</summary>
internal static class Bounce
{
    /// <summary>What a bounce adds to the doubt of the surface, what an hour without one takes away, and the most it may be: shares of what the surface may give (project choice).</summary>
    private const double Adds = 0.2, Takes = 0.05, AtMost = 0.6;

    /// <summary>How long the room is watched after a hand-over, s (project choice): longer than a panel and its room take to settle.</summary>
    private const double WatchedForS = 3600;

    /// <summary>A hand-over has ended and the coil stops.</summary>
    public static void Begin(ref RoomMemory m) => (m.BounceWatchS, m.LowestErrorK) = (WatchedForS, m.ErrorK);

    /// <summary>Share of what the surfaces may give that the next hand-over counts on, 0.4–1.</summary>
    public static double Trust(in RoomMemory m) => 1 - m.SurfaceDoubt;

    /// <summary>Watches a room after a hand-over. What disturbs the room ends the watch: it teaches nothing.</summary>
    public static void Step(in Scan scan, int index, bool disturbed, ref RoomMemory m)
    {
        if (m.BounceWatchS <= 0)
            return;
        if (disturbed || m.Stage is not (Stage.RadiantHold or Stage.CoilHelps) || double.IsNaN(m.ErrorK))
        {
            m.BounceWatchS = 0;
            return;
        }
        m.LowestErrorK = Math.Min(m.LowestErrorK, m.ErrorK);
        var swing = m.ErrorK - m.LowestErrorK;
        m.BounceWatchS = Math.Max(0, m.BounceWatchS - scan.Dt);
        if (swing > scan.Settings.BounceOverK)
        {
            m.BounceWatchS = 0;
            m.SurfaceDoubt = Math.Min(AtMost, m.SurfaceDoubt + Adds);
            scan.Happened(SequenceEvents.Bounce, Owner.Room, index, Reason.Of(Cause.None, swing, 100 * Trust(m)));
        }
        else if (m.BounceWatchS <= 0 && m.Stage == Stage.RadiantHold)
            m.SurfaceDoubt = Math.Max(0, m.SurfaceDoubt - Takes);
    }
}
