// Which part of a run is drawn, and where its days and hours lie in local time. Must never hide that it left something out.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Desk.Report;

/// <summary>A stretch of samples.</summary>
/// <param name="First">Number of the first sample.</param>
/// <param name="Count">Number of samples.</param>
internal readonly record struct Stretch(int First, int Count)
{
    internal int End => First + Count;
}

/// <summary>Days of a run.</summary>
internal sealed class RunWindow
{
    /// <summary>Longer runs are drawn three days around the hottest.</summary>
    private const int MostDays = 3;

    internal RunWindow(RunRecord run)
    {
        Run = run;
        Samples = run.Outdoor.AirC.Length;
        var all = DaysOf(new Stretch(0, Samples));
        IsCooling = run.Loops.Any(loop => loop.Cools.Any(cools => cools)) || run.Outdoor.AirC.Any(air => air >= 24);
        var extreme = all.Count == 0 ? default : IsCooling ? all.MaxBy(day => Peak(day, highest: true)) : all.MinBy(day => Peak(day, highest: false));
        ChosenDay = extreme;
        var at = all.IndexOf(extreme);
        var from = Math.Clamp(at - 1, 0, Math.Max(all.Count - MostDays, 0));
        Days = all.Count <= MostDays ? all : all.GetRange(from, MostDays);
        IsPart = Days.Count < all.Count;
        All = Days.Count == 0 ? default : new Stretch(Days[0].First, Days[^1].End - Days[0].First);
    }

    internal RunRecord Run { get; }

    /// <summary>Samples of the whole run.</summary>
    internal int Samples { get; }

    /// <summary>What is drawn.</summary>
    internal Stretch All { get; }

    /// <summary>The same by local days; the first and last may be short.</summary>
    internal List<Stretch> Days { get; }

    /// <summary>The hottest day of a cooling run, the coldest of a heating one.</summary>
    internal Stretch ChosenDay { get; }

    /// <summary>The run is about cooling.</summary>
    internal bool IsCooling { get; }

    /// <summary>Some days are not drawn.</summary>
    internal bool IsPart { get; }

    /// <summary>Local time of a sample, which need not be whole.</summary>
    internal DateTime Local(double sample) => TimeZoneInfo.ConvertTime(Run.StartUtc.AddSeconds(sample * Run.EveryS), Run.Zone).DateTime;

    /// <summary>"14:10".</summary>
    internal string Clock(double sample) => Local(sample).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"Tuesday 16 July".</summary>
    internal string Day(double sample) => Local(sample).ToString("dddd d MMMM", CultureInfo.InvariantCulture);

    /// <summary>Samples in a number of hours.</summary>
    internal double SamplesOfHours(double hours) => hours * 3600 / Run.EveryS;

    /// <summary>Hours of a number of samples.</summary>
    internal double Hours(double samples) => samples * Run.EveryS / 3600;

    private double Peak(Stretch day, bool highest)
    {
        var air = Run.Outdoor.AirC.Skip(day.First).Take(day.Count).Where(float.IsFinite).DefaultIfEmpty(highest ? -99 : 99);
        return highest ? air.Max() : air.Min();
    }

    private List<Stretch> DaysOf(Stretch whole)
    {
        var days = new List<Stretch>();
        for (int first = whole.First, i = whole.First + 1; i <= whole.End; i++)
        {
            if (i < whole.End && Local(i).Date == Local(first).Date)
                continue;
            days.Add(new Stretch(first, i - first));
            first = i;
        }
        return days;
    }
}
