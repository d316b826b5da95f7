// Section 2, optimum start: a room whose household asks for it begins ahead of a weekly period with a stricter temperature, so that it is as wanted when the period begins. Moves a set point and nothing else: limits on the
// fan, quiet hours, humidity and every protection hold as always. Never begins earlier than the household lets it, nor for an absence or a one-off wish.
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Beginning ahead, and what it teaches.</summary>
internal static class EarlyStart
{
    /// <summary>As near as this to its set point a room is as wanted, K (as in the recoveries of the virtual house).</summary>
    public const double ReachedK = 0.3;

    /// <summary>Looks ahead so often, s.</summary>
    private const double LookEveryS = 60;

    /// <summary>A start that has not arrived so long after its period began teaches no more; one that comes so late is told, min.</summary>
    private const double WaitsForMin = 180, LateMin = 15;

    /// <summary>Valve, pump, source and water take so long before anything is felt, min (project choice).</summary>
    private const double DeadMin = 3;

    /// <summary>Minutes for each kelvin until a room has shown its own: by a coil, by a panel alone, by a slab alone (common practice, no published source: a fan coil moves a room by some kelvins in half an hour, a screed by one in an hour).</summary>
    private const double CoilMinPerK = 8, PanelMinPerK = 20, SlabMinPerK = 60;

    /// <summary>Weight of the newest start; bounds of what they may teach, as a logarithm (an eighth to eight times).</summary>
    private const double Newest = 0.35, MostLog = 2.0794415416798357;

    /// <summary>How far starts are from one another until they have shown it, as a logarithm.</summary>
    private const double PriorSpread = 0.3, LeastSpread = 0.1;

    /// <summary>One that has come no nearer by so much stands still after so long, or after a third of what it was given (project choice).</summary>
    private const double StillK = 0.05, StillMin = 20;

    /// <summary>A clock that is further off from what has passed was set, min.</summary>
    private const double ClockMin = 2;

    /// <summary>What a start must at least have covered to teach, K.</summary>
    private const double LeastK = 0.5;

    private const int MostStarts = 1_000_000;

    /// <summary>Starts after which it is judged who foresees better; what was learned is left where it is worse by so large a share, and so much besides, in logarithms (project choice).</summary>
    private const int JudgedFrom = 3;

    private const double WorseBy = 1.15, WorseAtLeast = 0.1;

    /// <summary>Once a scan: follows a start, looks for one, and gives the set points that hold.</summary>
    public static void Step(in Scan scan, int index, Room room, ref RoomMemory m, ref double coolAboveC, ref double heatBelowC)
    {
        ref var e = ref m.Early;
        if (room.Household.StartEarlyAtMostS <= 0 && !e.Runs)
            return;
        var now = DateText.MinutesOf(scan.Local);
        if (e.Runs)
            Follow(scan, index, room, ref m, now);
        if (e.Runs && now < e.AtMinutes && !IsStillWanted(room.Household, scan.Local, e, now))
            e = default;   // looks at once for what is wanted instead
        if ((e.LookInS -= scan.Dt) <= 0)
        {
            e.LookInS = LookEveryS;
            Look(scan, index, room, ref m, now);
        }
        if (!e.Runs || now >= e.AtMinutes)
            return;
        if (e.Heats)
            heatBelowC = Math.Max(heatBelowC, HouseholdRoom.Heat(e.WantedC, coolAboveC));
        else
        {
            coolAboveC = Math.Min(coolAboveC, e.WantedC);
            heatBelowC = HouseholdRoom.Heat(heatBelowC, coolAboveC);
        }
    }

    /// <summary>Minute of the day of the period for which a room has begun ahead; NaN: for none.</summary>
    public static double AheadOf(in RoomMemory m, DateTime local)
        => m.Early.Runs && m.WantedC == m.Early.WantedC && DateText.MinutesOf(local) < m.Early.AtMinutes ? m.Early.AtMinutes % (24 * 60) : double.NaN;

    /// <summary>How far the room is on the wrong side of a set point, K.</summary>
    private static double AwayK(in RoomMemory m, double wantedC, bool heats) => heats ? wantedC - m.ControlC : m.ControlC - wantedC;

    private static ref EarlyLearned Learned(in Scan scan, int index, bool heats)
        => ref heats ? ref scan.Memory.RoomData[index].EarlyHeating : ref scan.Memory.RoomData[index].EarlyCooling;

    /// <summary>Only what the room's own week says is worked for ahead.</summary>
    private static bool IsOfWeek(in Wanted wanted) => wanted.Rule is WishRule.Usual or WishRule.Week;

