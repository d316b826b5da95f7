// A screed being heated up: which day it is, how much of that day has been held, what was found. Time passes only while the water is there, so that a power cut, a source that fails or a stopped pump costs no day:
// it goes on where it was. Pure: no clock, no file, nothing allocated in a step. Must never jump a day, and never ask for more than the day's water.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Screed;

/// <summary>How a programme stands.</summary>
public enum ScreedState : byte
{
    Running, Done, Ordered, GivenUp,
}

/// <summary>What was found on one day of a programme; times in s, temperatures in °C.</summary>
public struct ScreedDay
{
    /// <summary>When it began and when it was last looked at, ticks of universal time; 0: not yet.</summary>
    public long BegunTicks, LastTicks;
    /// <summary>What was held.</summary>
    public double SetC;
    /// <summary>How long the water was there, how long it was waited for, how long the controller was away.</summary>
    public double HeldS, WaitedS, OffS;
    /// <summary>How long a surface or the loop allowed less than the day's water.</summary>
    public double LimitedS;
    /// <summary>Supply while it flowed: coldest, warmest, and the sum for the mean.</summary>
    public double LowestC, HighestC, SumCS, SumS;
    /// <summary>Return while it flowed.</summary>
    public double ReturnSumCS, ReturnS;
    /// <summary>How often it stood still.</summary>
    public int Interruptions;

    public readonly double MeanC => SumS > 0 ? SumCS / SumS : double.NaN;

    public readonly double ReturnMeanC => ReturnS > 0 ? ReturnSumCS / ReturnS : double.NaN;
}

/// <summary>What a scan found on the loop.</summary>
/// <param name="Flows">The pump runs, nothing stops the loop and its water is warm water.</param>
/// <param name="SupplyC">Supply, °C; NaN: not read.</param>
/// <param name="ReturnC">Return, °C; NaN: not read.</param>
/// <param name="SetPointC">What the loop made of the wish: less where a limit holds, °C.</param>
/// <param name="Why">What binds pump or valve, for who asks why it stands.</param>
public readonly record struct ScreedSeen(bool Flows, double SupplyC, double ReturnC, double SetPointC, Reason Why);

/// <summary>What a scan brought.</summary>
public enum ScreedNews : byte
{
    Nothing, NextDay, Interrupted, GoesOn, Ended,
}

/// <summary>One programme on one loop.</summary>
/// <param name="loop">Id of the loop.</param>
/// <param name="plan">What is asked for.</param>
public sealed class ScreedRun(string loop, ScreedPlan plan)
{
    /// <summary>Length of a day, s.</summary>
    public const double DayLengthS = 86_400;

    /// <summary>Water this much under what is allowed still counts as held, K (project choice: a mixing valve's dead band and the swing of a machine).</summary>
    public const double ToleranceK = 3;

    /// <summary>Standing still for this long is told, s (project choice: longer than a defrost or a tank takes).</summary>
    public const double ToldAfterS = 3600;

    /// <summary>The first warming up of a day may take this long before that is told, s (project choice: a cold screed takes hours).</summary>
    public const double WarmUpS = 6 * 3600;

    /// <summary>Standing still for this long ends it: nobody is heating this screed, s.</summary>
    public const double GivenUpAfterS = 7 * DayLengthS;

    private readonly ScreedDay[] days = new ScreedDay[plan.Days];

    public string Loop { get; } = loop;

    public ScreedPlan Plan { get; } = plan;

    public ScreedState State { get; set; }

    /// <summary>Day, from 0; the number of days once it is done.</summary>
    public int Day { get; set; }

    /// <summary>How long it has stood still without a break, s.</summary>
    public double StandsForS { get; set; }

    /// <summary>True once standing still was told.</summary>
    public bool ToldStanding { get; set; }

    public DateTime BegunUtc { get; set; }

    /// <summary>When it was last looked at.</summary>
    public DateTime LastUtc { get; set; }

    /// <summary>Who began it, and who ended it.</summary>
    public string BegunBy { get; set; } = "";

    public string EndedBy { get; set; } = "";

