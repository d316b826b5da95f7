// Writes the household.yaml of a starting site: bands and limits as wished. Must never say anything the wish does not.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

internal static class HouseholdDraft
{
    public static string Of(EstimateWish wish)
    {
        var text = new StringBuilder("# What the household wants. One key a line; units as you say them: 24.5 °C, 76 °F, 35 %, 22:30.\nrooms:\n");
        foreach (var room in wish.Rooms)
        {
            text.Append($"  {room.Name}:\n");
            if (wish.File.IsCooled(room.Name))
                text.Append($"    cool_above: {Show(room.From.CoolAboveC, Quantity.Temperature)}\n");
            if (IsHeated(wish, room))
                text.Append($"    heat_below: {Show(room.From.HeatBelowC, Quantity.Temperature)}\n");
            if (!HasCoil(wish, room))
                continue;
            text.Append($"    fan_at_most: {Show(room.From.FanAtMostPercent, Quantity.Percent)}\n");
            if (double.IsFinite(room.NoiseAtMostDb))
                text.Append($"    noise_at_most: {Show(Noise(room.NoiseAtMostDb), Quantity.Level)}\n");
        }
        return text.ToString();
    }

    // With four pipes what is cooled hangs on cold water alone; coils hang on both.
    private static bool IsHeated(EstimateWish wish, WishedRoom room)
        => wish.File.Source.Heats && (HasCoil(wish, room) || room.Surfaces.Any(surface => !(wish.File.Source.IsFourPipe && surface.From.IsCooled)));

    /// <summary>A limit as a household may have it, dB(A): 15 to 60.</summary>
    internal static double Noise(double db) => Math.Clamp(db, 15, 60);

    private static bool HasCoil(EstimateWish wish, WishedRoom room) => room.Coils.Count > 0 || wish.Rooms.Any(other => other.Coils.Any(coil => coil.From.SharedWith == room.Name));

    private static string Show(double value, Quantity quantity) => Quantities.ShowExactly(value, quantity, UnitSystem.Metric);
}
