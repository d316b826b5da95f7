// Section 7, rule 3: between opposite uses emitters rest, slabs for long, since what they store would be thrown away, coils and thin panels shortly. A room that is far too cold
// ends the rest: comfort may wait, cold may not.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Rests of loops between cooling and heating.</summary>
internal static class Rests
{
    /// <summary>Time passes; a loop is in use while its pump runs.</summary>
    public static void Follow(in Scan scan, ref LoopMemory m)
    {
        if (m.PumpOn && !Loops.Exercise.Moves(m))
            (m.Used, m.UsedHeats, m.SinceUsedS) = (true, m.Heats, 0);
        else
            m.SinceUsedS += scan.Dt;
    }

    /// <summary>How long a loop must still rest before it is used in this direction, s; 0: it may.</summary>
    public static double Left(in Scan scan, Loop loop, in LoopMemory m, bool heats)
    {
        if (!m.Used || m.UsedHeats == heats || loop.Seasons != Seasons.Both)
            return 0;
        var left = (loop.IsSlow ? scan.Settings.SlabOppositeRestS : scan.Settings.CoilOppositeRestS) - m.SinceUsedS;
        return left <= 0 || (heats && IsTooCold(scan, loop)) ? 0 : left;
    }

    /// <summary>Why a loop may not be used in a direction: it rests from the opposite one, or carries the other water.</summary>
    public static Reason Why(in Scan scan, int loop, bool heats) => IsResting(scan, loop, heats, out var why) ? why : new Reason(Cause.NotInSeason);

    /// <summary>True while a loop that carries the right water rests from the opposite use.</summary>
    public static bool IsResting(in Scan scan, int loop, bool heats, out Reason why)
    {
        ref readonly var m = ref scan.Memory.Loops[loop];
        why = Reason.Of(Cause.RestsFromOpposite, m.OppositeRestS);
        return m.Heats == heats && m.OppositeRestS > 0;
    }

    /// <summary>True when a room is so cold that no rest counts.</summary>
    public static bool IsTooCold(in Scan scan, in RoomMemory room) => room.Heats && room.Started && room.ErrorK > scan.Settings.TooColdK;

    private static bool IsTooCold(in Scan scan, Loop loop)
    {
        foreach (var circuit in loop.Circuits)
        {
            if (IsTooCold(scan, scan.Memory.Rooms[scan.House.Circuits[circuit].Room]))
                return true;
        }
        foreach (var coil in loop.Coils)
        {
            foreach (var room in scan.House.Coils[coil].Rooms)
            {
                if (IsTooCold(scan, scan.Memory.Rooms[room]))
                    return true;
            }
        }
        return false;
    }
}
