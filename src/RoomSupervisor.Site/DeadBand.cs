// Whether what a household wants leaves a dead band between cooling and heating, whichever of its groups hold together. Pure.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Two groups of a room that want what cannot be had together.</summary>
/// <param name="One">Group that says cool_above.</param>
/// <param name="Other">Group that says heat_below; the same one when it contradicts itself.</param>
/// <param name="CoolAboveC">°C.</param>
/// <param name="HeatBelowC">°C.</param>
/// <param name="InPeriod">Name of the weekly period that is one of them, or empty.</param>
internal readonly record struct Contradiction(HouseholdGroup One, HouseholdGroup Other, double CoolAboveC, double HeatBelowC, string InPeriod)
{
    /// <summary>In words: "cool_above 21 °C (once) and heat_below 20.5 °C (the room's own) are less than 1 K apart".</summary>
    public string Words(UnitSystem units)
    {
        var apart = Quantities.ShowExactly(HouseholdRoom.DeadBandK, Quantity.TemperatureDifference, units);
        return $"cool_above {Show(CoolAboveC, units)} ({Name(One, InPeriod)}) and heat_below {Show(HeatBelowC, units)} ({Name(Other, InPeriod)}) are less than {apart} apart";
    }

    private static string Name(HouseholdGroup group, string period) => group switch
    {
        HouseholdGroup.Wanted => "the room's own",
        HouseholdGroup.Week => $"week.{period}",
        _ => HouseholdGroups.NameOf(group),
    };

    private static string Show(double value, UnitSystem units) => Quantities.ShowExactly(value, Quantity.Temperature, units);
}

internal static class DeadBand
{
    /// <summary>Every pair of groups that leaves no dead band at some moment. What nobody wrote keeps out of the way and contradicts nothing.</summary>
    public static IEnumerable<Contradiction> Of(HouseholdRoom room)
    {
        var heat = room.IsHeatBelowWritten ? room.Written() : double.NaN;
        List<(HouseholdGroup Cool, double CoolC, HouseholdGroup Heat, double HeatC, string Period)> holding = [(HouseholdGroup.Wanted, room.CoolAboveC, HouseholdGroup.Wanted, heat, "")];
        foreach (var period in room.Week)
            holding.Add(Over(holding[0], HouseholdGroup.Week, period.CoolAboveC, period.HeatBelowC, period.Name));
        if (room.Absence is { } away)
            holding.Add((HouseholdGroup.Absence, away.CoolAboveC, HouseholdGroup.Absence, away.HeatBelowC, ""));
        if (room.Once is { } once)
            holding.AddRange(holding.ToList().Select(under => Over(under, HouseholdGroup.Once, once.CoolAboveC, once.HeatBelowC, under.Period)));
        foreach (var (cool, coolC, heating, heatC, period) in holding)
        {
            if (coolC - heatC < HouseholdRoom.DeadBandK - 1e-9)
                yield return new Contradiction(cool, heating, coolC, heatC, period);
        }
    }

    private static (HouseholdGroup Cool, double CoolC, HouseholdGroup Heat, double HeatC, string Period) Over(
        (HouseholdGroup Cool, double CoolC, HouseholdGroup Heat, double HeatC, string Period) under, HouseholdGroup group, double coolC, double heatC, string period)
        => (double.IsNaN(coolC) ? under.Cool : group, double.IsNaN(coolC) ? under.CoolC : coolC,
            double.IsNaN(heatC) ? under.Heat : group, double.IsNaN(heatC) ? under.HeatC : heatC, period);

    /// <summary>As written: the property keeps out of the way of cool_above, which would hide the contradiction.</summary>
    private static double Written(this HouseholdRoom room) => HouseholdRoom.Parameters.First(parameter => parameter.Key == "heat_below").GetNumber!(room);
}