    /// <summary>Minutes that a room will take over a distance: by what its starts have taught, on the slower side of it, or by its kind of emitter.</summary>
    private static double ForeseenMin(in Scan scan, int index, Room room, bool heats, double fromK)
    {
        var usual = UsualMinPerK(scan, room, heats);
        ref readonly var learned = ref Learned(scan, index, heats);
        var own = (scan.Memory.RoomDataFor & RoomDataUses.OptimumStart) != 0 && learned.Starts > 0 && !IsWorse(learned);
        return DeadMin + (fromK - ReachedK) * usual * (own ? Math.Exp(learned.Log + learned.Spread) : 1);
    }

    /// <summary>By the quickest emitter that may work in this direction now.</summary>
    private static double UsualMinPerK(in Scan scan, Room room, bool heats)
    {
        if (RoomCoils.AnyMayRun(scan, room, heats))
            return CoilMinPerK;
        foreach (var circuit in room.Circuits)
        {
            if (!scan.House.Circuits[circuit].Kind.IsSlab && RoomSurfaces.InSeason(scan, circuit, heats))
                return PanelMinPerK;
        }
        return SlabMinPerK;
    }

    /// <summary>True for what these rules can have written.</summary>
    public static bool IsSound(in EarlyLearned learned)
        => Math.Abs(learned.Log) <= MostLog && learned.Spread is >= 0 and <= 2 * MostLog && learned.DataMiss is >= 0 and <= 2 * MostLog && learned.TypedMiss is >= 0 and <= 2 * MostLog
            && learned.Starts is >= 0 and <= MostStarts && double.IsFinite(learned.LastTookMin) && double.IsFinite(learned.LastGivenMin);

    /// <summary>True where starts were foreseen worse with what was learned than with what is usual.</summary>
    public static bool IsWorse(in EarlyLearned learned) => learned.Starts >= JudgedFrom && learned.DataMiss > learned.TypedMiss * WorseBy + WorseAtLeast;

    /// <summary>True where the coming set point leaves a dead band to the one of the other direction that still holds: pressed into it a start would never arrive.</summary>
    private static bool HasRoom(in Wanted held, double wantedC, bool heats)
        => heats ? wantedC <= held.CoolAboveC - HouseholdRoom.DeadBandK : wantedC >= held.HeatBelowC + HouseholdRoom.DeadBandK;

    /// <summary>Whether a period that begins within what the household allows asks for a start now.</summary>
    private static void Look(in Scan scan, int index, Room room, ref RoomMemory m, double now)
    {
        var household = room.Household;
        if (m.Early.Runs || !household.Control || household.Week.Length == 0 || double.IsNaN(m.ControlC) || m.Stage is Stage.Off or Stage.Opening)
            return;
        var held = Schedule.Now(household, scan.Local);
        if (!IsOfWeek(held))
            return;
        var most = household.StartEarlyAtMostS / 60;
        for (var at = Schedule.NextEdge(household, scan.Local); at != DateTime.MaxValue; at = Schedule.NextEdge(household, at))
        {
            var ahead = DateText.MinutesOf(at) - now;
            if (ahead > most)
                return;
            var then = Schedule.Now(household, at);
            if (!IsOfWeek(then))
                return;
            if (then.CoolAboveC < held.CoolAboveC && HasRoom(held, then.CoolAboveC, heats: false) && Begins(scan, index, room, ref m, at, then.CoolAboveC, heats: false, ahead))
                return;
            if (then.HeatBelowC > held.HeatBelowC && HasRoom(held, then.HeatBelowC, heats: true) && Begins(scan, index, room, ref m, at, then.HeatBelowC, heats: true, ahead))
                return;
        }
    }

    /// <summary>True while the household still wants it so: the period, how early it may be, and nothing stronger now.</summary>
    private static bool IsStillWanted(HouseholdRoom household, DateTime local, in EarlyMemory e, double now)
    {
        var (held, then) = (Schedule.Now(household, local), Schedule.Now(household, DateText.TimeOf(e.AtMinutes)));
        return e.AtMinutes - now <= household.StartEarlyAtMostS / 60 + 1 && IsOfWeek(then) && IsOfWeek(held)
            && (e.Heats ? then.HeatBelowC : then.CoolAboveC) == e.WantedC && HasRoom(held, e.WantedC, e.Heats);
    }