    public Span<ScreedDay> Days => days;

    /// <summary>Supply that is asked of the loop now, °C; NaN: none.</summary>
    public double WantedC => State == ScreedState.Running && Day < days.Length ? Plan.SupplyC(Day) : double.NaN;

    /// <summary>The controller was away: nothing of the day was held meanwhile.</summary>
    /// <param name="awayS">For how long, s; NaN: nobody knows.</param>
    public void Away(double awayS)
    {
        if (State != ScreedState.Running)
            return;
        ref var day = ref days[Day];
        day.OffS += double.IsFinite(awayS) && awayS > 0 ? awayS : 0;
        day.Interruptions++;
    }

    /// <summary>One scan.</summary>
    /// <param name="seen">What it found.</param>
    /// <param name="dt">Its time, s; longer steps than a minute and a half count as one of that length.</param>
    /// <param name="utc">Now.</param>
    public ScreedNews Step(in ScreedSeen seen, double dt, DateTime utc)
    {
        if (State != ScreedState.Running)
            return ScreedNews.Nothing;
        dt = Math.Clamp(dt, 0, Sequence.Supervisor.LongestStepS);
        ref var day = ref days[Day];
        if (day.BegunTicks == 0)
            (day.BegunTicks, day.SetC, day.LowestC, day.HighestC) = (utc.Ticks, Plan.SupplyC(Day), double.NaN, double.NaN);
        (day.LastTicks, LastUtc) = (utc.Ticks, utc);
        Find(ref day, seen, dt);
        var allowed = Math.Min(day.SetC, seen.SetPointC);
        if (seen.Flows && seen.SupplyC >= allowed - ToleranceK)
            return Holds(ref day, seen, dt);
        day.WaitedS += dt;
        StandsForS += dt;
        if (StandsForS >= GivenUpAfterS)
        {
            State = ScreedState.GivenUp;
            return ScreedNews.Ended;
        }
        if (ToldStanding || StandsForS < (day.HeldS > 0 ? ToldAfterS : WarmUpS))
            return ScreedNews.Nothing;
        ToldStanding = true;
        day.Interruptions++;
        return ScreedNews.Interrupted;
    }

    /// <summary>Copies everything into another run of the same plan; allocates nothing.</summary>
    public void CopyTo(ScreedRun other)
    {
        days.CopyTo(other.days, 0);
        (other.State, other.Day, other.StandsForS, other.ToldStanding) = (State, Day, StandsForS, ToldStanding);
        (other.BegunUtc, other.LastUtc, other.BegunBy, other.EndedBy) = (BegunUtc, LastUtc, BegunBy, EndedBy);
    }

    private ScreedNews Holds(ref ScreedDay day, in ScreedSeen seen, double dt)
    {
        day.HeldS += dt;
        day.LimitedS += seen.SetPointC < day.SetC - 0.05 ? dt : 0;
        var told = ToldStanding;
        (StandsForS, ToldStanding) = (0, false);
        if (day.HeldS < DayLengthS)
            return told ? ScreedNews.GoesOn : ScreedNews.Nothing;
        Day++;
        if (Day < days.Length)
            return ScreedNews.NextDay;
        State = ScreedState.Done;
        return ScreedNews.Ended;
    }

    private static void Find(ref ScreedDay day, in ScreedSeen seen, double dt)
    {
        if (!seen.Flows || double.IsNaN(seen.SupplyC))
            return;
        day.LowestC = double.IsNaN(day.LowestC) ? seen.SupplyC : Math.Min(day.LowestC, seen.SupplyC);
        day.HighestC = double.IsNaN(day.HighestC) ? seen.SupplyC : Math.Max(day.HighestC, seen.SupplyC);
        (day.SumCS, day.SumS) = (day.SumCS + seen.SupplyC * dt, day.SumS + dt);
        if (!double.IsNaN(seen.ReturnC))
            (day.ReturnSumCS, day.ReturnS) = (day.ReturnSumCS + seen.ReturnC * dt, day.ReturnS + dt);
    }
}
