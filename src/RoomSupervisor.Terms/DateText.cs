// Reads and shows dates: 2027-02-06 and 2027-02-06 18:00, wall time of the site. Never guesses between day and month: 06/02/2027 is
// refused with both readings.
using System.Globalization;

namespace RoomSupervisor.Terms;

/// <summary>Dates as numbers: minutes of wall time since 1970-01-01 00:00, whatever the zone.</summary>
public static class DateText
{
    /// <summary>First date understood, 2020-01-01 00:00: nothing of this program is older.</summary>
    public static double Earliest { get; } = MinutesOf(new DateTime(2020, 1, 1));

    /// <summary>Last date understood, 2099-12-31 23:59.</summary>
    public static double Latest { get; } = MinutesOf(new DateTime(2099, 12, 31, 23, 59, 0));

    /// <summary>Minutes since 1970-01-01 00:00 of the same wall clock.</summary>
    public static double MinutesOf(DateTime local) => (local.Ticks - DateTime.UnixEpoch.Ticks) / (double)TimeSpan.TicksPerMinute;

    /// <summary>The wall time of a number of minutes. NaN and what lies outside the calendar of years 1 to 9999 is the last moment of it.</summary>
    public static DateTime TimeOf(double minutes)
        => minutes > -1e9 && minutes < 4e9 ? new DateTime(DateTime.UnixEpoch.Ticks).AddMinutes(minutes) : DateTime.MaxValue;

    /// <summary>Reads a date, with a time of day or (<see cref="Quantity.Date"/> only) without: then it is 00:00, when that day begins.</summary>
    /// <param name="clean">As typed, without odd spaces.</param>
    /// <param name="quantity"><see cref="Quantity.Date"/> or <see cref="Quantity.DateTime"/>.</param>
    /// <param name="minutes">Minutes since 1970-01-01, NaN on failure.</param>
    /// <param name="problem">What is wrong and what to write, empty on success.</param>
    public static bool TryRead(string clean, Quantity quantity, out double minutes, out string problem)
    {
        minutes = double.NaN;
        var (day, time) = Split(clean);
        if (!TryReadDay(day, out var date, out problem))
        {
            problem += time.Length == 0 && quantity == Quantity.DateTime ? ", with a time of day such as 22:00" : "";
            return false;
        }
        if (time.Length == 0 && quantity == Quantity.DateTime)
            return Refuse($"has no time of day: write it like {day} 22:00", out problem);
        var minute = 0.0;
        if (time.Length > 0 && !QuantityText.TryRead(time, Quantity.TimeOfDay, out minute, out problem))
        {
            problem = $"its time of day {problem}";
            return false;
        }
        minutes = MinutesOf(date) + minute;
        return true;
    }

    /// <summary>"2027-02-06", with its time where there is one or one is wanted: "2027-02-06 18:00".</summary>
    public static string Show(double minutes, Quantity quantity)
        => TimeOf(minutes).ToString(quantity == Quantity.Date && minutes % 1440 == 0 ? "yyyy-MM-dd" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    private static (string Day, string Time) Split(string clean)
    {
        var at = clean.IndexOf(' ', StringComparison.Ordinal);
        if (at < 0 && clean.Length > 11 && clean[10] is 'T' or 't')
            at = 10;
        return at < 0 ? (clean, "") : (clean[..at].TrimEnd(','), clean[(at + 1)..].Trim());
    }

    private static bool TryReadDay(string day, out DateTime date, out string problem)
    {
        date = default;
        problem = "";
        var parts = day.Split('-', '/', '.');
        var numbers = new int[3];
        for (var i = 0; i < 3; i++)
        {
            if (parts.Length != 3 || parts[i].Length is 0 or > 4 || !int.TryParse(parts[i], NumberStyles.None, CultureInfo.InvariantCulture, out numbers[i]))
                return Refuse("is not a date: write it like 2027-02-06 (year-month-day)", out problem);
        }
        if (parts[0].Length != 4)
            return Refuse($"is not a date: write {Readings(numbers[0], numbers[1], numbers[2])}", out problem);
        if (numbers[1] is < 1 or > 12)
            return Refuse($"has no month {numbers[1]}: write it like 2027-02-06 (year-month-day)", out problem);
        if (numbers[0] is < 2020 or > 2099)
            return Refuse("is out of range: years 2020 to 2099", out problem);
        var last = DateTime.DaysInMonth(numbers[0], numbers[1]);
        if (numbers[2] < 1 || numbers[2] > last)
            return Refuse($"is no day of the calendar: that month has {last}", out problem);
        date = new DateTime(numbers[0], numbers[1], numbers[2]);
        var proper = date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return day == proper || Refuse($"is not written as a date: write {proper}", out problem);
    }

    /// <summary>06/02/2027 is the sixth of February in one country and the second of June in another.</summary>
    private static string Readings(int first, int second, int year)
    {
        if (year < 100)
            year += 2000;
        var dayFirst = Reading(year, second, first);
        var monthFirst = Reading(year, first, second);
        return (dayFirst, monthFirst) switch
        {
            ({ } one, { } two) when one != two => $"{one} or {two} (year-month-day), whichever is meant",
            ({ } one, _) => one,
            (_, { } two) => two,
            _ => "it like 2027-02-06 (year-month-day)",
        };
    }

    private static string? Reading(int year, int month, int day)
        => year is >= 2020 and <= 2099 && month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month)
            ? string.Create(CultureInfo.InvariantCulture, $"{year}-{month:00}-{day:00}")
            : null;

    private static bool Refuse(string what, out string problem)
    {
        problem = what;
        return false;
    }
}
