// Section 7, as far as one room needs it: whether the source is called, with its shortest run and rest. Cooling only in this version.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Call of the source.</summary>
internal static class SourceRules
{
    public static void Step(in Scan scan)
    {
        ref var m = ref scan.Memory.Source;
        m.InStateS += m.Known ? scan.Dt : 0;
        m.Known = true;
        var asks = Asks(scan, out var atOnce);
        Blocks.Hold(ref m.AskedForS, asks > 0, scan.Dt);
        var wants = atOnce || m.AskedForS > scan.Settings.SourceWaitS || (m.Calling && asks > 0);
        // A hand value wishes like a room does: the compressor's shortest run and rest hold for it too.
        ref readonly var hand = ref scan.Memory.Hands[scan.House.Points.SourceCall];
        var reason = Decide(scan, ref m, hand.Active ? hand.Value > 0.5 : wants, asks);
        if (hand.Active && reason.Cause is not (Cause.MinimumRun or Cause.MinimumOff))
            reason = Reason.Of(Cause.HandValue, hand.RemainingS);
        scan.Outputs.Source.Calling = m.Calling;
        scan.Outputs.Source.Mode = SourceMode.Cooling;
        scan.Outputs.Source.Reason = reason;
        scan.Outputs.Commands[scan.House.Points.SourceCall] = new Command(m.Calling ? 1 : 0, reason, default, 0);
    }

    private static Reason Decide(in Scan scan, ref SourceMemory m, bool wants, int asks)
    {
        var s = scan.Settings;
        if (wants == m.Calling)
            return wants ? Reason.Of(Cause.RoomsAsk, asks) : new Reason(Cause.NobodyAsks);
        var left = (m.Calling ? s.SourceMinimumRunS : s.SourceMinimumOffS) - m.InStateS;
        if (left > 0)
            return Reason.Of(m.Calling ? Cause.MinimumRun : Cause.MinimumOff, left);
        m.Calling = wants;
        m.InStateS = 0;
        return wants ? Reason.Of(Cause.RoomsAsk, asks) : new Reason(Cause.NobodyAsks);
    }

    /// <summary>How many coils and surfaces want cold water; a pull-down wants it at once.</summary>
    private static int Asks(in Scan scan, out bool atOnce)
    {
        var asks = 0;
        atOnce = false;
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            if (scan.Memory.Coils[i].ValvePercent <= 0)
                continue;
            asks++;
            atOnce |= scan.Memory.Rooms[scan.House.Coils[i].Room].Stage == Stage.PullDown;
        }
        for (var i = 0; i < scan.House.Circuits.Length; i++)
        {
            ref readonly var memory = ref scan.Memory.Loops[scan.House.Circuits[i].Loop];
            if (scan.Memory.Circuits[i].ValvePercent > 0 && scan.Memory.Circuits[i].Level != GuardLevel.Shut && memory.LowestSafeC <= LoopWater.WarmestUseful(scan, scan.House.Circuits[i].Loop))
                asks++;
        }
        return asks;
    }
}
