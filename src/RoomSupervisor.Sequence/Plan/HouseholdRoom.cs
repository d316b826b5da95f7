// What the household may say of one room, in household.yaml. Filled by the site reader or a settings edit; never changed once a
// House holds it (an edit makes a copy). What may be written and its limits stand in HouseholdRoom.Keys.cs.
using System.Collections.Immutable;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A room's section in household.yaml, with the house's absence.</summary>
public sealed partial class HouseholdRoom
{
    /// <summary>Smallest dead band between cooling and heating, K: less, and a room would heat and cool by turns.</summary>
    public const double DeadBandK = 1;

    /// <summary>Heating set point where nobody wrote one, °C, or a dead band under cool_above where that is lower.</summary>
    public const double UsualHeatBelowC = 20.5;

    /// <summary>As written; NaN: nobody wrote it.</summary>
    private double heatBelow = double.NaN;

    /// <summary>False: the room is switched off (fan 0, valves shut); protection goes on.</summary>
    public bool Control { get; private set; } = true;

    /// <summary>Cooling set point outside periods, °C. What holds now: <see cref="Schedule.Now"/>.</summary>
    public double CoolAboveC { get; private set; } = 24;

    /// <summary>Heating set point outside periods, °C.</summary>
    public double HeatBelowC => Heat(heatBelow, CoolAboveC);

    /// <summary>True when the household wrote heat_below itself.</summary>
    public bool IsHeatBelowWritten => !double.IsNaN(heatBelow);

    /// <summary>Highest fan speed the household wants, % of full speed; 0 means never.</summary>
    public double FanAtMostPercent { get; private set; } = 100;

    /// <summary>Highest fan sound at the ear, dB(A); NaN: none asked.</summary>
    public double NoiseAtMostDb { get; private set; } = double.NaN;

    /// <summary>How long before a weekly period with a stricter temperature the room may begin, so that it is as wanted when the period begins, s; 0: it begins with the period.</summary>
    public double StartEarlyAtMostS { get; private set; }

    /// <summary>True where the household lets the room begin ahead, and there is a week to begin ahead of.</summary>
    public bool MayStartEarly => StartEarlyAtMostS > 0 && Week.Length > 0;

    /// <summary>Start of quiet hours, minutes of the day; NaN: no quiet hours.</summary>
    public double QuietFromMinutes { get; private set; } = double.NaN;

    /// <summary>End of quiet hours, minutes of the day; NaN: no quiet hours.</summary>
    public double QuietToMinutes { get; private set; } = double.NaN;

    /// <summary>Highest fan speed in quiet hours, % of full speed.</summary>
    public double QuietFanAtMostPercent { get; private set; } = 20;

    /// <summary>Quiet hours are lifted from their beginning until this minute of the day; NaN: they are not.</summary>
    public double NoiseAllowedUntilMinutes { get; private set; } = double.NaN;

    /// <summary>Weekly periods in the order written.</summary>
    public ImmutableArray<WeekPeriod> Week { get; private set; } = [];

    /// <summary>A wish that ends by itself, or null.</summary>
    public OnceWish? Once { get; private set; }

    /// <summary>The house's absence, the same in every room, or null.</summary>
    public Absence? Absence { get; private set; }

    /// <summary>True when quiet hours are set, it is now one of them and no allowance lifts them; quiet hours may run over midnight.</summary>
    public bool IsQuiet(DateTime local)
    {
        if (double.IsNaN(QuietFromMinutes) || double.IsNaN(QuietToMinutes))
            return false;
        var since = AfterQuietBegan(local.TimeOfDay.TotalMinutes);
        if (since >= AfterQuietBegan(QuietToMinutes))
            return false;
        return double.IsNaN(NoiseAllowedUntilMinutes) || since >= AfterQuietBegan(NoiseAllowedUntilMinutes);
    }

    /// <summary>Minutes until quiet hours begin, or until the allowance in them ends; 0 while they hold; NaN: they never begin.</summary>
    public double MinutesToQuiet(DateTime local)
    {
        if (double.IsNaN(QuietFromMinutes) || double.IsNaN(QuietToMinutes))
            return double.NaN;
        if (IsQuiet(local))
            return 0;
        var begin = QuietBeginsMinutes;
        return double.IsNaN(begin) ? double.NaN : (begin - local.TimeOfDay.TotalMinutes + 1440) % 1440;
    }

    /// <summary>Minute of the day from which quiet hours hold, the allowance counted; NaN: they never do.</summary>
    public double QuietBeginsMinutes
        => QuietFromMinutes == QuietToMinutes ? double.NaN
        : double.IsNaN(NoiseAllowedUntilMinutes) || NoiseAllowedUntilMinutes == QuietFromMinutes ? QuietFromMinutes
        : AllowanceFits ? NoiseAllowedUntilMinutes : double.NaN;

    /// <summary>True when the noise allowance ends within quiet hours: else it lifts nothing, or everything.</summary>
    public bool AllowanceFits => AfterQuietBegan(NoiseAllowedUntilMinutes) > 0 && AfterQuietBegan(NoiseAllowedUntilMinutes) < AfterQuietBegan(QuietToMinutes);

    /// <summary>A heating set point as it holds beside a cooling set point, °C.</summary>
    /// <param name="written">As written, °C; NaN: nobody wrote one, and it keeps out of the way.</param>
    /// <param name="coolAboveC">Cooling set point beside it, °C.</param>
    internal static double Heat(double written, double coolAboveC)
        => Math.Min(double.IsNaN(written) ? UsualHeatBelowC : written, coolAboveC - DeadBandK);

    /// <summary>A copy that an edit may change.</summary>
    public HouseholdRoom Copy() => (HouseholdRoom)MemberwiseClone();

    public HouseholdRoom WithWeek(ImmutableArray<WeekPeriod> week) => Changed(copy => copy.Week = week);

    public HouseholdRoom WithOnce(OnceWish? once) => Changed(copy => copy.Once = once);

    public HouseholdRoom WithAbsence(Absence? absence) => Changed(copy => copy.Absence = absence);

    internal double WrittenHeatBelowC => heatBelow;

    private double AfterQuietBegan(double minutes) => (minutes - QuietFromMinutes + 1440) % 1440;

    private HouseholdRoom Changed(Action<HouseholdRoom> change)
    {
        var copy = Copy();
        change(copy);
        return copy;
    }
}
