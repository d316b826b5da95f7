// A weekly period with its own wanted temperatures. A period over midnight belongs to the day on which it begins. Filled by the site
// reader or an edit, never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>One named group under <c>week:</c> of a room.</summary>
public sealed class WeekPeriod(string name)
{
    /// <summary>Its name in the file.</summary>
    public string Name { get; } = name;

    /// <summary>Days on which it begins; see <see cref="DayWords"/>.</summary>
    public byte Days { get; private set; } = DayWords.All;

    /// <summary>The days as written, for a reader that has to tell what is wrong with them.</summary>
    public string DaysText { get; private set; } = "every-day";

    /// <summary>Beginning, minutes of the day; NaN: not said yet, so it never begins.</summary>
    public double FromMinutes { get; private set; } = double.NaN;

    /// <summary>End, minutes of the day; at or before the beginning means the next day.</summary>
    public double ToMinutes { get; private set; } = double.NaN;

    /// <summary>Cooling set point in it, °C; NaN: the room's own.</summary>
    public double CoolAboveC { get; private set; } = double.NaN;

    /// <summary>Heating set point in it, °C; NaN: the room's own.</summary>
    public double HeatBelowC { get; private set; } = double.NaN;

    /// <summary>A copy that an edit may change.</summary>
    public WeekPeriod Copy() => (WeekPeriod)MemberwiseClone();

    /// <summary>Minutes since it began; NaN when it does not hold now.</summary>
    public double Since(DateTime local)
    {
        if (double.IsNaN(FromMinutes) || double.IsNaN(ToMinutes))
            return double.NaN;
        var now = local.TimeOfDay.TotalMinutes;
        var isOverMidnight = ToMinutes <= FromMinutes;
        if (BeginsOn(local.DayOfWeek) && now >= FromMinutes && (isOverMidnight || now < ToMinutes))
            return now - FromMinutes;
        var yesterday = (DayOfWeek)(((int)local.DayOfWeek + 6) % 7);
        return isOverMidnight && BeginsOn(yesterday) && now < ToMinutes ? now - FromMinutes + 1440 : double.NaN;
    }

    public bool BeginsOn(DayOfWeek day) => (Days & (1 << (int)day)) != 0;

    public static IReadOnlyList<Parameter<WeekPeriod>> Parameters { get; } =
    [
        new()
        {
            Key = "days", Quantity = Quantity.Text, DefaultText = "every-day", Audience = Audience.Household,
            Help = "days on which it begins: mon-fri, or sat, sun, or every-day",
            SetText = (p, v) => p.SetDays(v), GetText = p => p.DaysText,
        },
        new()
        {
            Key = "from", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "the period begins", Example = "06:00", GetNumber = p => p.FromMinutes, SetNumber = (p, v) => p.FromMinutes = v,
        },
        new()
        {
            Key = "to", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "the period ends; before the beginning means the next day", Example = "22:00", GetNumber = p => p.ToMinutes, SetNumber = (p, v) => p.ToMinutes = v,
        },
        new()
        {
            Key = "cool_above", Example = "23 °C", Quantity = Quantity.Temperature, Lowest = 18, Highest = 32, Audience = Audience.Household,
            Help = "cooled when warmer than this, in the period; without it the room's own", GetNumber = p => p.CoolAboveC, SetNumber = (p, v) => p.CoolAboveC = v,
        },
        new()
        {
            Key = "heat_below", Example = "21 °C", Quantity = Quantity.Temperature, Lowest = 5, Highest = 28, Audience = Audience.Household,
            Help = "heated when colder than this, in the period; without it the room's own", GetNumber = p => p.HeatBelowC, SetNumber = (p, v) => p.HeatBelowC = v,
        },
    ];

    private void SetDays(string text)
    {
        DaysText = text;
        Days = DayWords.TryRead(text, out var days, out _) ? days : (byte)0;   // none: the reader tells it, and meanwhile it never begins
    }
}
