// Whether a record can be drawn. Must never let an array that is too short fail in the middle of a page.
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Desk.Report;

/// <summary>Checks of a record before it is drawn.</summary>
internal static class RecordChecks
{
    /// <exception cref="ArgumentException">A record without samples, or with arrays of unequal length.</exception>
    internal static void Check(RunRecord run)
    {
        var count = run.Outdoor.AirC.Length;
        if (count == 0 || !(run.EveryS > 0))
            throw new ArgumentException("The record holds no samples.", nameof(run));
        foreach (var room in run.Rooms)
        {
            int[] lengths = [room.TrueAirC.Length, room.HeatBelowC.Length, room.CoolAboveC.Length, room.HumidityRatioGPerKg.Length, room.TrueDewC.Length, room.WorstDewC.Length,
                room.Stages.Length, room.Open.Length, room.FanPercent.Length, room.FanLevelDba.Length, room.Drying.Length, room.SurfaceW.Length, room.CoilW.Length];
            Same(room.Name, lengths, count);
            if (room.SurfaceFlows.Length > 0)
                Same(room.Name, [room.SurfaceFlows.Length], count);
            if (room.SurfaceLoops.Any(loop => loop < 0 || loop >= run.Loops.Length))
                throw new ArgumentException($"{room.Name} names a loop that is not there.", nameof(run));
        }
        foreach (var loop in run.Loops)
            Same(loop.Name, [loop.SupplyC.Length, loop.SetPointC.Length, loop.LowestSafeC.Length, loop.Flows.Length, loop.Cools.Length], count);
    }

    private static void Same(string name, int[] lengths, int count)
    {
        if (lengths.Any(length => length != count))
            throw new ArgumentException($"{name} has arrays of another length than the weather's {count}.", nameof(lengths));
    }
}
