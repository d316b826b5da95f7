// Days of the week as people write them: mon-fri, sat, sun, every-day. Never takes a word it does not know for a day.
namespace RoomSupervisor.Terms;

/// <summary>Sets of days: bit 0 is Sunday, as in <see cref="DayOfWeek"/>.</summary>
public static class DayWords
{
    /// <summary>Every day.</summary>
    public const byte All = 0x7F;

    private static readonly string[] Names = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];

    /// <summary>What may be written, in words.</summary>
    public const string Allowed = "mon, tue, wed, thu, fri, sat, sun, a range like mon-fri, several with commas, or every-day";

    /// <summary>Reads "mon-fri", "sat, sun", "fri-mon" (over the week's end), "every-day"; capitals and full names are understood.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="days">Set of days, 0 on failure.</param>
    /// <param name="wrong">The word that is none, empty on success.</param>
    public static bool TryRead(string text, out byte days, out string wrong)
    {
        days = 0;
        wrong = "";
        foreach (var part in text.Split([',', ';'], StringSplitOptions.TrimEntries))
        {
            if (!TryPart(part, out var some))
            {
                days = 0;
                wrong = part.Length == 0 ? text : part;
                return false;
            }
            days |= some;
        }
        return true;
    }

    /// <summary>The set as it is written: "mon-fri", "sat, sun", "every-day".</summary>
    public static string Show(byte days)
    {
        if ((days & All) == All)
            return "every-day";
        var parts = new List<string>();
        for (var i = 0; i < 7; i++)   // the week begins on Monday here
        {
            if (!Has(days, (i + 1) % 7))
                continue;
            var last = i;
            while (last < 6 && Has(days, (last + 2) % 7))
                last++;
            parts.Add(last - i >= 2 ? $"{Names[(i + 1) % 7]}-{Names[(last + 1) % 7]}" : Names[(i + 1) % 7]);
            i = last - i >= 2 ? last : i;
        }
        return string.Join(", ", parts);
    }

    private static bool Has(byte days, int day) => (days & (1 << day)) != 0;

    private static bool TryPart(string part, out byte days)
    {
        days = 0;
        var word = part.ToLowerInvariant().Replace('\u2013', '-').Replace(' ', '-');
        if (word is "every-day" or "everyday" or "daily" or "all")
            days = All;
        if (word is "weekdays")
            days = 0x3E;
        if (word is "weekend" or "weekends")
            days = 0x41;
        if (days != 0)
            return true;
        var ends = word.Split('-', StringSplitOptions.RemoveEmptyEntries);
        var from = ends.Length is 1 or 2 ? Day(ends[0]) : -1;
        var to = from < 0 ? -1 : Day(ends[^1]);
        if (to < 0)
            return false;
        for (var day = from; ; day = (day + 1) % 7)
        {
            days |= (byte)(1 << day);
            if (day == to)
                return true;
        }
    }

    /// <summary>Three letters or more of an English name of a day; −1 when it is none.</summary>
    private static int Day(string word)
        => word.Length < 3 ? -1 : Array.FindIndex(Names, name => word.StartsWith(name, StringComparison.Ordinal) && FullName(name).StartsWith(word, StringComparison.Ordinal));

    private static string FullName(string name) => name switch
    {
        "tue" => "tuesday",
        "wed" => "wednesday",
        "thu" => "thursday",
        "sat" => "saturday",
        _ => name + "day",
    };
}
