// The keys of a room's section in household.yaml, each with unit, limits, default and help. Declarations only: what they mean for a
// room is in Schedule and in the rules.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

public sealed partial class HouseholdRoom
{
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
            Key = "heat_below", Example = "20.5 °C", Quantity = Quantity.Temperature, Lowest = 5, Highest = 28, Audience = Audience.Household,
            Help = "the room is heated when it is colder than this; without it 20.5 °C, or 1 K under cool_above where that is lower",
            More = "Keep at least 1 K between heat_below and cool_above: closer together, a room would be heated and cooled by turns.",
            GetNumber = r => r.heatBelow, SetNumber = (r, v) => r.heatBelow = v,
        },
        new()
        {
            Key = "fan_at_most", Quantity = Quantity.Percent, Default = 100, Lowest = 0, Highest = 100, Audience = Audience.Household,
            Help = "the fan never turns faster than this share of its full speed; 0 % means never",
            GetNumber = r => r.FanAtMostPercent, SetNumber = (r, v) => r.FanAtMostPercent = v,
        },
        new()
        {
            Key = "noise_at_most", Example = "35 dB", Quantity = Quantity.Level, Lowest = 15, Highest = 60, Audience = Audience.Household,
            Help = "the fan is never louder than this at the ear (needs the coil's sound data)",
            GetNumber = r => r.NoiseAtMostDb, SetNumber = (r, v) => r.NoiseAtMostDb = v,
        },
        new()
        {
            Key = "start_early_at_most", Example = "2 h", Quantity = Quantity.Duration, Default = 0, Lowest = 0, Highest = 6 * 3600, Audience = Audience.Household,
            Help = "so long before a period of its week the room may begin, so that it is as wanted when the period begins; 0 s: it begins with the period",
            More = "How long ahead is worked out each time from how far the room is away and from what its earlier starts took. Quiet hours and every limit on the fan hold meanwhile.",
            GetNumber = r => r.StartEarlyAtMostS, SetNumber = (r, v) => r.StartEarlyAtMostS = v,
        },
    ];

    /// <summary>Keys of the <c>quiet</c> group inside it.</summary>
    public static IReadOnlyList<Parameter<HouseholdRoom>> QuietParameters { get; } =
    [
        new()
        {
            Key = "from", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "quiet hours begin", Example = "20:30",
            GetNumber = r => r.QuietFromMinutes, SetNumber = (r, v) => r.QuietFromMinutes = v,
        },
        new()
        {
            Key = "to", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Help = "quiet hours end; before the beginning means the next day", Example = "07:30",
            GetNumber = r => r.QuietToMinutes, SetNumber = (r, v) => r.QuietToMinutes = v,
        },
        new()
        {
            Key = "fan_at_most", Quantity = Quantity.Percent, Default = 20, Lowest = 0, Highest = 100, Audience = Audience.Household,
            Help = "the fan never turns faster than this in quiet hours",
            GetNumber = r => r.QuietFanAtMostPercent, SetNumber = (r, v) => r.QuietFanAtMostPercent = v,
        },
    ];

    /// <summary>Keys of the <c>noise_allowance</c> group inside it.</summary>
    public static IReadOnlyList<Parameter<HouseholdRoom>> AllowanceParameters { get; } =
    [
        new()
        {
            Key = "until", Quantity = Quantity.TimeOfDay, Lowest = 0, Highest = 1439, Required = true, Audience = Audience.Household,
            Example = "22:00",
            Help = "quiet hours begin only at this time of the evening; the room's own fan_at_most and noise_at_most stay",
            More = "Holds every evening as long as it stands in the file. It must lie within quiet hours.",
            GetNumber = r => r.NoiseAllowedUntilMinutes, SetNumber = (r, v) => r.NoiseAllowedUntilMinutes = v,
        },
    ];
}
