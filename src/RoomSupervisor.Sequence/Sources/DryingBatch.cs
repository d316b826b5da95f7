// Section 7, rule 2 and section 3, rule 1: drying takes little, a compressor gives much. Wishes to dry wait for each other until together they are worth a start, or the buffer carries the rest of what the
// source gives; a lone one is served after a longest wait all the same. Never decides a change-over.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Wishes to dry, taken together.</summary>
internal static class DryingBatch
{
    /// <summary>Sensible share of what a coil takes while it dries (common practice, 0.65 to 0.8; no published source).</summary>
    private const double SensibleShare = 0.7;

    /// <summary>Takes the wishes together, once a scan.</summary>
    public static void Gather(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        ref var d = ref m.Drying;
        var (granted, told) = (d.Granted, d.Told);
        d = default;
        if (m.Heats)
            return;
        foreach (var i in source.CooledRooms)
            Add(scan, index, i, ref d);
        // Granted without a wish means that one would not have to wait: a surface may give way for it already (rule 3.3).
        d.Granted = (granted && d.Wishing > 0) || IsWorthwhile(scan, index, source, m);
        d.Told = d.Wishing > 0 && (told || (!d.Granted && d.LongestS > scan.Settings.SourceWaitS));
        if (!told && d.Told)
            scan.Happened(SequenceEvents.DryingWaits, Owner.Source, index, Why(scan, source, m));
    }

    /// <summary>
    /// Rule 3.1: true when a room that wishes may begin: the wish is granted, the water is for the rooms and will last for the shortest drying, and it is cold enough where it is measured, or has had the time to become so.
    /// </summary>
    public static bool MayBegin(in Scan scan, int loop, in RoomMemory room)
    {
        var index = scan.House.Loops[loop].Source;
        ref readonly var m = ref scan.Memory.Sources[index];
        if (!m.Drying.Granted || !SourceWater.IsForRooms(scan, index) || !Lasts(scan, index, m))
            return false;
        var water = SourceWater.Measured(scan, index);
        return !water.Exists || water.Value <= room.DewPointC - scan.Settings.DryColderByK || m.AskedForS > scan.Settings.SourceWaitS + scan.Settings.DryWaterAtMostS;
    }

    /// <summary>Tells that wishes wait for each other, where nobody asks for anything else; false: it is no request yet.</summary>
    public static bool Waits(in Scan scan, in SourceMemory m, ref Reason why)
    {
        if (m.Drying.Wishing > 0 && !m.Drying.Granted)
            why = Why(scan, null, m);
        return false;
    }

    /// <summary>True when the source stays with the rooms for the shortest drying, or the buffer holds enough cold for it.</summary>
    private static bool Lasts(in Scan scan, int index, in SourceMemory m)
    {
        var s = scan.Settings;
        if (m.ToldStopped == Cause.None && !m.Change.Changing && HotWaterRules.UntilItTakesS(scan, m) >= s.DryAtLeastS)
            return true;
        if (!BufferRules.IsRead(scan, index))
            return false;
        var useful = Math.Max(0, s.DryTargetC - s.DryColderByK - BufferRules.DeliveredC(scan, heats: false));
        return scan.House.Buffer!.Settings.VolumeL * BufferSettings.JPerLitreK * useful >= m.Drying.WishW * s.DryAtLeastS;
    }

    private static Reason Why(in Scan scan, Source? source, in SourceMemory m)
    {
        var least = (source ?? scan.House.Sources[0]).Settings.MinimumOutputW * scan.Settings.DryBatchSharePercent / 100;
        return Reason.Of(Cause.DryingWaits, m.Drying.WishW, least, Math.Max(0, scan.Settings.DryBatchAtMostS - m.Drying.LongestS));
    }

    private static void Add(in Scan scan, int index, int i, ref DryingMemory d)
    {
        ref readonly var m = ref scan.Memory.Rooms[i];
        var s = scan.Settings;
        var dries = m.Moisture == Moisture.Dehumidifying;
        var wishes = !dries && m.DryWishForS > s.DryWaitS && m.DryRestS <= 0 && m.ErrorK >= -s.DryShiftK && m.ErrorK <= s.PullDownAboveK;
        if (!dries && !wishes)
            return;
        var room = scan.House.Rooms[i];
        var coil = RoomCoils.Leading(scan, room, heats: false);
        if (coil < 0 || scan.House.Loops[scan.House.Coils[coil].Loop].Source != index)
            return;
        var sensible = Drying.OutputOf(scan, room, coil);
        // A room that cannot spare what its coil would cool is no wish yet (rule 3.3): a source called for it would run for nothing.
        if (wishes && sensible > m.DemandW + s.DrySpareW && m.ErrorK <= s.DryAtOnceAboveK)
            return;
        d.WishW += sensible / SensibleShare;
        d.Wishing += wishes ? 1 : 0;
        d.LongestS = Math.Max(d.LongestS, wishes ? m.DryWishForS - s.DryWaitS : 0);
    }

    private static bool IsWorthwhile(in Scan scan, int index, Source source, in SourceMemory m)
    {
        var s = scan.Settings;
        var least = source.Settings.MinimumOutputW;
        // Nobody has said what it gives at least: then nobody knows whether it is too much. A machine that runs for others needs no start.
        if (double.IsNaN(least) || (m.Calling && m.Asks > 0) || m.Drying.LongestS >= s.DryBatchAtMostS)
            return true;
        var load = m.Drying.WishW + (m.Asks > 0 ? m.LoadW : 0);
        if (load >= s.DryBatchSharePercent / 100 * least)
            return true;
        return index == 0 && scan.House.Buffer is { } buffer
            && buffer.Settings.VolumeL >= BufferSettings.NeededL(least, load, s.SourceMinimumRunS, s.BufferHysteresisK);
    }
}
