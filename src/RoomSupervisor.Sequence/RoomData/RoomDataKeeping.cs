// Section 2, rule 7: what becomes of measured room data beside the scan: over a restart, over a change of the site, and when something was replaced. Never guesses: a room that is not found by its id is not given another's data.
using RoomSupervisor.Sequence.RoomData;

namespace RoomSupervisor.Sequence;

/// <summary>What measured data are used for.</summary>
[Flags]
public enum RoomDataUses
{
    None = 0,
    /// <summary>Stop distance: what a pull-down is begun with.</summary>
    StopDistance = 1,
    /// <summary>The sensor's lag, wherever control runs ahead of it.</summary>
    SensorLag = 2,
    /// <summary>Hand-over: what the coil gives at its slowest.</summary>
    HandOver = 4,
    /// <summary>Optimum start: how long before a weekly period a room begins, by what its earlier starts took.</summary>
    OptimumStart = 8,
    /// <summary>
    /// What is used unless a comparison says otherwise: only optimum start has proven itself (shared/reference/how-good.md). Stop distance took a hundredth of a kelvin off the overshoot of closed rooms, less than any sensor sees; hand-over bought half a
    /// minute with more overshoot and bounce; the lag that helps where it was never told is measured half as long again in the virtual house.
    /// </summary>
    Shipped = OptimumStart,
    /// <summary>What a comparison plays as room data: the one use after which nothing was worse.</summary>
    Tried = StopDistance | OptimumStart,
    All = StopDistance | SensorLag | HandOver | OptimumStart,
}

/// <summary>Keeping, moving and forgetting.</summary>
public static class RoomDataKeeping
{
    /// <summary>Nothing measured is used before so many pull-downs.</summary>
    public const int UsedFromPullDowns = RoomDataUse.FromPullDowns;

    /// <summary>Capacity of the air by the floor's area, which measuring begins with, J/K.</summary>
    public static double TypicalCapacityJPerK(Room room) => Measuring.Capacity(room);

    /// <summary>True where control goes by the measured lag of the sensor.</summary>
    public static bool UsesLag(in RoomDataMemory data) => (RoomDataUses.Shipped & RoomDataUses.SensorLag) != 0 && !data.Dropped && data.PullDowns >= UsedFromPullDowns && RoomDataUse.IsSureOfOtherLag(data);

    /// <summary>True where the next start ahead of a period goes by what earlier ones took.</summary>
    public static bool UsesStarts(in EarlyLearned learned) => (RoomDataUses.Shipped & RoomDataUses.OptimumStart) != 0 && learned.Starts > 0 && !Rooms.EarlyStart.IsWorse(learned);

    /// <summary>After a gap: what was under way is lost, what was measured stays.</summary>
    /// <param name="data">Of one room.</param>
    /// <param name="gapS">How long nothing was seen, s.</param>
    internal static void Resumed(ref RoomDataMemory data, double gapS)
    {
        if (!Rooms.EarlyStart.IsSound(data.EarlyCooling))
            data.EarlyCooling = default;
        if (!Rooms.EarlyStart.IsSound(data.EarlyHeating))
            data.EarlyHeating = default;
        if (!data.Begun)
            return;
        Measuring.Hole(ref data);
        if (data.PullDowns > 0)
            (data.SinceFirstS, data.SinceLastS) = (data.SinceFirstS + gapS, data.SinceLastS + gapS);
    }

    /// <summary>Rooms that keep their id keep what was measured of them, whatever else of the site has changed; their emitters' sizes must be the same. Gives how many were moved.</summary>
    /// <param name="from">House before.</param>
    /// <param name="data">What was measured in it, room by room.</param>
    /// <param name="to">House after.</param>
    /// <param name="into">Its memory.</param>
    public static int Move(IReadOnlyList<string> from, ReadOnlySpan<RoomDataMemory> data, House to, Memory into)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(into);
        var moved = 0;
        for (var i = 0; i < to.Rooms.Length; i++)
        {
            for (var j = 0; j < Math.Min(from.Count, data.Length); j++)
            {
                if (from[j] != to.Rooms[i].Id)
                    continue;
                into.RoomData[i] = data[j];
                Resumed(ref into.RoomData[i], 0);
                moved += data[j].PullDowns > 0 ? 1 : 0;
            }
        }
        return moved;
    }

    /// <summary>Something of the room was replaced (a coil, a sensor): what was measured of it is forgotten.</summary>
    /// <param name="memory">Memory of the house.</param>
    /// <param name="room">Index of the room.</param>
    public static void Forget(Memory memory, int room)
    {
        ArgumentNullException.ThrowIfNull(memory);
        memory.RoomData[room] = default;
        // What the last pull-down has left says as little of the new part.
        (memory.Rooms[room].Air.CapacityJPerK, memory.Rooms[room].Air.WallsWPerK) = (0, 0);
    }
}
