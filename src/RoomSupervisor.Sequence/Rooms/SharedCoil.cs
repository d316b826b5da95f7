// A coil that serves several rooms whose wishes differ: which room leads it, in which direction it works while one of them wants heat and another cold, and who
// waits meanwhile. Never works against a room that emitters of its own heat or cool, never both ways at once, and changes over only with its valve shut.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Direction and leading room of a coil; for a coil of one room both are that room's.</summary>
internal static class SharedCoil
{
    /// <summary>True while the coil works in this direction; always for a coil of one room.</summary>
    public static bool Serves(Coil coil, in CoilMemory m, bool heats) => coil.Rooms.Length == 1 || (m.Serves && m.ServesHeat == heats);

    /// <summary>True while nothing speaks against its working in this direction for the rooms' stages.</summary>
    public static bool MayServe(Coil coil, in CoilMemory m, bool heats) => coil.Rooms.Length == 1 || !(heats ? m.BarsHeating : m.BarsCooling);

    /// <summary>Why it does not work in a direction that a room asks for.</summary>
    public static Reason Why(in Scan scan, in CoilMemory m)
        => m.Serves ? Reason.Of(Cause.CoilServesOther, Math.Max(0, scan.Settings.CoilOppositeRestS - m.OtherWaitsForS)) : new Reason(Cause.CoilAgainstRoom);

    /// <summary>Decides the direction, once a scan, and gives the room that leads.</summary>
    public static int Step(in Scan scan, int index, Coil coil, ref CoilMemory m)
    {
        if (coil.Rooms.Length == 1)
            return coil.Room;
        var cold = Look(scan, index, coil, heats: false);
        var warm = Look(scan, index, coil, heats: true);
        if (m.Serves && MustEnd(scan, m, m.ServesHeat ? warm : cold, m.ServesHeat ? cold : warm))
            m.Serves = false;
        if (!m.Serves && (cold.Wants || warm.Wants))
            Choose(coil, cold, warm, ref m);
        m.BarsCooling = warm.Own || (m.Serves && m.ServesHeat);
        m.BarsHeating = cold.Own || (m.Serves && !m.ServesHeat);
        var waits = (m.BarsCooling && cold.Waits) ? cold : (m.BarsHeating && warm.Waits) ? warm : default;
        Tell(scan, waits, ref m);
        return Lead(scan, coil, m);
    }

    /// <summary>What its rooms want of it in one direction.</summary>
    /// <param name="Wants">A room at work with it, or about to be.</param>
    /// <param name="ErrorK">The largest error of those.</param>
    /// <param name="Room">The room that has it.</param>
    /// <param name="Waits">True when that error is one to be served.</param>
    /// <param name="IsTooCold">A room so cold that nothing counts besides.</param>
    /// <param name="Own">A room is worked in this direction by emitters of its own.</param>
    private readonly record struct Side(bool Wants, double ErrorK, int Room, bool Waits, bool IsTooCold, bool Own);

    private static Side Look(in Scan scan, int index, Coil coil, bool heats)
    {
        var (wants, error, who, tooCold, own) = (false, double.NegativeInfinity, coil.Room, false, false);
        foreach (var i in coil.Rooms)
        {
            ref readonly var m = ref scan.Memory.Rooms[i];
            if (m.Heats != heats || !m.Started)
                continue;
            own |= WorksByItself(scan, index, scan.House.Rooms[i], m);
            if (!RoomCoils.InSeason(scan, coil, heats) || !(Wish(scan, i, m) >= 0 || (m.Stage == Stage.Satisfied && m.ErrorK > scan.Settings.SurfaceFromK)))
                continue;
            wants = true;
            tooCold |= Sources.Rests.IsTooCold(scan, m);
            if (m.ErrorK > error)
                (error, who) = (m.ErrorK, i);
        }
        return new Side(wants, error, who, wants && error > scan.Settings.SurfaceFromK, tooCold, own);
    }

    /// <summary>True when a surface or another coil of the room works in the room's direction: by its stage, so that it does not come and go with each valve.</summary>
    private static bool WorksByItself(in Scan scan, int index, Room room, in RoomMemory m)
    {
        if (Demand.WantsSurface(m) && RoomSurfaces.Any(scan, room, m.Heats))
            return true;
        if (Wish(scan, room, m) < 0)
            return false;
        foreach (var coil in room.Coils)
        {
            if (coil != index && RoomCoils.InSeason(scan, scan.House.Coils[coil], m.Heats))
                return true;
        }
        return false;
    }

    /// <summary>
    /// It keeps its direction until nobody wants that any more, or a room is worked the other way by emitters of its own; for one that waits the other way and
    /// is further off, at most as long as coils rest between opposite uses; at once for one that is far too cold.
    /// </summary>
    private static bool MustEnd(in Scan scan, in CoilMemory m, in Side present, in Side other)
    {
        if (!present.Wants || other.Own)
            return true;
        if (!other.Waits || present.Own || present.IsTooCold)
            return false;
        return other.IsTooCold || (m.OtherWaitsForS >= scan.Settings.CoilOppositeRestS && other.ErrorK > present.ErrorK);
    }

    private static void Choose(Coil coil, in Side cold, in Side warm, ref CoilMemory m)
    {
        var (mayCool, mayHeat) = (cold.Wants && !warm.Own, warm.Wants && !cold.Own);
        if (!mayCool && !mayHeat)
            return;
        var heats = mayHeat && (!mayCool || warm.IsTooCold || warm.ErrorK > cold.ErrorK);
        // The valve of the one shuts before that of the other opens.
        if (heats != m.ServesHeat && m.ValveShutForS < coil.OpeningTimeS)
            return;
        (m.Serves, m.ServesHeat, m.OtherWaitsForS) = (true, heats, 0);
    }

    private static void Tell(in Scan scan, in Side waits, ref CoilMemory m)
    {
        Blocks.Hold(ref m.OtherWaitsForS, waits.Waits, scan.Dt);
        if (!waits.Waits)
            m.ToldOther = false;
        if (m.ToldOther || m.OtherWaitsForS <= scan.Settings.SourceWaitS)
            return;
        m.ToldOther = true;
        scan.Happened(SequenceEvents.RoomWaitsForCoil, Owner.Room, waits.Room, Why(scan, m));
    }

    /// <summary>Of its rooms in the direction in which it works the one that wants most of it: the others get what that makes of it, within their own limits.</summary>
    private static int Lead(in Scan scan, Coil coil, in CoilMemory coilMemory)
    {
        var lead = coil.Room;
        var most = double.NegativeInfinity;
        foreach (var index in coil.Rooms)
        {
            ref readonly var m = ref scan.Memory.Rooms[index];
            var wish = Wish(scan, index, m);
            if (wish > most && (!coilMemory.Serves || m.Heats == coilMemory.ServesHeat))
                (lead, most) = (index, wish);
        }
        return lead;
    }

    private static double Wish(in Scan scan, int room, in RoomMemory m) => Wish(scan, scan.House.Rooms[room], m);

    /// <summary>How much a room wants of its coils; under 0: nothing.</summary>
    private static double Wish(in Scan scan, Room room, in RoomMemory m) => m.Stage switch
    {
        Stage.PullDown or Stage.WarmUp => 1e9 + m.ErrorK,
        Stage.EasingOff => 1e6,
        Stage.Satisfied or Stage.RadiantHold when m.Moisture == Moisture.Dehumidifying => 1,
        Stage.CoilHelps or Stage.CoilHold => Demand.OfCoils(scan, room, m),
        _ => -1,
    };
}
