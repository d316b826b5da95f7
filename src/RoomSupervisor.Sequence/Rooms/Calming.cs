// Section 4, rule 6: a fan that goes up and down without end is told to be calmer. The gain of the demand is made of the room's air capacity, which nobody has measured: where air and furniture
// hold less heat than that, or a coil gives more, coil and air swing about each other for hours. Only ever lowers a gain, and gives it back by and by.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Calms the coils of a room that swing.</summary>
internal static class Calming
{
    /// <summary>More audible changes of an hour than this are a swing (section 10's promise), and no others are counted against the gain for as long after a step.</summary>
    private const int AudibleAtMost = 6;

    /// <summary>Each step takes this share of the gain; at most so much is taken in all (project choices: six steps from full gain to a third and less).</summary>
    private const double StepShare = 0.25, MostTaken = 0.7;

    /// <summary>Time for a step to show, and time of calm held by a coil after which half of what was taken is given back, s.</summary>
    private const double ShowsAfterS = 1800, GivesBackAfterS = 24 * 3600.0;

    /// <summary>What is left of the gain, 0.3…1.</summary>
    public static double Share(in RoomMemory m) => 1 - m.CalmedBy;

    /// <summary>Looks at the room's coils once a scan.</summary>
    public static void Step(in Scan scan, int index)
    {
        ref var m = ref scan.Memory.Rooms[index];
        if (m.Stage is not (Stage.CoilHelps or Stage.CoilHold))
            return;
        m.CalmForS += scan.Dt;
        if (Loudest(scan, scan.House.Rooms[index]) > AudibleAtMost)
        {
            // What a room is asked to do otherwise is no swing: a new set point, people, a door. It takes an hour of them to count so many.
            if (m.CalmForS < ShowsAfterS || m.Moisture == Moisture.Dehumidifying)
                return;
            (m.CalmedBy, m.CalmForS) = (Math.Min(MostTaken, 1 - (1 - m.CalmedBy) * (1 - StepShare)), 0);
        }
        else if (m.CalmForS > GivesBackAfterS)
        {
            (m.CalmedBy, m.CalmForS) = (m.CalmedBy < 0.05 ? 0 : m.CalmedBy / 2, 0);
        }
    }

    private static int Loudest(in Scan scan, Room room)
    {
        var most = 0;
        foreach (var coil in room.Coils)
            most = Math.Max(most, scan.Memory.Coils[coil].Heard.Count);
        return most;
    }
}
