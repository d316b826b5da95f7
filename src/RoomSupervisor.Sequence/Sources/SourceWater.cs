// Section 6, rule 6 and section 7, rules 3 and 4: whether a source's water is for the rooms now. It is not while the source makes hot water, by our command or its own, while it defrosts, while it
// changes over, and until its hot water has gone. Loops ask here; never takes a machine's word for it for ever.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>Water of a source as its loops may have it.</summary>
internal static class SourceWater
{
    /// <summary>True when the rooms may have it. False: pumps of direct loops off, mixing valves at full recirculation, fans off.</summary>
    public static bool IsForRooms(in Scan scan, int source) => scan.Memory.Sources[source].Water.NotForRooms == Cause.None;

    /// <summary>Why it is not, with the longest time that it will last.</summary>
    public static Reason Why(in Scan scan, int source)
    {
        ref readonly var m = ref scan.Memory.Sources[source];
        var s = scan.Settings;
        var left = m.Water.NotForRooms switch
        {
            Cause.ChangingOver => ChangeOver.LeftS(scan, m),
            Cause.HotWaterFirst => Math.Max(s.HotWaterAtMostS - (m.HotWater.Phase == HotWaterPhase.Charging ? m.HotWater.ForS : 0), ChargedByHandForS(scan)),
            Cause.HotSlug => s.SlugAtMostS - m.Water.SlugForS,
            _ => s.NotForRoomsAtMostS - m.Water.ForS,
        };
        return Reason.Of(m.Water.NotForRooms, Math.Max(0, left));
    }

    /// <summary>How much longer somebody charges the tank by hand, s; 0: nobody does.</summary>
    private static double ChargedByHandForS(in Scan scan)
        => scan.House.HotWater is { Charge: >= 0 } tank && scan.Memory.Hands[tank.Charge] is { Active: true, Value: > 0.5 } hand ? hand.RemainingS : 0;

    /// <summary>What a command comes to that needs the source's water: nothing, with the reason; the wish stands behind it.</summary>
    public static Command Instead(in Scan scan, int source, in Command wish) => new(0, Why(scan, source), wish.Binding, 0);

    /// <summary>Water the loops get, where it is measured, °C: from the buffer where there is one that is read, else the source's supply; missing: not known.</summary>
    public static Reading Measured(in Scan scan, int source)
    {
        if (!BufferRules.IsRead(scan, source))
            return scan.Reading(scan.House.Sources[source].Supply);
        return new Reading(BufferRules.DeliveredC(scan, scan.Memory.Sources[source].Heats), 0, Quality.Good, Cause.None);
    }

    /// <summary>Why a loop's pump must stand for its source's sake: none where it may run, as one with a mixing valve may, at full recirculation.</summary>
    public static Cause StopsPump(in Scan scan, Loop loop)
    {
        var why = scan.Memory.Sources[loop.Source].Water.NotForRooms;
        return loop.Type == LoopType.Direct || why == Cause.ChangingOver ? why : Cause.None;
    }

    /// <summary>How much colder than the room a coil's water must be, K: more on a loop that both seasons share, whose water may be anything.</summary>
    public static double CoolerByK(in Scan scan, int loop)
        => scan.House.Loops[loop].Seasons == Seasons.Both ? scan.Settings.TwoPipeCoolerByK : scan.Settings.CoilCoolerByK;

    /// <summary>Once a scan, before the rooms.</summary>
    public static void Observe(in Scan scan, int index, ref SourceMemory m)
    {
        ref var w = ref m.Water;
        var seen = Seen(scan, index, m);
        Blocks.Hold(ref w.ForS, seen != Cause.None && seen == w.Seen, scan.Dt);
        w.Seen = seen;
        if (seen == Cause.None)
            w.Disbelieved = false;
        var before = w.NotForRooms;
        var theMachines = seen is Cause.MakingHotWater or Cause.Defrosting or Cause.TooHotToCool;
        if (theMachines && w.ForS >= scan.Settings.NotForRoomsAtMostS && !w.Disbelieved)
        {
            w.Disbelieved = true;
            scan.Happened(SequenceEvents.WaterLongNotForRooms, Owner.Source, index, Reason.Of(seen, 0));
        }
        if (seen != Cause.None)
            w.SlugForS = 0;   // each wait for cold water is one of its own
        w.NotForRooms = theMachines && w.Disbelieved ? Cause.None : seen != Cause.None ? seen : Slug(scan, index, m, ref w);
        w.HotBefore = w.NotForRooms is Cause.HotWaterFirst or Cause.MakingHotWater or Cause.TooHotToCool or Cause.HotSlug;
        if (w.NotForRooms != before && before == Cause.None)
            scan.Happened(SequenceEvents.WaterNotForRooms, Owner.Source, index, Why(scan, index));
    }

    /// <summary>What now speaks against it. A buffer that is read gives the rooms their water while the source does something else.</summary>
    private static Cause Seen(in Scan scan, int index, in SourceMemory m)
    {
        if (ChangeOver.StopsRooms(scan, m))
            return Cause.ChangingOver;
        if (!Buffered(scan, index, m))
        {
            if (m.HotWater.Phase is HotWaterPhase.Preparing or HotWaterPhase.Charging || m.HotWater.ChargeOn)
                return Cause.HotWaterFirst;
            if (scan.IsMade(scan.House.Sources[index].MakingHotWater))
                return Cause.MakingHotWater;
            if (scan.IsMade(scan.House.Sources[index].Defrosting))
                return Cause.Defrosting;
        }
        var water = Measured(scan, index);
        return !m.Heats && water.Exists && water.Value > scan.Settings.TooHotToCoolC ? Cause.TooHotToCool : Cause.None;
    }

    private static bool Buffered(in Scan scan, int index, in SourceMemory m)
        => BufferRules.IsRead(scan, index) && (m.Heats || BufferRules.DeliveredC(scan, heats: false) < scan.Settings.ReopenUnderC);

    /// <summary>After hot water a source that cools first makes its own water cold again.</summary>
    private static Cause Slug(in Scan scan, int index, in SourceMemory m, ref RoomsWaterMemory w)
    {
        var water = Measured(scan, index);
        var waits = w.HotBefore && !m.Heats && !(water.Exists && water.Value < scan.Settings.ReopenUnderC) && w.SlugForS < scan.Settings.SlugAtMostS;
        Blocks.Hold(ref w.SlugForS, waits, scan.Dt);
        return waits ? Cause.HotSlug : Cause.None;
    }
}
