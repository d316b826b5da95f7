// Times as people type them: how far back, and a moment of the site's clock. Words only; never asks what time it is.
using System.Globalization;

namespace RoomSupervisor.Verbs;

internal static class TimeWords
{
    /// <summary>How far back: 90min, 24h, 7d, 8w, 1y; from a minute to ten years.</summary>
    public static bool TrySpan(string text, out TimeSpan span)
    {
        span = default;
        var digits = text.TakeWhile(char.IsAsciiDigit).Count();
        if (digits is 0 or > 6 || !int.TryParse(text.AsSpan(0, digits), NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            return false;
        var minutes = text[digits..].Trim() switch
        {
            "min" => number,
            "h" => number * 60L,
            "d" => number * 1440L,
            "w" => number * 7 * 1440L,
            "y" => number * 365 * 1440L,
            _ => 0,
        };
        span = TimeSpan.FromMinutes(minutes);
        return minutes is > 0 and <= 10 * 365 * 1440;
    }

    /// <summary>A moment of the site's clock: 2026-07-14, 2026-07-14T16:00, or 16:00, the last one before <paramref name="nowUtc"/>.</summary>
    public static bool TryMoment(string text, TimeZoneInfo zone, DateTime nowUtc, out DateTime utc)
    {
        utc = nowUtc;
        if (DateTime.TryParseExact(text, ["yyyy-MM-dd", "yyyy-MM-ddTHH:mm", "yyyy-MM-dd HH:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var local))
        {
            utc = ToUtc(local, zone);
            return true;
        }
        if (!TimeOnly.TryParseExact(text, ["H:mm", "HH:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var clock))
            return false;
        local = TimeZoneInfo.ConvertTimeFromUtc(nowUtc, zone).Date + clock.ToTimeSpan();
        utc = ToUtc(local, zone);
        if (utc > nowUtc)
            utc = ToUtc(local.AddDays(-1), zone);
        return true;
    }

    /// <summary>An hour that does not exist in spring is the one after it.</summary>
    private static DateTime ToUtc(DateTime local, TimeZoneInfo zone) => TimeZoneInfo.ConvertTimeToUtc(zone.IsInvalidTime(local) ? local.AddHours(1) : local, zone);
}
