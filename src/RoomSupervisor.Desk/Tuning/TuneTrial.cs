// Tries proposed values in the virtual house on seeds the test never saw: how far the true water is from its set point while the valve mixes, with the old values and with the new. Must never try on the seed of the test.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>One seed, with the old values and with the new.</summary>
/// <param name="Seed">The seed.</param>
/// <param name="BeforeK">Root mean square of set point less true water while it mixed, K.</param>
/// <param name="AfterK">The same with the proposed values.</param>
/// <param name="BeforeStrokes">Strokes of the valve.</param>
/// <param name="AfterStrokes">The same with the proposed values.</param>
public readonly record struct TriedSeed(ulong Seed, double BeforeK, double AfterK, double BeforeStrokes, double AfterStrokes);

/// <summary>Trials.</summary>
public static class TuneTrial
{
    /// <summary>A valve that has just begun is not judged, s.</summary>
    private const double BegunS = 300;

    /// <summary>Plays seeds.</summary>
    /// <param name="plan">What is played.</param>
    /// <param name="siteText">Text of its site.yaml.</param>
    /// <param name="householdText">Text of its household.yaml; null: none.</param>
    /// <param name="loop">Index of the loop.</param>
    /// <param name="values">What is proposed.</param>
    /// <param name="seeds">Seeds that are not the test's.</param>
    /// <param name="hours">Length of each.</param>
    public static IReadOnlyList<TriedSeed> Play(RehearsalPlan plan, string siteText, string? householdText, int loop, IReadOnlyList<TunedValue> values, IReadOnlyList<ulong> seeds, double hours)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(seeds);
        if (seeds.Contains(plan.Seed))
            throw new ArgumentException($"seed {plan.Seed} is the test's own", nameof(seeds));
        var text = siteText;
        foreach (var value in values)
        {
            if (!SiteEdit.TrySet(text, value.Path, value.After, "", out text, out var why))
                throw new ArgumentException(why, nameof(values));
        }
        var files = SiteReader.Read(text, householdText, Drivers.All).Files ?? throw new ArgumentException("the site with the proposed values is not sound", nameof(values));
        return [.. seeds.Select(seed =>
        {
            var (before, after) = (One(plan with { Seed = seed }, loop, hours), One(plan with { Seed = seed, Files = files }, loop, hours));
            return new TriedSeed(seed, before.RootK, after.RootK, before.Strokes, after.Strokes);
        })];
    }

    /// <summary>The trials as lines for people.</summary>
    public static IReadOnlyList<string> Lines(IReadOnlyList<TriedSeed> tried) =>
    [
        .. tried.Select(one => string.Create(CultureInfo.InvariantCulture,
            $"seed {one.Seed}: water off its set point by {one.BeforeK:0.000} K before, {one.AfterK:0.000} K after (root mean square); {one.BeforeStrokes:0.0} and {one.AfterStrokes:0.0} strokes of the valve")),
    ];

    private static (double RootK, double Strokes) One(RehearsalPlan plan, int loop, double hours)
    {
        using var run = new Rehearsal.Rehearsal(plan);
        var (sum, count, strokes, was) = (0.0, 0L, 0.0, double.NaN);
        while (!run.IsOver && run.ElapsedS < hours * 3600)
        {
            run.Step();
            if (run.Controller is not { } controller)
                continue;
            ref readonly var m = ref controller.Memory.Loops[loop];
            strokes += double.IsNaN(was) ? 0 : Math.Abs(m.MixingPercent - was) / 100;
            was = m.MixingPercent;
            if (!m.PumpOn || m.MixesForS < BegunS)
                continue;
            var off = run.Run.Plant.Loops[loop].SupplyC - m.SetPointC;
            (sum, count) = (sum + off * off, count + 1);
        }
        return (count > 0 ? Math.Sqrt(sum / count) : double.NaN, strokes);
    }
}
