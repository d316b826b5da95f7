// Section 5, rule 4: one room that alone holds the water of a loop up is shut for the others' sake. Never takes the last open circuit of a loop, and never more than one room of it.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

/// <summary>
/// A room counts for its loop while a circuit of it is open, waits for warmer water, or is isolated. The most humid of them is isolated while its lowest safe supply is too far over
/// what all others and the manifold's air need and want, another room is open, and the house gains by it: the room has a coil that may run, or carries fewer watts than the others
/// together. A room without a coil that carries most of the loop goes on, and the others get its warmer water; one that was shut out for its longest wait has its turn.
/// </summary>
internal static class Isolation
{
    /// <summary>An isolated room without a coil comes back when it is asked for this much more than the others together (project choice).</summary>
    private const double BackAtShare = 1.25;

    /// <summary>Decides for one loop of cooled surfaces, between measuring and shutting.</summary>
    public static void Step(in Scan scan, int index)
    {
        var loop = scan.House.Loops[index];
        var room = loop.Circuits.Length > 1 && !scan.Memory.Loops[index].Heats ? MostHumid(scan, loop) : -1;
        var isolated = room >= 0 && IsOutlier(scan, loop, ref scan.Memory.Loops[index], room);
        foreach (var i in loop.Circuits)
        {
            ref var m = ref scan.Memory.Circuits[i];
            var now = isolated && scan.House.Circuits[i].Room == room;
            if (now != m.Isolated && IsFirstOfRoom(scan, loop, i))
                Tell(scan, index, i, now);
            m.Isolated = now;
        }
    }

    /// <summary>Lowest safe supply of a room's circuit and what is enough for the others.</summary>
    public static Reason Why(in Scan scan, int circuit)
        => Reason.Of(Cause.Isolated, scan.Memory.Circuits[circuit].LowestSafeC, scan.Memory.Loops[scan.House.Circuits[circuit].Loop].OthersC);

    private static int MostHumid(in Scan scan, Loop loop)
    {
        var (room, highest) = (-1, double.NegativeInfinity);
        foreach (var i in loop.Circuits)
        {
            if (Counts(scan, i) && scan.Memory.Circuits[i].LowestSafeC > highest)
                (room, highest) = (scan.House.Circuits[i].Room, scan.Memory.Circuits[i].LowestSafeC);
        }
        return room;
    }

    private static bool IsOutlier(in Scan scan, Loop loop, ref LoopMemory m, int room)
    {
        var (own, ownW, was) = (double.NegativeInfinity, 0.0, false);
        var (needed, othersW, open) = (LoopWater.OfManifold(scan, loop), 0.0, false);
        var wanted = loop.WarmestC;
        foreach (var i in loop.Circuits)
        {
            if (!Counts(scan, i))
                continue;
            ref readonly var c = ref scan.Memory.Circuits[i];
            if (scan.House.Circuits[i].Room == room)
            {
                if (WaterTurns.Has(c))
                    return false;
                (own, ownW, was) = (Math.Max(own, c.LowestSafeC), ownW + c.AskedW, was || c.Isolated);
                continue;
            }
            (needed, othersW) = (Math.Max(needed, c.LowestSafeC), othersW + c.AskedW);
            open |= IsOpen(c);
            if (IsOpen(c))
                wanted = Math.Min(wanted, LoopWater.Wanted(scan, i));
        }
        m.OthersC = Math.Max(needed, Math.Max(loop.ColdestC, wanted));
        var s = scan.Settings;
        var serves = RoomCoils.AnyMayRun(scan, scan.House.Rooms[room], heats: false) || ownW < othersW * (was ? BackAtShare : 1);
        return open && serves && own > m.OthersC + s.IsolateAboveK - (was ? s.IsolateBackK : 0);
    }

    private static bool IsOpen(in CircuitMemory m) => m.Level != GuardLevel.Shut && m.ValvePercent > 0;

    private static bool Counts(in Scan scan, int circuit)
    {
        ref readonly var m = ref scan.Memory.Circuits[circuit];
        return !double.IsNaN(m.LowestSafeC) && (IsOpen(m) || ((m.Isolated || LoopWater.Waits(m)) && LoopWater.IsWanted(scan, circuit)));
    }

    private static bool IsFirstOfRoom(in Scan scan, Loop loop, int circuit)
    {
        foreach (var i in loop.Circuits)
        {
            if (scan.House.Circuits[i].Room == scan.House.Circuits[circuit].Room)
                return i == circuit;
        }
        return false;
    }

    private static void Tell(in Scan scan, int loop, int circuit, bool isolated)
    {
        ref readonly var m = ref scan.Memory.Loops[loop];
        var what = isolated ? SequenceEvents.RoomIsolated : SequenceEvents.RoomAdmitted;
        scan.Happened(what, Owner.Room, scan.House.Circuits[circuit].Room, Reason.Of(Cause.Isolated, scan.Memory.Circuits[circuit].LowestSafeC, m.OthersC));
    }
}
