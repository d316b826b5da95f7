// What concerns the house as a whole: a leak, and the output that says that all is well. Never decides anything about comfort.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Rules of the site.</summary>
internal static class SiteRules
{
    public static void Step(in Scan scan)
    {
        var points = scan.House.Points;
        if (scan.IsMade(points.Leak) && !scan.Memory.Leak)
        {
            scan.Memory.Leak = true;
            scan.Happened(SequenceEvents.Leak, Owner.Site, 0, new Reason(Cause.Leak));
        }
        // Everything is computed on: whoever has the plant in hand sees what would be done, and automatic goes on where the rooms are.
        if (scan.IsMade(points.InHand) != scan.Memory.InHand)
        {
            scan.Memory.InHand = !scan.Memory.InHand;
            scan.Happened(scan.Memory.InHand ? SequenceEvents.PlantInHand : SequenceEvents.PlantAutomatic, Owner.Site, 0, new Reason(Cause.InHand));
        }
        if (points.Health >= 0)
            scan.Outputs.Commands[points.Health] = Health(scan);
    }

    /// <summary>Energised while healthy, so that a dead board and a cut wire show as well (section 8, rule 2).</summary>
    private static Command Health(in Scan scan)
    {
        var missing = scan.Memory.Missing;
        if (scan.Memory.Leak)
            return new Command(0, new Reason(Cause.Leak), default, 0);
        foreach (ref readonly var loop in scan.Memory.Loops.AsSpan())
        {
            if (loop.Frost || loop.Pump.ToldUnproven)
                return new Command(0, loop.Frost ? Frost.Why(loop) : Reason.Of(Cause.PumpNotProven, loop.Pump.UnprovenForS), default, 0);
        }
        return missing > 0 ? new Command(0, Reason.Of(Cause.ReadingsMissing, missing), default, 0) : new Command(1, new Reason(Cause.Healthy), default, 0);
    }
}
