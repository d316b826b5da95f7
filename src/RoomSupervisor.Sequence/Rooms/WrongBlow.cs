// Section 2, rule 9 and section 7, rule 3: a fan does not blow what its water makes of the air into a room that wants the opposite. Only says whether and why; the fan itself is CoilFan's.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Sources;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Cold blow in heating, warm blow in cooling.</summary>
internal static class WrongBlow
{
    /// <summary>
    /// On a loop that both seasons share, and after hot water, the water that comes first may be warm: no fan blows that into a room it is to cool. Where only cold water is ever made there is no such wait (rule 2.9).
    /// </summary>
    public static bool IsWarm(in Scan scan, Room room, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        if (roomMemory.Heats || scan.House.Loops[coil.Loop].Seasons != Seasons.Both)
            return false;
        if (LoopWater.Flows(scan, coil.Loop))
            return m.WarmWaterForS > 0;
        var made = SourceWater.Measured(scan, scan.House.Loops[coil.Loop].Source);
        return made.Exists && made.Value > scan.Reading(room.AirTemperature).Value - SourceWater.CoolerByK(scan, coil.Loop);
    }

    public static Reason NoWarm(in Scan scan, Room room, Coil coil, in CoilMemory m)
    {
        var flows = LoopWater.Flows(scan, coil.Loop);
        var water = flows ? LoopWater.AtCoil(scan, coil, m, coil.Loop) : SourceWater.Measured(scan, scan.House.Loops[coil.Loop].Source).Value;
        return Reason.Of(Cause.NoColdBlow, 0, water, scan.Reading(room.AirTemperature).Value - SourceWater.CoolerByK(scan, coil.Loop));
    }

    public static Reason NoCold(in Scan scan, Room room, Coil coil, in CoilMemory m)
    {
        var loop = RoomCoils.LoopOf(coil, heats: true);
        var water = LoopWater.Flows(scan, loop) ? LoopWater.AtCoil(scan, coil, m, loop) : double.NaN;   // what stands in the pipe tells nothing
        return Reason.Of(Cause.NoColdBlow, 0, water, scan.Reading(room.AirTemperature).Value + scan.Settings.CoilWarmerByK);
    }
}
