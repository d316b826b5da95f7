// Section 7: the water a source is asked for: that of the most demanding loop, of the tank while it is charged, or what fills the buffer. Never colder than
// an evaporator with plain water bears.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Set point of a source.</summary>
internal static class SourceSetPoint
{
    /// <summary>Coldest water ever asked for, °C: plain water freezes in an evaporator under it (common practice, no published source).</summary>
    public const double ColdestC = 5;

    /// <summary>Asked while nobody asks: the mildest water of the season, and the call is off, °C.</summary>
    private const double MildColdC = 15, MildWarmC = 30;

    /// <summary>
    /// The water the most demanding loop wants, °C; NaN: nobody wants any. While rooms wait to be dried, and while one stands open that will be pulled down, the coldest of a coil loop: by the time the door shuts water of mild set
    /// points would be none to pull down with. Not where open surfaces without a mixing valve would be isolated for it; and a heated room with its door open has what its loops have anyway: hotter water would cost more than it gains.
    /// </summary>
    public static double Wanted(in Scan scan, Source source, in SourceMemory m)
    {
        var wanted = double.NaN;
        var coils = (m.Drying.Granted && m.Drying.Wishing > 0) || (m.OpeningsAsk > 0 && !m.Heats && !FeedsSurfaces(scan, source));
        foreach (var i in source.Loops)
        {
            ref readonly var loop = ref scan.Memory.Loops[i];
            var coldest = coils && scan.House.Loops[i] is { Serves: LoopServes.Coils, Cools: true };
            if (loop.Heats != m.Heats || !(coldest || (loop.HasSetPoint && loop.Asked)))
                continue;
            var set = coldest ? scan.House.Loops[i].ColdestC : loop.SetPointC;
            wanted = double.IsNaN(wanted) ? set : m.Heats ? Math.Max(wanted, set) : Math.Min(wanted, set);
        }
        return wanted;
    }

    /// <summary>True while surfaces get its water as it is.</summary>
    private static bool FeedsSurfaces(in Scan scan, Source source)
    {
        foreach (var i in source.DirectLoops)
        {
            if (scan.House.Loops[i].Serves == LoopServes.Surfaces && scan.Memory.Loops[i].Asked)
                return true;
        }
        return false;
    }

    /// <summary>The same where nobody wants any: the mildest, °C.</summary>
    public static double OrMild(in SourceMemory m) => double.IsNaN(m.WantedC) ? (m.Heats ? MildWarmC : MildColdC) : m.WantedC;

    /// <summary>
    /// A boiler without a buffer, all of whose loops mix, is asked for more while it runs: between that and what starts it again lies a longer run, and fewer starts. Not a heat pump, which would pay for it.
    /// </summary>
    private const double BoilerBeyondK = 4;

    private static double BeyondK(in Scan scan, int index, in SourceMemory m)
    {
        var source = scan.House.Sources[index];
        return m is { Runs: true, Calling: true, Heats: true } && source.Type == SourceType.Boiler && source.DirectLoops.Length == 0 && !BufferRules.IsRead(scan, index) ? BoilerBeyondK : 0;
    }

    public static Command Of(in Scan scan, int index, in SourceMemory m)
    {
        if (m.HotWater.Phase == HotWaterPhase.Charging)
        {
            var tank = HotWaterRules.GoalC(scan, m) + scan.Settings.HotWaterAboveK;
            return new Command(tank, HotWaterRules.Why(scan, m), default, OrMild(m));
        }
        var value = BufferRules.SetPointC(scan, index, m) + BeyondK(scan, index, m);
        return new Command(value, Reason.Of(m.Asks > 0 ? Cause.RoomsAsk : Cause.NobodyAsks, m.Asks), default, value);
    }
}
