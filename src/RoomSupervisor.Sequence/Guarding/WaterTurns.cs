// Section 5, rule 4: how long a room without a coil may be kept from its loop for the others' sake. After its longest wait the loop is warmed for it for a while, if such water is still of use to it; the others go on with
// warmer water meanwhile. Never opens a circuit: that stays with the guard, when the water has come.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

/// <summary>Turns of rooms that wait for warmer water than others use.</summary>
internal static class WaterTurns
{
    /// <summary>Counts waits and turns on one loop, before anybody is isolated.</summary>
    public static void Step(in Scan scan, int index)
    {
        var loop = scan.House.Loops[index];
        if (loop.Serves != LoopServes.Surfaces || !loop.HasSeveralRooms)
            return;
        var cools = !scan.Memory.Loops[index].Heats;
        foreach (var i in loop.Circuits)
        {
            ref var kept = ref scan.Memory.Circuits[i].Kept;
            var wanted = cools && LoopWater.IsWanted(scan, i);
            kept.ToldWaits &= wanted;
            if (kept.TurnForS > 0)
                Blocks.Hold(ref kept.TurnForS, wanted && kept.TurnForS < scan.Settings.SharedWaterTurnS, scan.Dt);
            else
                Wait(scan, loop, i, wanted, ref kept);
        }
    }

    /// <summary>True while the loop is warmed for a circuit whatever that costs the others.</summary>
    public static bool Has(in CircuitMemory m) => m.Kept.TurnForS > 0;

    private static void Wait(in Scan scan, Loop loop, int index, bool wanted, ref CircuitLoopMemory kept)
    {
        Blocks.Hold(ref kept.WaitsForS, wanted && WaitsForOthers(scan, loop, index), scan.Dt);
        if (kept.WaitsForS < scan.Settings.SharedWaterWaitS)
            return;
        ref readonly var m = ref scan.Memory.Circuits[index];
        if (!kept.ToldWaits)
            scan.Happened(SequenceEvents.RoomWaitsForWater, Owner.Room, scan.House.Circuits[index].Room, Reason.Of(Cause.WaitingForWarmWater, kept.WaitsForS, m.LowestSafeC, scan.Memory.Loops[scan.House.Circuits[index].Loop].SetPointC));
        kept.ToldWaits = true;
        kept.WaitsForS = 0;
        // No use in warming the loop to where its water would cool nobody: then only drier air helps, and that has been told.
        kept.TurnForS = m.OfUse ? Math.Max(scan.Dt, 1e-3) : 0;
    }

    /// <summary>Shut for nothing but the water that other rooms use, with nothing else to cool its room. Air that is not steady for a moment begins no new wait.</summary>
    private static bool WaitsForOthers(in Scan scan, Loop loop, int index)
    {
        ref readonly var m = ref scan.Memory.Circuits[index];
        if (m.Level != GuardLevel.Shut || m.ValvePercent > 0 || m.ShutReason.Cause is not (Cause.WaitingForWarmWater or Cause.WaitingForSteadyAir or Cause.Isolated))
            return false;
        var room = scan.House.Circuits[index].Room;
        return IsOpenForAnother(scan, loop, room) && !RoomCoils.AnyMayRun(scan, scan.House.Rooms[room], heats: false);
    }

    private static bool IsOpenForAnother(in Scan scan, Loop loop, int room)
    {
        foreach (var i in loop.Circuits)
        {
            if (scan.House.Circuits[i].Room != room && scan.Memory.Circuits[i].ValvePercent > 0)
                return true;
        }
        return false;
    }
}
