// What the household may say of one room, in household.yaml. Filled by the site reader or a settings edit; never changed once a
// House holds it (an edit makes a copy).
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A room's section in household.yaml.</summary>
public sealed class HouseholdRoom
{
    /// <summary>False: the room is switched off (fan 0, valves shut); protection goes on.</summary>
    public bool Control { get; private set; } = true;

    /// <summary>Cooling set point, °C.</summary>
    public double CoolAboveC { get; private set; } = 24;

    /// <summary>Highest fan speed the household wants, % of full speed; 0 means never.</summary>
    public double FanAtMostPercent { get; private set; } = 100;

    /// <summary>Highest fan sound at the ear, dB(A); NaN: none asked.</summary>
    public double NoiseAtMostDb { get; private set; } = double.NaN;

    /// <summary>Start of quiet hours, minutes of the day; NaN: no quiet hours.</summary>
    public double QuietFromMinutes { get; private set; } = double.NaN;

    /// <summary>End of quiet hours, minutes of the day; NaN: no quiet hours.</summary>
    public double QuietToMinutes { get; private set; } = double.NaN;

    /// <summary>Highest fan speed in quiet hours, % of full speed.</summary>
    public double QuietFanAtMostPercent { get; private set; } = 20;

    /// <summary>True when quiet hours are set and it is now one of them; quiet hours may run over midnight.</summary>
    public bool IsQuiet(DateTime local)
    {
        if (double.IsNaN(QuietFromMinutes) || double.IsNaN(QuietToMinutes))
            return false;
        var now = local.TimeOfDay.TotalMinutes;
        return QuietFromMinutes <= QuietToMinutes
            ? now >= QuietFromMinutes && now < QuietToMinutes
            : now >= QuietFromMinutes || now < QuietToMinutes;
    }

    /// <summary>A copy that an edit may change.</summary>
    public HouseholdRoom Copy() => (HouseholdRoom)MemberwiseClone();

    /// <summary>Keys of the room's own section.</summary>
    public static IReadOnlyList<Parameter<HouseholdRoom>> Parameters { get; } =
    [
        new()
        {
            Key = "control", Quantity = Quantity.Switch, Default = 1, Audience = Audience.Household,
            Help = "off switches the room off; frost and condensation protection go on",
            GetNumber = r => r.Control ? 1 : 0, SetNumber = (r, v) => r.Control = v > 0.5,
        },
        new()
        {
            Key = "cool_above", Quantity = Quantity.Temperature, Default = 24, Lowest = 18, Highest = 32, Audience = Audience.Household,
            Help = "the room is cooled when it is warmer than this",
            GetNumber = r => r.CoolAboveC, SetNumber = (r, v) => r.CoolAboveC = v,
        },
        new()
        {
            Key = "fan_at_most", Quantity = Quantity.Percent, Default = 100, Lowest = 0, Highest = 100, Audience = Audience.Household,
            Help = "the fan never turns faster than this share of its full speed; 0 % means never",
            GetNumber = r => r.FanAtMostPercent, SetNumber = (r, v) => r.FanAtMostPercent = v,
        },
        new()
        {
            Key = "noise_at_most", Quantity = Quantity.Level, Lowest = 15, Highest = 60, Audience = Audience.Household,
            Help = "the fan is never louder than this at the ear (needs the coil's sound data)",
            GetNumber = r => r.NoiseAtMostDb, SetNumber = (r, v) => r.NoiseAtMostDb = v,
        },
    ];

    /// <summary>Keys of the <c>quiet</c> group inside it.</summary>
    public static IReadOnlyList<Parameter<HouseholdRoom>> QuietParameters { get; } =
    [
        new()
        {
            Key = "from", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "quiet hours begin",
            GetNumber = r => r.QuietFromMinutes, SetNumber = (r, v) => r.QuietFromMinutes = v,
        },
        new()
        {
            Key = "to", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "quiet hours end; before the beginning means the next day",
            GetNumber = r => r.QuietToMinutes, SetNumber = (r, v) => r.QuietToMinutes = v,
        },
        new()
        {
            Key = "fan_at_most", Quantity = Quantity.Percent, Default = 20, Lowest = 0, Highest = 100, Audience = Audience.Household,
            Help = "the fan never turns faster than this in quiet hours",
            GetNumber = r => r.QuietFanAtMostPercent, SetNumber = (r, v) => r.QuietFanAtMostPercent = v,
        },
    ];
}
