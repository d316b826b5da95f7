// The lines of what was measured of a room, shared by terminal and picture. Must never show a figure without how sure it is.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.RoomData;

/// <summary>Words for measured values.</summary>
internal static class RoomDataLines
{
    /// <summary>Each value beside what is typed in.</summary>
    public static IEnumerable<string> Of(House house, int room, RoomDataMemory data)
    {
        var part = house.Rooms[room];
        var typed = part.Coils.Sum(i => house.Coils[i].Kind.OutputW);
        var lag = house.Inputs[part.AirTemperature].Sensor.LagS;
        yield return Line("coil at full speed", data.Coil, typed, Quantity.Power, house.Units, "typed in");
        yield return Line("air and what follows", data.Capacity, RoomDataKeeping.TypicalCapacityJPerK(part) / 1000, Quantity.HeatCapacity, house.Units, "by the floor");
        yield return Line("lag of its sensor", data.Lag, lag, Quantity.Duration, house.Units, "typed in");
    }

    /// <summary>What the data changed.</summary>
    public static string Use(House house, int room, RoomDataMemory data)
    {
        if (data.Dropped)
            return string.Create(CultureInfo.InvariantCulture, $"not believed: they foresaw pull-downs {100 * Math.Sqrt(data.DataMiss):0} % wrong, what is typed in {100 * Math.Sqrt(data.TypedMiss):0} %; measured anew meanwhile");
        if (data.PullDowns < RoomDataKeeping.UsedFromPullDowns)
            return $"not believed yet: it takes {RoomDataKeeping.UsedFromPullDowns} pull-downs";
        var told = house.Inputs[house.Rooms[room].AirTemperature].Sensor.LagS;
        var changed = RoomDataKeeping.UsesLag(data)
            ? $"used: control runs {Show(told * data.Lag.Factor, Quantity.Duration, house.Units)} ahead of its sensor instead of {Show(told, Quantity.Duration, house.Units)}"
            : "told only, control goes by what is typed in: no use of it has shown in comparisons that it helps";
        var foresaw = data.Watched == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; foresees pull-downs {100 * Math.Sqrt(data.DataMiss):0} % wrong, what is typed in {100 * Math.Sqrt(data.TypedMiss):0} %");
        return changed + foresaw;
    }

    /// <summary>What its starts ahead of weekly periods have taught, a line a direction; nothing where there was none.</summary>
    public static IEnumerable<string> Starts(House house, int room, RoomDataMemory data)
    {
        var most = house.Rooms[room].Household.StartEarlyAtMostS;
        foreach (var (words, learned) in new[] { ("starts to cool", data.EarlyCooling), ("starts to heat", data.EarlyHeating) })
        {
            if (learned.Starts == 0)
                continue;
            var use = most <= 0 ? "not used: start_early_at_most is 0 s" : RoomDataKeeping.UsesStarts(learned) ? "used: the next one is given as long, and a margin for how much they differ" : "not used: what is usual foresees them better";
            yield return string.Create(CultureInfo.InvariantCulture, $"{words,-21}{learned.Factor,10:0.0} times what its kind of emitter usually takes, from {learned.Starts}; the last took {learned.LastTookMin:0} min and was given {learned.LastGivenMin:0} min; {use}");
        }
    }

    /// <summary>What the room's own limits on its fan cost: how long it takes back by the measured balance at each of them and at full speed, with how sure; one line.</summary>
    public static string Price(House house, int room, in RoomDataMemory data)
    {
        const string What = "price of a cap";
        if (house.Rooms[room].Coils.Length == 0)
            return $"{What,-21}    none: the room has no coil";
        if (!CapPrice.IsTrusted(data))
            return $"{What,-21}    not reckoned: it takes {RoomDataKeeping.UsedFromPullDowns} pull-downs and data that are believed";
        var household = house.Rooms[room].Household;
        var usual = Recovery.Speed(house, room, household, household.FanAtMostPercent);
        var quiet = double.IsNaN(household.QuietBeginsMinutes) ? usual : Math.Min(usual, household.QuietFanAtMostPercent);
        List<(double Percent, string Words)> limits = [(100, "full speed")];
        if (usual < 100)
            limits.Add((usual, Show(usual, Quantity.Percent, house.Units) + " (its limit)"));
        if (quiet < usual)
            limits.Add((quiet, Show(quiet, Quantity.Percent, house.Units) + " (quiet hours)"));
        if (limits.Count == 1)
            limits.Add((AsAnExample, Show(AsAnExample, Quantity.Percent, house.Units)));
        var from = Show(Recovery.FromAboveK, Quantity.TemperatureDifference, house.Units);
        return $"{What,-21}    {from} too warm, back at {string.Join("; at ", One(house, room, data, limits))}";
    }

    /// <summary>Shown where the room has no limit of its own, % of full speed.</summary>
    private const double AsAnExample = 50;

    private static List<string> One(House house, int room, RoomDataMemory data, List<(double Percent, string Words)> limits) =>
    [
        .. limits.Select(limit => $"{limit.Words} in {Minutes(CapPrice.Minutes(house, room, data, limit.Percent))} (likely {Minutes(CapPrice.Minutes(house, room, data, limit.Percent, 1))} to {Minutes(CapPrice.Minutes(house, room, data, limit.Percent, -1))})"),
    ];

    private static string Minutes(double minutes) => double.IsInfinity(minutes)
        ? string.Create(CultureInfo.InvariantCulture, $"over {CapPrice.LongestMin:0} min")
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, minutes):0} min");

    private static string Line(string what, Measured measured, double typed, Quantity quantity, UnitSystem units, string from)
        => string.Create(CultureInfo.InvariantCulture, $"{what,-21}{Show(typed * measured.Factor, quantity, units),10}, likely {Show(typed * measured.Low, quantity, units)} to {Show(typed * measured.High, quantity, units)}; {from} {Show(typed, quantity, units)}");

    private static string Show(double value, Quantity quantity, UnitSystem units) => Quantities.Show(value, quantity, units);
}
