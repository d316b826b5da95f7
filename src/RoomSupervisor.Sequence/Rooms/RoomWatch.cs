// Section 2, rules 6 and 8: what a room's behaviour says of its plant: stages that change too often, a coil that is too large for it. Only watches and tells;
// no rule of control reads what is remembered here; what a bounce teaches is in Bounce.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Watching over a room.</summary>
internal static class RoomWatch
{
    /// <summary>Outdoors may change by less than this while the weather counts as steady, K.</summary>
    private const double SteadyOutdoorK = 2;

    /// <summary>The usual load is a mean over a day of being held; after a quarter of it it is believed, s (project choice).</summary>
    private const double UsualOverS = 86_400, BelievedAfterS = 21_600;

    /// <summary>Once told, a coil that is too large is not told again within a week of control, s.</summary>
    private const double ToldAgainS = 7 * 86_400.0;

    public static void Step(in Scan scan, int index)
    {
        var room = scan.House.Rooms[index];
        ref var m = ref scan.Memory.Rooms[index];
        Hunting(scan, index, room, ref m);
        m.TooLargeRestS = Math.Max(0, m.TooLargeRestS - scan.Dt);
        if (m.Stage is Stage.CoilHelps or Stage.CoilHold or Stage.RadiantHold && !m.Heats && !double.IsNaN(m.ErrorK) && scan.Samples.Length > 0)
            TooLarge(scan, index, room, ref m);
    }

    /// <summary>Counts changes between working stages; whatever explains a change begins the hour anew.</summary>
    private static void Hunting(in Scan scan, int index, Room room, ref RoomMemory m)
    {
        m.StageChanges.Pass(scan.Dt);
        var disturbed = Disturbed(scan, room, ref m);
        Bounce.Step(scan, index, disturbed, ref m);
        if (disturbed)
            (m.StageChanges, m.ToldHunting) = (default, false);
        if (m.Stage != m.SeenStage && m.Stage != Stage.Off && m.SeenStage != Stage.Off)
            m.StageChanges.Add();
        m.SeenStage = m.Stage;
        if (m.ToldHunting)
            m.ToldHunting = m.StageChanges.Count > scan.Settings.HuntingOver / 2;
        else if (m.StageChanges.Count > scan.Settings.HuntingOver)
        {
            m.ToldHunting = true;
            scan.Happened(SequenceEvents.Hunting, Owner.Room, index, Reason.Of(Cause.None, m.StageChanges.Count));
        }
    }

    /// <summary>An opening, another set point, a hand value, other weather.</summary>
    private static bool Disturbed(in Scan scan, Room room, ref RoomMemory m)
    {
        // A room that turns to its other set point does so by itself: that disturbs nothing.
        var isOther = m.WantedC != m.SeenWantedC && m.Heats == m.SeenHeats;
        (m.SeenWantedC, m.SeenHeats) = (m.WantedC, m.Heats);
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (outdoors.Exists && (!m.HasSeenOutdoor || Math.Abs(outdoors.Value - m.SeenOutdoorC) >= SteadyOutdoorK))
        {
            isOther |= m.HasSeenOutdoor;
            (m.HasSeenOutdoor, m.SeenOutdoorC) = (true, outdoors.Value);
        }
        return isOther || m.OpenForS > 0 || m.Stage == Stage.Opening || ByHand(scan, room);
    }

    /// <summary>True while somebody holds one of the room's emitters.</summary>
    public static bool ByHand(in Scan scan, Room room)
    {
        var hands = scan.Memory.Hands;
        foreach (var coil in room.Coils)
        {
            var part = scan.House.Coils[coil];
            if (hands[part.Fan].Active || hands[part.Valve].Active || (part.HeatingValve >= 0 && hands[part.HeatingValve].Active))
                return true;
        }
        foreach (var circuit in room.Circuits)
        {
            if (hands[scan.House.Circuits[circuit].Valve].Active)
                return true;
        }
        return false;
    }

    /// <summary>
    /// The mean of what the room is given while it is held, against what its leading coil gives at its slowest with the water it has. Not the mean of what is
    /// asked: a coil that is too large gives more than that, and then rests.
    /// </summary>
    private static void TooLarge(in Scan scan, int index, Room room, ref RoomMemory m)
    {
        m.UsualForS = Math.Min(UsualOverS, m.UsualForS + scan.Dt);
        if (m.UsualForS > 0)
            m.UsualLoadW += (m.SurfaceOutputW + Given(scan, room) - m.UsualLoadW) * Math.Min(1, scan.Dt / m.UsualForS);
        if (m.TooLargeRestS > 0 || m.UsualForS < BelievedAfterS || m.Stage == Stage.RadiantHold)
            return;
        var slowest = RoomCoils.Minimum(scan, room, heats: false);
        var ratio = slowest / Math.Max(m.UsualLoadW, 1);
        if (ratio <= scan.Settings.CoilTooLargeOver)
            return;
        m.TooLargeRestS = ToldAgainS;
        scan.Happened(SequenceEvents.CoilTooLarge, Owner.Room, index, Reason.Of(Cause.None, Math.Round(ratio, 1), slowest, m.UsualLoadW));
    }

    /// <summary>What the coils give by their fans and throttling valves (rule 2.3), W.</summary>
    private static double Given(in Scan scan, Room room)
    {
        var sum = 0.0;
        foreach (var coil in room.Coils)
        {
            ref readonly var m = ref scan.Memory.Coils[coil];
            if (m.FanPercent <= 0 || m.ValvePercent <= 0)
                continue;
            sum += RoomCoils.FullOf(scan, room, coil, heats: false) * m.FanShare * Emitters.ShareOfValve(m.ValvePercent);
        }
        return sum;
    }
}
