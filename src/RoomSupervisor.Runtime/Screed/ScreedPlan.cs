// What the screed maker's sheet asks for: days and supply temperatures, when the screed was laid and what it is. Reads it as typed and says what is wrong with it. Decides nothing of its own: the sheet and the
// licensed trade do. Must never accept warmer water than the loop may have.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Screed;

/// <summary>What a screed is bound with.</summary>
public enum ScreedKind : byte
{
    Cement, Anhydrite,
}

/// <summary>Days at one supply temperature.</summary>
/// <param name="Days">1 to 60.</param>
/// <param name="SupplyC">15 to 60 °C, never over the loop's <c>heating_warmest</c>.</param>
public readonly record struct ScreedStep(int Days, double SupplyC);

/// <summary>A heat-up programme.</summary>
/// <param name="Steps">Its steps, in order.</param>
/// <param name="Kind">What the screed is.</param>
/// <param name="Laid">Day on which it was laid, by the site's calendar.</param>
/// <param name="Sheet">Name of the sheet, for the record.</param>
public sealed record ScreedPlan(IReadOnlyList<ScreedStep> Steps, ScreedKind Kind, DateOnly Laid, string Sheet)
{
    /// <summary>Days before it may be heated at the earliest: EN 1264-4, cement 21, anhydrite 7 unless its maker says otherwise (from memory).</summary>
    public static int RestDays(ScreedKind kind) => kind == ScreedKind.Cement ? 21 : 7;

    /// <summary>The least EN 1264-4 asks for (from memory): three days at 20 to 25 °C, then four at the warmest the loop is designed for.</summary>
    public static IReadOnlyList<ScreedStep> Least(double warmestC) => [new(3, Math.Min(25, warmestC)), new(4, warmestC)];

    private const int MostDays = 60;

    private const double ColdestC = 15, WarmestC = 60;

    /// <summary>Days of all steps together.</summary>
    public int Days { get; } = Steps.Sum(step => step.Days);

    /// <summary>Supply of a day, °C.</summary>
    /// <param name="day">From 0.</param>
    public double SupplyC(int day)
    {
        foreach (var step in Steps)
        {
            if (day < step.Days)
                return step.SupplyC;
            day -= step.Days;
        }
        return double.NaN;
    }

    /// <summary>Reads steps: "3d 25 °C, 4d 45 °C"; a step a comma, semicolon or line.</summary>
    /// <param name="text">As typed, or a sheet's lines; what stands behind # is a remark.</param>
    /// <param name="units">Units of figures without one.</param>
    /// <param name="steps">The steps.</param>
    /// <param name="why">What is wrong and what is allowed.</param>
    public static bool TryRead(string text, UnitSystem units, out IReadOnlyList<ScreedStep> steps, out string why)
    {
        List<ScreedStep> found = [];
        (steps, why) = (found, "");
        foreach (var line in text.Split('\n', '\r', ',', ';').Select(part => part.Split('#')[0].Trim()).Where(part => part.Length > 0))
        {
            var end = line.IndexOfAny(['d', 'D']);
            var rest = end < 0 ? "" : line[(end + 1)..].TrimStart('a', 'y', 's', ' ', ':');
            if (end < 0 || !int.TryParse(line[..end].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var days) || days is < 1 or > MostDays)
                return Refuse($"\"{line}\": how many days? allowed: 1 to {MostDays} and a supply temperature; write 3d 25 °C", out why);
            if (!QuantityText.TryRead(rest, Quantity.Temperature, units, out var supply, out var wrong))
                return Refuse($"\"{line}\": {wrong}; write 3d 25 °C", out why);
            if (!(supply >= ColdestC && supply <= WarmestC))
                return Refuse($"\"{line}\": a supply of {Quantities.Show(supply, Quantity.Temperature, units)} heats up no screed; allowed: {Quantities.Show(ColdestC, Quantity.Temperature, units)} to {Quantities.Show(WarmestC, Quantity.Temperature, units)}", out why);
            found.Add(new ScreedStep(days, supply));
        }
        if (found.Count == 0)
            return Refuse("no step: days and supply temperature, such as \"3d 25 °C, 4d 45 °C\"", out why);
        return found.Sum(step => step.Days) <= MostDays || Refuse($"{found.Sum(step => step.Days)} days together; allowed: at most {MostDays}", out why);
    }

    /// <summary>Why it may not begin on a loop today; null: it may.</summary>
    /// <param name="house">The house.</param>
    /// <param name="loop">The loop.</param>
    /// <param name="today">The day, by the site's calendar.</param>
    /// <param name="sheetAllowsAfterDays">What the maker's sheet says in writing of the rest after laying, days; −1: nothing, the standard's holds.</param>
    public string? WhyNot(House house, int loop, DateOnly today, int sheetAllowsAfterDays = -1)
    {
        var part = house.Loops[loop];
        if (Held.WhyNot(part) is { } never)
            return $"{part.Id}: {never}";
        var warmest = part.Settings.HeatingWarmestC(part.Serves);
        if (Steps.FirstOrDefault(step => step.SupplyC > warmest + 1e-9) is { Days: > 0 } hot)
            return $"{part.Id}: {Show(hot.SupplyC)} is warmer than this loop's water may ever be; allowed: up to {Show(warmest)} (loops.{part.Id}.heating_warmest in site.yaml, and the high limit behind it)";
        var rest = sheetAllowsAfterDays >= 0 ? sheetAllowsAfterDays : RestDays(Kind);
        var age = today.DayNumber - Laid.DayNumber;
        if (age < 0)
            return $"laid on {Laid:yyyy-MM-dd} is in the future";
        return age >= rest ? null
            : $"the screed is {age} days old; allowed: from {rest} days on ({Laid.AddDays(rest):yyyy-MM-dd}); EN 1264-4 asks {RestDays(Kind)} days of {(Kind == ScreedKind.Cement ? "cement" : "anhydrite")} screed; "
                + "where the maker's sheet says less in writing, say so with --sheet-allows-after DAYS";

        string Show(double celsius) => Quantities.Show(celsius, Quantity.Temperature, house.Units);
    }

    private static bool Refuse(string reason, out string why)
    {
        why = reason;
        return false;
    }
}
