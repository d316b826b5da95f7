// Section 6, rule 5: pipes must not freeze. Water or a room close to freezing: valves open, pump on, heat called, told, whatever rooms, guard and hand say; only leak, high limit and lost pressure come before
// it, and a compressor keeps its shortest rest. Never opens a cooled surface for it in a warm room: what is cold there is not frost.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Frost protection.</summary>
internal static class Frost
{
    /// <summary>Over when it is this much warmer again, K (project choice).</summary>
    private const double OverK = 2;

    /// <summary>Weather in which no pipe freezes, and a room in which none does, °C (project choice: far from any doubt).</summary>
    private const double NoFrostOutdoorsC = 10, NoFrostRoomC = 10;

    /// <summary>A loop meant for water as cold as this is a cold loop, °C (sequence, rule 6.5).</summary>
    private const double ColdLoopC = 7;

    /// <summary>Rooms, before anything is decided: switched off or not, with a window open or not.</summary>
    public static void Observe(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            ref var m = ref scan.Memory.Rooms[i];
            var air = scan.Reading(scan.House.Rooms[i].AirTemperature);
            var frost = air.Exists ? air.Value < scan.Settings.FrostRoomC + (m.Frost ? OverK : 0) : m.Frost;
            if (frost != m.Frost)
                scan.Happened(frost ? SequenceEvents.FrostInRoom : SequenceEvents.FrostOver, Owner.Room, i, Reason.Of(Cause.FrostRoom, air.Value));
            m.Frost = frost;
        }
    }

    /// <summary>The loop's own water, and rooms that hang on it with what heats them.</summary>
    public static void Follow(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var water = OfWater(scan, loop, m, out var coldest);
        if (water != m.FrostOfWater)
            scan.Happened(water ? SequenceEvents.FrostInWater : SequenceEvents.FrostOver, Owner.Loop, index, Reason.Of(Cause.FrostWater, coldest));
        m.FrostOfWater = water;
        var room = m.Heats ? ColdestRoomC(scan, loop) : double.PositiveInfinity;
        m.Frost = water || double.IsFinite(room);
        m.FrostC = water ? coldest : room;
        if (m.Frost || m.OpensForFrost)
            Count(scan, loop, ref m);
    }

    /// <summary>How long each valve has been open against it: its stroke begins with the scan that opens it, whichever of the loop's opened before. Where cold water froze under warm rooms none may, until one of them is cold.</summary>
    private static void Count(in Scan scan, Loop loop, ref LoopMemory m)
    {
        var opens = m.Frost && MayOpen(m);
        foreach (var i in loop.Circuits)
        {
            ref var kept = ref scan.Memory.Circuits[i].Kept;
            var its = opens && MayOpen(scan, i, m);
            Blocks.Hold(ref kept.FrostForS, its && kept.OpensForFrost, scan.Dt);
            kept.OpensForFrost = its;
        }
        Blocks.Hold(ref m.FrostForS, opens && m.OpensForFrost, scan.Dt);
        m.OpensForFrost = opens;
    }

    /// <summary>What is close to freezing.</summary>
    public static Reason Why(in LoopMemory m) => Reason.Of(m.FrostOfWater ? Cause.FrostWater : Cause.FrostRoom, m.FrostC);

    /// <summary>True while a source must make warm water for it.</summary>
    public static bool CallsHeat(in Scan scan, Source source) => Any(scan, source, heats: true);

    /// <summary>True when a source that cools should heat instead: a room is freezing, or water is that nothing has made cold.</summary>
    public static bool WantsChange(in Scan scan, Source source, in SourceMemory m)
    {
        if (m.Heats)
            return false;
        foreach (var room in source.HeatedRooms)
        {
            if (scan.Memory.Rooms[room].Frost)
                return true;
        }
        return !m.Calling && !m.Runs && Any(scan, source, heats: false);
    }

    /// <summary>True while a source must make no cold water.</summary>
    public static bool StopsCold(in Scan scan, Source source) => Any(scan, source, heats: false);

    /// <summary>Time until the first valve that is opened for it is open, s; infinite: none is.</summary>
    public static double WaitsS(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        var waits = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
        {
            ref readonly var kept = ref scan.Memory.Circuits[i].Kept;
            if (kept.OpensForFrost)
                waits = Math.Min(waits, Pumps.UntilOpenS(scan, scan.House.Circuits[i], 100, kept.FrostForS));
        }
        foreach (var i in loop.Coils)
            waits = scan.House.Coils[i].ValveOn(index) >= 0 ? Math.Min(waits, scan.House.Coils[i].OpeningTimeS - m.FrostForS) : waits;
        return waits;
    }

    /// <summary>Opens every valve of the loop that may be.</summary>
    public static void Open(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        if (!m.OpensForFrost)
            return;
        var why = Why(m);
        foreach (var i in loop.Circuits)
        {
            if (scan.Memory.Circuits[i].Kept.OpensForFrost)
                Open(scan, scan.House.Circuits[i].Valve, why);
        }
        foreach (var i in loop.Coils)
        {
            if (scan.House.Coils[i].ValveOn(index) is >= 0 and var valve)
                Open(scan, valve, why);
        }
    }

    /// <summary>A missing supply temperature stops a loop that cools, but not for frost.</summary>
    private static bool MayOpen(in LoopMemory m) => m.Stopped is Cause.None or Cause.SupplyMissing;

    private static void Open(in Scan scan, int output, in Reason why)
        => scan.Outputs.Commands[output] = new Command(100, why, scan.Outputs.Commands[output].Binding, 0);

    /// <summary>Heated surfaces always; a cooled one only in a room that is cold itself.</summary>
    private static bool MayOpen(in Scan scan, int circuit, in LoopMemory m)
    {
        var air = scan.Reading(scan.House.Rooms[scan.House.Circuits[circuit].Room].AirTemperature);
        return m.Heats || (air.Exists && air.Value < NoFrostRoomC);
    }

    private static bool OfWater(in Scan scan, Loop loop, in LoopMemory m, out double coldest)
    {
        var (supply, back) = (scan.Reading(loop.Supply), scan.Reading(loop.Return));
        coldest = supply.Exists && (!back.Exists || supply.Value <= back.Value) ? supply.Value : back.Value;
        if (double.IsNaN(coldest))
            return m.FrostOfWater;
        var isCold = loop.Serves == LoopServes.Coils && !m.Heats && loop.ColdestC <= ColdLoopC;
        var limit = isCold ? scan.Settings.FrostColdLoopC : scan.Settings.FrostWaterC;
        if (m.FrostOfWater)
            return coldest < limit + OverK;
        if (isCold)
            return coldest < limit && scan.Memory.Inputs[coldest == supply.Value ? loop.Supply : loop.Return].SlopePerS < 0;
        return coldest < limit && (m.Heats || !IsMade(scan, loop));
    }

    /// <summary>Cold water that a machine has made for cooling is the guard's; in warm weather, or under a warm room, it is no frost.</summary>
    private static bool IsMade(in Scan scan, Loop loop)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (scan.Memory.Sources[loop.Source].Calling || (outdoors.Exists && outdoors.Value > NoFrostOutdoorsC))
            return true;
        foreach (var i in loop.Circuits)
        {
            if (scan.Reading(scan.House.Rooms[scan.House.Circuits[i].Room].AirTemperature).Value >= NoFrostRoomC)
                return true;
        }
        return false;
    }

    /// <summary>The coldest air of its rooms that are close to freezing, °C; infinite: none is.</summary>
    private static double ColdestRoomC(in Scan scan, Loop loop)
    {
        var coldest = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
            coldest = Math.Min(coldest, FrostC(scan, scan.House.Circuits[i].Room));
        foreach (var i in loop.Coils)
        {
            foreach (var room in scan.House.Coils[i].Rooms)
                coldest = Math.Min(coldest, FrostC(scan, room));
        }
        return coldest;
    }

    private static double FrostC(in Scan scan, int room)
    {
        var air = scan.Reading(scan.House.Rooms[room].AirTemperature);
        return scan.Memory.Rooms[room].Frost ? air.Exists ? air.Value : scan.Settings.FrostRoomC : double.PositiveInfinity;
    }

    private static bool Any(in Scan scan, Source source, bool heats)
    {
        foreach (var loop in source.Loops)
        {
            if (scan.Memory.Loops[loop].Frost && scan.Memory.Loops[loop].Heats == heats)
                return true;
        }
        return false;
    }
}
