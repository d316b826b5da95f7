// Section 3: drying the air with a barely turning fan, beside the stages. What the coil takes out of the air is what lets the surface work
// with colder water. It never over-cools the room for it and never runs a wet coil on warm water.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The moisture state of a room: resting or dehumidifying.</summary>
internal static class Drying
{
    public static void Step(in Scan scan, int index)
    {
        var room = scan.House.Rooms[index];
        ref var m = ref scan.Memory.Rooms[index];
        var s = scan.Settings;
        m.MoistureForS += scan.Dt;
        m.DryRestS = Math.Max(0, m.DryRestS - scan.Dt);
        Blocks.Hold(ref m.GuardLimitsForS, m.ErrorK > s.DryWhenGuardLimitsAboveK && GuardLimits(scan, room), scan.Dt);
        var coil = RoomCoils.Leading(scan, room, heats: false);
        var wish = Wish(scan, room, m, out var why) && coil >= 0 && m.StageAllowsDrying;
        Blocks.Hold(ref m.DryWishForS, wish, scan.Dt);
        Blocks.Hold(ref m.OverCooledForS, m.ErrorK < m.DryShiftK - s.DryStopsBelowK, scan.Dt);   // of the set point itself
        if (m.Moisture == Moisture.Dehumidifying)
            GoOn(scan, index, room, coil, wish, ref m);
        else
            MayBegin(scan, index, room, coil, m.DryWishForS > s.DryWaitS && m.DryRestS <= 0, why, ref m);
        m.DryShiftK = ShiftK(scan, room, m);
    }

    /// <summary>
    /// Rule 3.4: how much cooler the room may be for the drying's sake, K: only as far as it cannot spare what the coil takes at its drying speed. A coil that the room needs anyway dries
    /// without; the room would only stand a tenth under its set point for it.
    /// </summary>
    private static double ShiftK(in Scan scan, Room room, in RoomMemory m)
    {
        if (m.Moisture != Moisture.Dehumidifying)
            return 0;
        var dries = OutputW(scan, room, m);
        return dries > 0 ? scan.Settings.DryShiftK * Math.Clamp(2 * (1 - Demand.OfCoils(scan, room, m) / dries), 0, 1) : 0;
    }

    /// <summary>Sensible output of the coil that dries, at its drying speed, W; 0 while nothing is dried nor about to be.</summary>
    public static double OutputW(in Scan scan, Room room, in RoomMemory m)
    {
        if (m.Moisture != Moisture.Dehumidifying && !m.DryFades)
            return 0;
        var coil = RoomCoils.Leading(scan, room, heats: false);
        return coil < 0 ? 0 : OutputOf(scan, room, coil);
    }

    /// <summary>Sensible output of a coil at its drying speed, W.</summary>
    public static double OutputOf(in Scan scan, Room room, int coil) => RoomCoils.FullOf(scan, room, coil, heats: false) * Emitters.CoilShare(Speed(scan, coil));

    /// <summary>Speed at which a coil dries, percent: slow, but never under what makes it turn, never over its limits.</summary>
    public static double Speed(in Scan scan, int coil)
        => Math.Min(scan.Memory.Coils[coil].CapPercent, Math.Max(scan.Settings.DrySpeedPercent, scan.House.Coils[coil].StartSpeedPercent));

    /// <summary>
    /// What the room can spare, as the mean of a quarter of an hour: what moves with its sensor's last digit would be heard. Its valve has the mean of the opening, not of the watts: the
    /// opening falls so steeply with them that the mean watts would leave it further shut than the room is used to.
    /// </summary>
    public static void Follow(in Scan scan, Room room, int coil, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var asked = Demand.OfCoils(scan, room, roomMemory);
        var opening = Opening(scan, room, coil, asked);
        m.AskedSlowW = m.Dries ? m.AskedSlowW + (asked - m.AskedSlowW) * Blocks.FilterShare(scan.Dt, AskedSlowS) : asked;
        m.OpeningMeanPercent = m.Dries ? m.OpeningMeanPercent + (opening - m.OpeningMeanPercent) * Blocks.FilterShare(scan.Dt, opening < m.OpeningMeanPercent && roomMemory.ErrorK < 0 ? ClosingMeanS : OpeningMeanS) : opening;
        m.Dries = true;
    }

    /// <summary>See <see cref="Follow"/>, s (project choice).</summary>
    private const double AskedSlowS = 900;

