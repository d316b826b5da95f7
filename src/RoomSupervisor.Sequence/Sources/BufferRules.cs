// Section 7, rule 5: with a buffer that is read, its temperature calls the source while somebody asks. It swings about what the most demanding loop wants; loops draw
// from its bottom when it is cold and from its top when it is warm. Never makes it colder or warmer than what hangs on it without a mixing valve bears.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>The buffer of the first source.</summary>
internal static class BufferRules
{
    /// <summary>Difference between the machine's water and the far end of the swing: without it the machine would stop by itself before the buffer is full, K (project choice: half a usual spread).</summary>
    private const double BeyondK = 2;

    /// <summary>True when a source works on a buffer with at least one sensor that can be read.</summary>
    public static bool IsRead(in Scan scan, int index)
        => index == 0 && scan.House.Buffer is { } buffer && (scan.Reading(buffer.Top).Exists || scan.Reading(buffer.Bottom).Exists);

    /// <summary>Water the loops draw from it, °C: its bottom when it is cold, its top when it is warm; the other sensor where that one is missing.</summary>
    public static double DeliveredC(in Scan scan, bool heats) => End(scan, heats);

    /// <summary>The same of a source by its number, °C; NaN: it has none that is read.</summary>
    public static double DeliveredC(in Scan scan, int index, bool heats) => IsRead(scan, index) ? End(scan, heats) : double.NaN;

    /// <summary>Decides between charging and carrying.</summary>
    public static void Step(in Scan scan, int index, ref SourceMemory m)
    {
        if (!IsRead(scan, index) || m.Asks == 0)
        {
            m.Buffer = default;
            return;
        }
        var (weak, full) = Swing(scan, m);
        var sign = m.Heats ? 1 : -1;
        var mean = (End(scan, m.Heats) + End(scan, !m.Heats)) / 2;
        if (m.Buffer.Charging)
            // One that has stopped by itself cannot give less and has filled the buffer as far as it can: called on as soon as it has rested it would stop after a minute.
            m.Buffer.Charging = sign * (mean - Goal(scan, m, full)) < 0 && !SourceCall.HasStoppedItself(m);
        else
            m.Buffer.Charging = sign * (End(scan, m.Heats) - weak) < 0 || m.Buffer.CarriesForS >= scan.Settings.BufferCarriesAtMostS;
        Blocks.Hold(ref m.Buffer.CarriesForS, !m.Buffer.Charging, scan.Dt);
    }

    /// <summary>What the requests come to with a buffer: the source is called to charge it, or it carries them.</summary>
    public static bool Wants(in Scan scan, int index, in SourceMemory m, ref Reason why)
    {
        if (!IsRead(scan, index))
            return true;
        var (weak, full) = Swing(scan, m);
        var mean = (End(scan, m.Heats) + End(scan, !m.Heats)) / 2;
        why = m.Buffer.Charging
            ? Reason.Of(Cause.BufferCharges, mean, Goal(scan, m, full))
            : Reason.Of(Cause.BufferCarries, End(scan, m.Heats), weak, scan.Settings.BufferCarriesAtMostS - m.Buffer.CarriesForS);
        return m.Buffer.Charging;
    }

    /// <summary>The machine's set point, °C: the rooms' own, or a little beyond the full buffer.</summary>
    public static double SetPointC(in Scan scan, int index, in SourceMemory m)
    {
        if (!IsRead(scan, index) || double.IsNaN(m.WantedC))
            return SourceSetPoint.OrMild(m);
        var (_, full) = Swing(scan, m);
        return m.Heats ? Beyond(scan, m, full) : Math.Max(full - BeyondK, SourceSetPoint.ColdestC);
    }

    /// <summary>
    /// Where a charge ends, °C: at the full buffer, or beyond it while a room is pulled down, or stands open and will be. A machine that stopped then would rest for minutes in the middle of it, the water grow warm, and a
    /// room that has almost come back go away again.
    /// </summary>
    private static double Goal(in Scan scan, in SourceMemory m, double full) => (m.AtOnce || m.OpeningsAsk > 0) && IsToldAndRead(scan) ? Beyond(scan, m, full) : full;

    /// <summary>
    /// True where the machine is told its set point and what it does is read. Beyond the full buffer its own thermostat may stop and start it, unseen as often as it likes; and one that is told none may make water that
    /// freezes in its evaporator, for a buffer of 5 °C takes water under that.
    /// </summary>
    private static bool IsToldAndRead(in Scan scan) => scan.House.Sources[0] is { SetPoint: >= 0 } source && scan.Reading(source.Running).Exists;

    /// <summary>
    /// How far a buffer is charged at most, °C: to the machine's own set point. One that adapts its output comes no further while its water is needed, and runs on. Bounded like a full buffer by what hangs on it without a mixing valve.
    /// </summary>
    private static double Beyond(in Scan scan, in SourceMemory m, double full)
        => m.Heats ? Math.Min(full + BeyondK, WarmestC(scan)) : Math.Min(full, Math.Max(full - BeyondK, ColdestC(scan, SourceSetPoint.ColdestC)));

    /// <summary>Where the buffer begins to be too weak, and where it is full, °C. While a room is pulled down it swings half as much, on the strong side.</summary>
    private static (double Weak, double Full) Swing(in Scan scan, in SourceMemory m)
    {
        var s = scan.Settings;
        var swing = s.BufferHysteresisK;
        var set = SourceSetPoint.OrMild(m);
        var more = scan.IsMade(scan.House.Points.Surplus) ? s.SurplusBufferK : 0;
        var full = m.Heats ? Math.Min(set + swing / 2 + more, WarmestC(scan)) : Math.Max(set - swing / 2 - more, ColdestC(scan, SourceSetPoint.ColdestC + BeyondK));
        var width = (m.AtOnce ? swing / 2 : swing) + more;
        return (m.Heats ? full - width : full + width, full);
    }

    /// <summary>Coldest buffer, °C: no colder than this for the machine's sake, and never under what a cooled surface without a mixing valve may get.</summary>
    private static double ColdestC(in Scan scan, double coldest)
    {
        foreach (var i in scan.House.Sources[0].DirectLoops)
        {
            ref readonly var loop = ref scan.Memory.Loops[i];
            if (scan.House.Loops[i].Serves == LoopServes.Surfaces && !loop.Heats && loop.HasSetPoint)
                coldest = Math.Max(coldest, loop.SetPointC);
        }
        return coldest;
    }

    /// <summary>Warmest full buffer, °C: what loops without a mixing valve may get.</summary>
    private static double WarmestC(in Scan scan)
    {
        var warmest = double.PositiveInfinity;
        foreach (var i in scan.House.Sources[0].DirectLoops)
        {
            var loop = scan.House.Loops[i];
            if (loop.Heats)
                warmest = Math.Min(warmest, loop.Settings.HeatingWarmestC(loop.Serves));
        }
        return warmest;
    }

    private static double End(in Scan scan, bool top)
    {
        var buffer = scan.House.Buffer!;
        var wanted = scan.Reading(top ? buffer.Top : buffer.Bottom);
        return wanted.Exists ? wanted.Value : scan.Reading(top ? buffer.Bottom : buffer.Top).Value;
    }
}