    private static bool Begins(in Scan scan, int index, Room room, ref RoomMemory m, DateTime at, double wantedC, bool heats, double aheadMin)
    {
        var fromK = AwayK(m, wantedC, heats);
        if (fromK <= ReachedK || !(RoomCoils.AnyMayRun(scan, room, heats) || RoomSurfaces.Any(scan, room, heats)) || aheadMin > ForeseenMin(scan, index, room, heats, fromK))
            return false;
        m.Early = new EarlyMemory { LookInS = LookEveryS, AtMinutes = DateText.MinutesOf(at), WantedC = wantedC, Heats = heats, FromK = fromK, UsualMinPerK = UsualMinPerK(scan, room, heats), GivenMin = aheadMin, NearestK = fromK };
        scan.Happened(SequenceEvents.BeginsEarly, Owner.Room, index, Reason.Of(Cause.None, 60 * aheadMin, at.TimeOfDay.TotalMinutes, wantedC));
        return true;
    }

    private static void Follow(in Scan scan, int index, Room room, ref RoomMemory m, double now)
    {
        ref var e = ref m.Early;
        e.SinceS += scan.Dt;
        var off = AwayK(m, e.WantedC, e.Heats);
        var late = now - e.AtMinutes;
        e.Disturbed |= IsDisturbed(scan, room, m) || Math.Abs(e.SinceS / 60 - late - e.GivenMin) > ClockMin || StandsStill(ref e, off, late);
        ref var learned = ref Learned(scan, index, e.Heats);
        if (!e.Arrived && off <= ReachedK)
        {
            e.Arrived = true;
            if (!e.Disturbed)
                Learn(ref learned, e);
        }
        if (late < 0)
            return;
        if (!e.Arrived && !e.ToldLate && late >= LateMin && !e.Disturbed)
        {
            e.ToldLate = true;
            scan.Happened(SequenceEvents.StartedTooLate, Owner.Room, index, Reason.Of(Cause.None, 60 * late, off));
        }
        var (coolAboveC, heatBelowC) = Schedule.TemperaturesNow(room.Household, scan.Local);
        var givesUp = late >= WaitsForMin;
        // It takes at least as long.
        if (givesUp && !e.Arrived && !e.Disturbed && LogOf(e) > learned.Log)
            Learn(ref learned, e);
        if (e.Arrived || givesUp || (e.Heats ? heatBelowC : coolAboveC) != e.WantedC)
            e = new EarlyMemory { LookInS = LookEveryS };
    }

    /// <summary>What no start can know of.</summary>
    private static bool IsDisturbed(in Scan scan, Room room, in RoomMemory m)
        => m.OpenForS > 0 || m.Stage is Stage.Off or Stage.Opening || scan.Samples.Length == 0 || !scan.Reading(room.AirTemperature).Exists || RoomWatch.ByHand(scan, room)
            || UsualMinPerK(scan, room, m.Early.Heats) != m.Early.UsualMinPerK;

    /// <summary>True for one that comes no nearer before its period: a whispering coil, or one that may not turn before the hour, would be given longer and longer and never be there.</summary>
    private static bool StandsStill(ref EarlyMemory e, double off, double late)
    {
        if (off < e.NearestK - StillK)
            (e.NearestK, e.NearestS) = (off, e.SinceS);
        return late < 0 && !e.Arrived && e.SinceS - e.NearestS > 60 * Math.Max(StillMin, e.GivenMin / 3);
    }

    private static double LogOf(in EarlyMemory e) => Math.Clamp(Math.Log(Math.Max(1, e.SinceS / 60 - DeadMin) / (e.FromK - ReachedK) / e.UsualMinPerK), -MostLog, MostLog);

    /// <summary>A start has arrived: how long it took beside how long was foreseen.</summary>
    private static void Learn(ref EarlyLearned learned, in EarlyMemory e)
    {
        var took = e.SinceS / 60;
        (learned.LastTookMin, learned.LastGivenMin) = (took, e.GivenMin);
        // A start of a few tenths is all dead time and digits.
        if (e.FromK - ReachedK < LeastK)
            return;
        var log = LogOf(e);
        var weight = Math.Max(Newest, 1.0 / (learned.Starts + 1));
        var first = learned.Starts == 0;
        var miss = first ? Math.Abs(log) : Math.Abs(log - learned.Log);
        learned.DataMiss += weight * (miss - learned.DataMiss);
        learned.TypedMiss += weight * (Math.Abs(log) - learned.TypedMiss);
        learned.Spread = first ? PriorSpread : Math.Max(LeastSpread, learned.Spread + Newest * (miss - learned.Spread));
        learned.Log += weight * (log - learned.Log);
        learned.Starts = Math.Min(learned.Starts + 1, MostStarts);
    }
}
