// Wishes with dates: one that ends by itself, and the house's absence. Dates are wall time of the site. Filled by the site reader or
// an edit, never changed once a House holds them. They never touch humidity or protection.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>The <c>once:</c> group of a room: other temperatures until a moment.</summary>
public sealed class OnceWish
{
    /// <summary>End, minutes since 1970 (see <see cref="DateText"/>); NaN: not said yet, so it does not hold.</summary>
    public double UntilMinutes { get; private set; } = double.NaN;

    /// <summary>Cooling set point, °C; NaN: as without it.</summary>
    public double CoolAboveC { get; private set; } = double.NaN;

    /// <summary>Heating set point, °C; NaN: as without it.</summary>
    public double HeatBelowC { get; private set; } = double.NaN;

    /// <summary>True until its end.</summary>
    public bool Holds(double localMinutes) => localMinutes < UntilMinutes;

    /// <summary>A copy that an edit may change.</summary>
    public OnceWish Copy() => (OnceWish)MemberwiseClone();

    public static IReadOnlyList<Parameter<OnceWish>> Parameters { get; } =
    [
        new()
        {
            Key = "until", Quantity = Quantity.DateTime, Lowest = DateText.Earliest, Highest = DateText.Latest, Required = true, Audience = Audience.Household,
            Example = "2026-12-24 22:00", Help = "the wish ends by itself at this moment, like 2026-12-24 22:00", GetNumber = o => o.UntilMinutes, SetNumber = (o, v) => o.UntilMinutes = v,
        },
        new()
        {
            Key = "cool_above", Example = "22 °C", Quantity = Quantity.Temperature, Lowest = 18, Highest = 32, Audience = Audience.Household,
            Help = "cooled when warmer than this until then", GetNumber = o => o.CoolAboveC, SetNumber = (o, v) => o.CoolAboveC = v,
        },
        new()
        {
            Key = "heat_below", Example = "18 °C", Quantity = Quantity.Temperature, Lowest = 5, Highest = 28, Audience = Audience.Household,
            Help = "heated when colder than this until then", GetNumber = o => o.HeatBelowC, SetNumber = (o, v) => o.HeatBelowC = v,
        },
    ];
}

/// <summary>
/// The <c>absence:</c> group of the household: nobody is there from the beginning of the day <c>from</c> until the beginning of the day
/// <c>to</c> (or from and to a moment, where a time is written). Temperatures are relaxed from <c>from</c> until <c>back_before</c> ahead
/// of <c>to</c>: when the day <c>to</c> begins the house has had that long to come back.
/// </summary>
public sealed class Absence
{
    /// <summary>First moment away, minutes since 1970; NaN: not said yet, so it does not hold.</summary>
    public double FromMinutes { get; private set; } = double.NaN;

    /// <summary>First moment back, minutes since 1970.</summary>
    public double ToMinutes { get; private set; } = double.NaN;

    /// <summary>Time before <see cref="ToMinutes"/> at which the usual temperatures hold again, s.</summary>
    public double BackBeforeS { get; private set; } = 6 * 3600;

    /// <summary>Cooling set point while away, °C.</summary>
    public double CoolAboveC { get; private set; } = 28;

    /// <summary>Heating set point while away, °C.</summary>
    public double HeatBelowC { get; private set; } = 16;

    /// <summary>End of the relaxed temperatures, minutes since 1970.</summary>
    public double RelaxedUntilMinutes => ToMinutes - BackBeforeS / 60;

    /// <summary>True while the relaxed temperatures hold.</summary>
    public bool Holds(double localMinutes) => localMinutes >= FromMinutes && localMinutes < RelaxedUntilMinutes;

    /// <summary>A copy that an edit may change.</summary>
    public Absence Copy() => (Absence)MemberwiseClone();

    public static IReadOnlyList<Parameter<Absence>> Parameters { get; } =
    [
        new()
        {
            Key = "from", Quantity = Quantity.Date, Lowest = DateText.Earliest, Highest = DateText.Latest, Required = true, Audience = Audience.Household,
            Example = "2027-02-06", Help = "first day nobody is there, from 00:00; with a time to leave later that day", GetNumber = a => a.FromMinutes, SetNumber = (a, v) => a.FromMinutes = v,
        },
        new()
        {
            Key = "to", Quantity = Quantity.Date, Lowest = DateText.Earliest, Highest = DateText.Latest, Required = true, Audience = Audience.Household,
            Example = "2027-02-20", Help = "first day somebody is back; comfort is there when it begins", GetNumber = a => a.ToMinutes, SetNumber = (a, v) => a.ToMinutes = v,
        },
        new()
        {
            Key = "back_before", Quantity = Quantity.Duration, Default = 6 * 3600, Lowest = 0, Highest = 7 * 86400, Audience = Audience.Household,
            Help = "how long before the return the usual temperatures hold again",
            More = "A floor in screed needs many hours; a coil or a thin panel less than one.",
            GetNumber = a => a.BackBeforeS, SetNumber = (a, v) => a.BackBeforeS = v,
        },
        new()
        {
            Key = "cool_above", Quantity = Quantity.Temperature, Default = 28, Lowest = 18, Highest = 32, Audience = Audience.Household,
            Help = "cooled when warmer than this while away; humidity is kept as always", GetNumber = a => a.CoolAboveC, SetNumber = (a, v) => a.CoolAboveC = v,
        },
        new()
        {
            Key = "heat_below", Quantity = Quantity.Temperature, Default = 16, Lowest = 5, Highest = 28, Audience = Audience.Household,
            Help = "heated when colder than this while away; frost protection is kept as always", GetNumber = a => a.HeatBelowC, SetNumber = (a, v) => a.HeatBelowC = v,
        },
    ];
}