    /// <summary>
    /// The same with what the room can spare (rule 3.4): a coil that would give more than is asked at its drying speed slows down to its slowest. It goes on drying, where at full
    /// speed it would have over-cooled the room, stopped, and begun again ten minutes later.
    /// </summary>
    public static double SpeedNow(in Scan scan, Room room, int coil, in CoilMemory m)
    {
        var speed = Speed(scan, coil);
        var full = RoomCoils.FullOf(scan, room, coil, heats: false);
        var spare = full > 0 ? Emitters.SpeedForShare(m.AskedSlowW / full) : speed;
        return Math.Min(speed, Math.Max(spare, scan.House.Coils[coil].StartSpeedPercent));
    }

    /// <summary>Where the valve of a coil that dries stands, %: at the mean of its opening, and still while that moves by less than a band, but at its ends.</summary>
    public static double Valve(in Scan scan, int coil, in CoilMemory m)
    {
        if (scan.House.Coils[coil].Actuator.Kind == OutputKind.OnOff || m.OpeningMeanPercent > 100 - OpeningBandPercent / 2)
            return 100;
        if (m.OpeningMeanPercent < ValveFloorPercent + OpeningBandPercent / 2)
            return ValveFloorPercent;
        return Math.Abs(m.OpeningMeanPercent - m.ValvePercent) < OpeningBandPercent ? m.ValvePercent : m.OpeningMeanPercent;
    }

    /// <summary>Rule 2.3 with a floor of its own: under the coil's slowest its valve throttles, never so far that it dries nothing. One that only opens or shuts is open.</summary>
    private static double Opening(in Scan scan, Room room, int coil, double askedW)
    {
        var least = RoomCoils.MinimumOf(scan, room, coil, heats: false);
        return askedW >= least ? 100 : Math.Max(ValveFloorPercent, Emitters.ValveForShare(askedW / least));
    }

    /// <summary>
    /// Mean of the opening, s; of one that closes in a room under its set point, which more cold would over-cool, s; and what the valve does not move for, % (project choices: by the moment a sensor's last digit threw an actuator through 3,099 whole strokes in two days; half a
    /// minute lets through half as much again, with two minutes rooms come back later; of 2, 3, 4, 5 and 8 s for closing only 3 kept
    /// every check of the suite, each other missed one by the chance of a single run: it is picked among them, not derived).
    /// </summary>
    private const double OpeningMeanS = 60, ClosingMeanS = 3, OpeningBandPercent = 5;

    /// <summary>A quarter of the flow: the coil's fins stay under the dew point (project choice), %.</summary>
    private const double ValveFloorPercent = 20;

    /// <summary>True when this coil is the one that dries this room now.</summary>
    public static bool Is(in Scan scan, Room room, int coil, in RoomMemory m)
        => m.Moisture == Moisture.Dehumidifying && RoomCoils.Leading(scan, room, heats: false) == coil;

    /// <summary>A room whose surface gives way may fall this much further before it opens again, K (project choice: three times the noise of an air sensor).</summary>
    private const double FadeBandK = 0.1;

    private static void MayBegin(in Scan scan, int index, Room room, int coil, bool wish, in Reason why, ref RoomMemory m)
    {
        var s = scan.Settings;
        var fades = m.DryFades;
        m.DryFades = false;
        // A room that is about to be pulled down has its coil for that first. A surface that has begun to give way does not open again for a sensor's last digit.
        if (!wish || m.ErrorK < -s.DryShiftK - (fades ? FadeBandK : 0) || m.ErrorK > s.PullDownAboveK || Water(scan, coil) > m.DewPointC - s.DryColderByK || !Sources.DryingBatch.MayBegin(scan, scan.House.Coils[coil].Loop, m))
            return;
        // Swap, don't stack (rule 3.3): the surface gives way first.
        m.DryFades = true;
        if (OutputW(scan, room, m) + m.SurfaceOutputW > m.DemandW + s.DrySpareW && m.ErrorK <= s.DryAtOnceAboveK)
            return;
        Change(scan, index, ref m, Moisture.Dehumidifying, why);
    }

    private static double Water(in Scan scan, int coil) => LoopWater.AtCoil(scan, scan.House.Coils[coil], scan.Memory.Coils[coil], scan.House.Coils[coil].Loop);

