// Section 1, rule 8: a supply sensor that says what cannot be while its loop cools: warmer than its return, or far from what its mixing valve can make of
// source and return. It counts as missing until it agrees again or its loop has stood. Never doubts one while warm source water may be passing.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Readings;

/// <summary>Doubtful supply sensors.</summary>
internal static class SupplyDoubt
{
    /// <summary>
    /// How far the share of source water may be from the valve's stroke in mid-stroke (equal-percentage plugs and poor authority; common practice, no
    /// published source); nothing at the ends.
    /// </summary>
    private const double StrokeUnsure = 0.25;

    /// <summary>The rest doubles each time up to this, s: a loop is never lost for good, and a wrong sensor does not cool every quarter of an hour.</summary>
    private const double LongestRestS = 7200;

    /// <summary>Where nothing tells what the source makes, longer than a charge of hot water may last: 45 min (section 7) and the slug behind it, s.</summary>
    private const double UnknownSourceS = 3600;

    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            var loop = scan.House.Loops[i];
            ref var m = ref scan.Memory.Inputs[loop.Supply];
            if (m.Odd)
                MayBelieve(scan, i, loop, ref m);
            else
                MayDoubt(scan, i, loop, ref m);
        }
    }

    private static void MayDoubt(in Scan scan, int index, Loop loop, ref InputMemory m)
    {
        ref readonly var memory = ref scan.Memory.Loops[index];
        var difference = memory.Heats ? double.NaN : Difference(scan, index, loop, out m.OddWhy);
        Blocks.Hold(ref m.OddForS, difference > 0, scan.Dt);
        Blocks.Hold(ref m.AgreesForS, difference <= 0, scan.Dt);
        if (m.AgreesForS >= scan.Settings.SupplyDoubtedAfterS)
            m.OddRestS = 0;   // a good run: forgotten
        var known = SourceTells(scan, loop);
        // A loop of coils without a word from its source may rightly carry warm water: its coils look to that themselves.
        if (m.OddForS < scan.Settings.SupplyDoubtedAfterS || (!known && (loop.Serves == LoopServes.Coils || m.OddForS < UnknownSourceS)))
            return;
        m.Odd = m.IsOut = true;
        m.OddForS = 0;
        m.AgreesForS = 0;
        m.OddRestS = Math.Clamp(2 * m.OddRestS, scan.Settings.SupplyDoubtedAfterS, LongestRestS);
    }

    /// <summary>Back when it agrees for a while with water flowing, or when the pump has stood: what stands may be asked again.</summary>
    private static void MayBelieve(in Scan scan, int index, Loop loop, ref InputMemory m)
    {
        ref readonly var memory = ref scan.Memory.Loops[index];
        var difference = Difference(scan, index, loop, out _);
        Blocks.Hold(ref m.AgreesForS, difference <= 0 && !memory.Heats, scan.Dt);
        Blocks.Hold(ref m.OddForS, !memory.PumpOn, scan.Dt);
        if (m.AgreesForS < scan.Settings.SupplyDoubtedAfterS && m.OddForS < m.OddRestS && !memory.Heats)
            return;
        m.Odd = m.IsOut = false;
        m.OddForS = 0;
        m.AgreesForS = 0;
    }

    /// <summary>By how much the supply is outside what it can be, K; under 0 it agrees; NaN where nothing can be said.</summary>
    private static double Difference(in Scan scan, int index, Loop loop, out Reason why)
    {
        why = default;
        var supply = Doubt.Says(scan, loop.Supply);
        var back = scan.Reading(loop.Return);
        if (double.IsNaN(supply) || back.Quality != Quality.Good || !LoopWater.Flows(scan, index) || WarmPasses(scan, loop, back.Value))
            return double.NaN;
        why = Reason.Of(Cause.SupplyAboveReturn, supply, back.Value);
        var over = supply - back.Value - scan.Settings.SupplyAboveReturnK;
        var source = Delivered(scan, loop);
        if (over > 0 || source.Quality != Quality.Good || loop.Mixing < 0)
            return over;
        // A valve at 0 % whose leak nobody knows and one at 100 % are judged like any other: only with the source's own sensor.
        var share = scan.Memory.Loops[index].MixingPercent / 100;
        var estimate = source.Value * share + back.Value * (1 - share);
        var unsure = 4 * StrokeUnsure * share * (1 - share) * Math.Abs(back.Value - source.Value);
        why = Reason.Of(Cause.SupplyOffMixing, supply, estimate);
        return Math.Max(over, Math.Abs(supply - estimate) - scan.Settings.SupplyOffMixingK - unsure);
    }

    /// <summary>The water that comes to a loop's valve, where it is measured: a buffer stands between, and one that nobody reads leaves it unknown.</summary>
    private static Reading Delivered(in Scan scan, Loop loop)
        => loop.Source == 0 && scan.House.Buffer is not null && !Sources.BufferRules.IsRead(scan, 0) ? Reading.Never : Sources.SourceWater.Measured(scan, loop.Source);

    /// <summary>The source's water is no colder than the return, or it says that it makes something else: hot water, a defrost.</summary>
    private static bool WarmPasses(in Scan scan, Loop loop, double returned)
    {
        var source = scan.House.Sources[loop.Source];
        var water = Delivered(scan, loop);
        return (water.Exists && water.Value >= returned) || scan.IsMade(source.MakingHotWater) || scan.IsMade(source.Defrosting);
    }

    private static bool SourceTells(in Scan scan, Loop loop)
    {
        var source = scan.House.Sources[loop.Source];
        return Delivered(scan, loop).Exists || (scan.Reading(source.MakingHotWater).Exists && scan.Reading(source.Defrosting).Exists);
    }
}
