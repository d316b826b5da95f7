// What a changed limit on a fan costs and gains, in minutes and decibels, for the household's answer. Estimates from default room data
// until measured data exist, and it says so. Never states what cannot be computed.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>Prices of changes.</summary>
public static class Price
{
    /// <summary>Lines on what a room's changed limits cost; empty when none changed.</summary>
    /// <param name="house">The house with the change.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="before">The room's settings before.</param>
    public static IEnumerable<string> Of(House house, int room, HouseholdRoom before)
    {
        var after = house.Rooms[room].Household;
        var any = false;
        if (Line(house, room, "fan", Recovery.Speed(house, room, before, before.FanAtMostPercent), Recovery.Speed(house, room, after, after.FanAtMostPercent)) is { } line)
        {
            any = true;
            yield return line;
        }
        var quietBefore = HasQuiet(before) ? Math.Min(before.FanAtMostPercent, before.QuietFanAtMostPercent) : before.FanAtMostPercent;
        var quietAfter = HasQuiet(after) ? Math.Min(after.FanAtMostPercent, after.QuietFanAtMostPercent) : after.FanAtMostPercent;
        var isQuietChange = HasQuiet(after) && (!HasQuiet(before) || before.QuietFanAtMostPercent != after.QuietFanAtMostPercent);
        if (isQuietChange && Line(house, room, "fan in quiet hours", Recovery.Speed(house, room, before, quietBefore), Recovery.Speed(house, room, after, quietAfter)) is { } quiet)
        {
            any = true;
            yield return quiet;
        }
        if (any)
            yield return Basis(house, room);
    }

    private static bool HasQuiet(HouseholdRoom room) => !double.IsNaN(room.QuietFromMinutes) && !double.IsNaN(room.QuietToMinutes);

    private static string? Line(House house, int room, string what, double before, double after)
    {
        if (before == after)
            return null;
        var minutes = Recovery.Minutes(house, room, after);
        var was = Recovery.Minutes(house, room, before);
        var text = $"{what} {Percent(before, house.Units)} → {Percent(after, house.Units)}: ";
        if (double.IsInfinity(minutes))
            return text + "the coil does not run at all: after the door stood open only the surface cools, and nothing dries the air";
        text += $"after the door stood open about {Round(minutes)} min" + (double.IsInfinity(was) ? "; before, the coil did not run" : $" instead of {Round(was)}");
        return double.IsInfinity(was) || Math.Abs(after - before) < 0.5 ? text : $"{text}; {Sound(house, room, before, after)}";
    }

    private static string Sound(House house, int room, double before, double after)
    {
        var change = Recovery.LouderDb(before, after);
        var text = string.Create(CultureInfo.InvariantCulture, $"about {Math.Abs(change):0} dB {(change < 0 ? "quieter" : "louder")}");
        var full = house.Coils.Where(coil => coil.Room == room).Max(coil => coil.Kind.SoundLevelDb);
        return double.IsNaN(full) ? text : string.Create(CultureInfo.InvariantCulture, $"{text} ({full + Recovery.LouderDb(100, after):0} dB at the ear)");
    }

    private static string Basis(House house, int room)
    {
        var settings = house.Rooms[room].Settings;
        var output = house.Coils.Where(coil => coil.Room == room).Sum(coil => coil.Kind.OutputW);
        return $"(an estimate from default room data in site.yaml, for the room has not been measured: coil {Show(output, Quantity.Power)} at full speed, "
            + $"floor {Show(settings.FloorAreaM2, Quantity.Area)}, heat capacity {Show(settings.AirCapacityKJPerK, Quantity.HeatCapacity)}; from {Show(Recovery.FromAboveK, Quantity.TemperatureDifference)} "
            + $"to {Show(Recovery.ToAboveK, Quantity.TemperatureDifference)} too warm, no sun and no people counted)";

        string Show(double value, Quantity quantity) => Quantities.ShowExactly(value, quantity, house.Units);
    }

    private static string Percent(double value, UnitSystem units) => Quantities.Show(value, Quantity.Percent, units);

    private static string Round(double minutes) => Math.Max(1, Math.Round(minutes)).ToString("0", CultureInfo.InvariantCulture);
}