    private static void GoOn(in Scan scan, int index, Room room, int coil, bool wish, ref RoomMemory m)
    {
        var s = scan.Settings;
        if (!m.StageAllowsDrying || coil < 0)
        {
            Stop(scan, index, ref m, 0, new Reason(coil < 0 ? Cause.CoilMayNotRun : Cause.StageComesFirst));
            return;
        }
        var water = Water(scan, coil);
        var lost = double.IsNaN(m.DewPointC) || (LoopWater.Flows(scan, scan.House.Coils[coil].Loop) && water > m.DewPointC - s.DryLostK);
        Blocks.Hold(ref m.DryLostForS, lost, scan.Dt);
        if (m.DryLostForS > s.AfterValveShutS)
            Stop(scan, index, ref m, s.DryRestS, Reason.Of(Cause.CoilWaterTooWarm, water, m.DewPointC));
        else if (m.OverCooledForS > s.DryStopsAfterS)
            Stop(scan, index, ref m, RestAfterCold(scan, room, ref m), Reason.Of(Cause.OverCooled, -m.ErrorK));
        else if (!wish && m.MoistureForS > s.DryAtLeastS)
        {
            m.DryCuts = 0;
            Stop(scan, index, ref m, s.DryRestS, Reason.Of(Cause.DryEnough, m.DewPointC));
        }
    }

    /// <summary>
    /// A run that over-cooling cuts short of its least has filled the coil and dried little: the room cannot spare the cold now, and will not in ten minutes. Each in a row doubles the rest, to
    /// four times at most; else a muggy, mild day starts and stops a fan sixty times.
    /// </summary>
    private static double RestAfterCold(in Scan scan, Room room, ref RoomMemory m)
    {
        var s = scan.Settings;
        var cut = m.MoistureForS < s.DryAtLeastS;
        var rest = s.DryRestS * (cut ? 1 << m.DryCuts : 1) * (RoomSurfaces.AllShut(scan, room) ? 0.5 : 1);
        m.DryCuts = cut ? (byte)Math.Min(MostCuts, m.DryCuts + 1) : (byte)0;
        return rest;
    }

    /// <summary>Doublings of the rest (project choice): 40 min, with the run near an hour.</summary>
    private const int MostCuts = 2;

    /// <summary>Rule 3.1, with the hysteresis of rule 3.5: what is being dried goes on to half a kelvin under the target.</summary>
    private static bool Wish(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        var dries = m.Moisture == Moisture.Dehumidifying;
        var target = Target(scan, room);
        why = Reason.Of(Cause.DewPointOverTarget, m.DewPointC, target);
        if (!m.HumidityKnown)
            return false;
        if (m.DewPointC > target + (dries ? -s.DryBandK : s.DryBandK))
            return true;
        var humidity = scan.Reading(room.AirHumidity).Value;
        why = Reason.Of(Cause.HumidityOverLimit, humidity, s.DryOverPercent);
        if (humidity > s.DryOverPercent - (dries ? HumidityBandPercent : 0) && m.DewPointC > LowestTargetC)
            return true;
        why = Reason.Of(Cause.GuardLimitsSurface, m.GuardLimitsForS);
        return m.GuardLimitsForS > s.DryWhenGuardLimitsS && m.DewPointC > LowestTargetC;
    }

    /// <summary>No coil water dries further than this worth its energy, °C dew point (project choice).</summary>
    public const double LowestTargetC = 11;

    /// <summary>Hysteresis of the humidity limit, %.</summary>
    private const double HumidityBandPercent = 3;

    /// <summary>Rule 3.8: quiet hours in which the fan may not turn are prepared for in the hour before; a noise allowance puts that hour off.</summary>
    private static double Target(in Scan scan, Room room)
    {
        var s = scan.Settings;
        var start = room.Coils.Length > 0 ? scan.House.Coils[room.Coils[0]].StartSpeedPercent : 0;
        var before = room.Household.QuietFanAtMostPercent < start && room.Household.MinutesToQuiet(scan.Local) is > 0 and <= 60;
        return Math.Max(LowestTargetC, s.DryTargetC - (before ? 1 : 0));
    }

    private static bool GuardLimits(in Scan scan, Room room)
    {
        foreach (var circuit in room.Circuits)
        {
            if (scan.House.Loops[scan.House.Circuits[circuit].Loop].Cools && scan.Memory.Circuits[circuit].Level != GuardLevel.Clear)
                return true;
        }
        return false;
    }

    private static void Stop(in Scan scan, int index, ref RoomMemory m, double restS, in Reason why)
    {
        m.DryRestS = restS;
        Change(scan, index, ref m, Moisture.Resting, why);
    }

    private static void Change(in Scan scan, int index, ref RoomMemory m, Moisture next, in Reason why)
    {
        var from = m.Moisture;
        m.Moisture = next;
        m.MoistureForS = 0;
        m.DryLostForS = 0;
        m.OverCooledForS = 0;
        m.DryFades = false;
        scan.Happened(SequenceEvents.MoistureChanged, Owner.Room, index, why, (byte)from, (byte)next);
    }
}
