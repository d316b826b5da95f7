// What holds for a room at a moment: of the room's own temperatures, its week, the absence and a one-off wish, the strongest. Pure:
// the moment is handed in, nothing is remembered, nothing allocated. Never touches humidity, frost or condensation protection.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Which rule said what is wanted, the weakest first.</summary>
public enum WishRule : byte
{
    Usual, Week, Absence, Once,
}

/// <summary>What a room's household wants at a moment.</summary>
/// <param name="CoolAboveC">Cooling set point, °C.</param>
/// <param name="HeatBelowC">Heating set point, °C; at least <see cref="HouseholdRoom.DeadBandK"/> lower.</param>
/// <param name="Rule">The strongest rule that had a say in it.</param>
/// <param name="Period">Index of the weekly period that holds, −1: none.</param>
/// <param name="FanAtMostPercent">Lowest of the household's limits on the fan now, % of full speed.</param>
/// <param name="IsQuiet">True in quiet hours that no allowance lifts.</param>
/// <param name="NoiseAtMostDb">Highest sound at the ear, dB(A); NaN: none asked.</param>
public readonly record struct Wanted(
    double CoolAboveC, double HeatBelowC, WishRule Rule, int Period, double FanAtMostPercent, bool IsQuiet, double NoiseAtMostDb);

/// <summary>Evaluating schedules.</summary>
public static class Schedule
{
    /// <summary>What holds at a moment. The one way to ask for a room's set points.</summary>
    /// <param name="room">What the household said of the room.</param>
    /// <param name="local">Schedule time of the site: see <see cref="ScheduleTime"/>.</param>
    public static Wanted Now(HouseholdRoom room, DateTime local)
    {
        var (cool, heat, rule, period) = SetPoints(room, local);
        var isQuiet = room.IsQuiet(local);
        var fan = isQuiet ? Math.Min(room.FanAtMostPercent, room.QuietFanAtMostPercent) : room.FanAtMostPercent;
        return new Wanted(cool, HouseholdRoom.Heat(heat, cool), rule, period, fan, isQuiet, room.NoiseAtMostDb);
    }

    /// <summary>The temperatures of <see cref="Now"/> alone, for every room at every scan.</summary>
    internal static (double CoolAboveC, double HeatBelowC) TemperaturesNow(HouseholdRoom room, DateTime local)
    {
        var (cool, heat, _, _) = SetPoints(room, local);
        return (cool, HouseholdRoom.Heat(heat, cool));
    }

    private static (double Cool, double WrittenHeat, WishRule Rule, int Period) SetPoints(HouseholdRoom room, DateTime local)
    {
        if (room.Week.Length == 0 && room.Absence is null && room.Once is null)
            return (room.CoolAboveC, room.WrittenHeatBelowC, WishRule.Usual, -1);
        var minutes = DateText.MinutesOf(local);
        var cool = room.CoolAboveC;
        var heat = room.WrittenHeatBelowC;
        var rule = WishRule.Usual;
        var period = PeriodAt(room, local);
        if (room.Absence is { } away && away.Holds(minutes))
            (cool, heat, rule, period) = (away.CoolAboveC, away.HeatBelowC, WishRule.Absence, -1);
        else if (period >= 0)
            (cool, heat, rule) = (Or(room.Week[period].CoolAboveC, cool), Or(room.Week[period].HeatBelowC, heat), WishRule.Week);
        if (room.Once is { } once && once.Holds(minutes))
            (cool, heat, rule) = (Or(once.CoolAboveC, cool), Or(once.HeatBelowC, heat), WishRule.Once);
        return (cool, heat, rule, period);
    }

    /// <summary>The weekly period that holds: of several the one that began last, and of those that began together the one written last; −1: none.</summary>
    public static int PeriodAt(HouseholdRoom room, DateTime local)
    {
        var found = -1;
        var youngest = double.MaxValue;
        for (var i = 0; i < room.Week.Length; i++)
        {
            var since = room.Week[i].Since(local);
            if (!(since <= youngest))
                continue;
            youngest = since;
            found = i;
        }
        return found;
    }

    /// <summary>The next moment at which <see cref="Now"/> says something else, or <see cref="DateTime.MaxValue"/> when it never will.</summary>
    /// <param name="room">What the household said of the room.</param>
    /// <param name="local">Schedule time of the site.</param>
    public static DateTime NextChange(HouseholdRoom room, DateTime local)
    {
        var now = Now(room, local);
        var at = local;
        // A week holds at most two edges a period and day and six others; dated ones come on top. Edges at which nothing changes are passed over.
        for (var i = 16 * (room.Week.Length + 2) + 8; i > 0; i--)
        {
            at = NextEdge(room, at);
            if (at == DateTime.MaxValue || Now(room, at) != now)
                return at;
        }
        return DateTime.MaxValue;
    }

    /// <summary>The next moment at which something may begin or end, or <see cref="DateTime.MaxValue"/>.</summary>
    internal static DateTime NextEdge(HouseholdRoom room, DateTime after)
    {
        var next = DateTime.MaxValue;
        for (var day = 0; day <= 8; day++)
        {
            var midnight = after.Date.AddDays(day);
            foreach (var period in room.Week)
            {
                if (period.BeginsOn(midnight.DayOfWeek))
                    Edge(midnight, period.FromMinutes, after, ref next);
                var isOver = period.ToMinutes <= period.FromMinutes;
                if (period.BeginsOn((isOver ? midnight.AddDays(-1) : midnight).DayOfWeek))
                    Edge(midnight, period.ToMinutes, after, ref next);
            }
            Edge(midnight, room.QuietFromMinutes, after, ref next);
            Edge(midnight, room.QuietToMinutes, after, ref next);
            Edge(midnight, room.NoiseAllowedUntilMinutes, after, ref next);
            if (next < midnight.AddDays(1))
                break;
        }
        Edge(DateTime.UnixEpoch, room.Once?.UntilMinutes ?? double.NaN, after, ref next);
        Edge(DateTime.UnixEpoch, room.Absence?.FromMinutes ?? double.NaN, after, ref next);
        Edge(DateTime.UnixEpoch, room.Absence?.RelaxedUntilMinutes ?? double.NaN, after, ref next);
        return next;
    }

    private static void Edge(DateTime from, double minutes, DateTime after, ref DateTime next)
    {
        if (double.IsNaN(minutes))
            return;
        var at = from.AddMinutes(minutes);
        if (at > after && at < next)
            next = at;
    }

    private static double Or(double value, double otherwise) => double.IsNaN(value) ? otherwise : value;
}
