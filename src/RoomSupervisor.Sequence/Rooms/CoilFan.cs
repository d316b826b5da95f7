// Sections 2 to 4 for one coil: valve and fan. The order is fixed: demand, floors, slew, start kick, and the caps last. A fan that
// runs is never under its start speed; a wet coil with its valve shut does not run on.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Valve and fan of a coil.</summary>
internal static class CoilFan
{
    public static void Step(in Scan scan, int index)
    {
        var coil = scan.House.Coils[index];
        ref var m = ref scan.Memory.Coils[index];
        var lead = Lead(scan, coil);
        var room = scan.House.Rooms[lead];
        ref readonly var roomMemory = ref scan.Memory.Rooms[lead];
        DripTray(scan, index, coil, ref m);
        WrongWater(scan, coil, room, roomMemory.Heats, ref m);
        var valve = Valve(scan, room, index, roomMemory, ref m);
        var heating = roomMemory.Heats && coil.HeatingValve >= 0;
        valve = HandValues.Over(scan, heating ? coil.HeatingValve : coil.Valve, valve, m.DripTrayFull);
        Blocks.Hold(ref m.ValveShutForS, valve.Value <= 0, scan.Dt);
        // It moves from this scan on; the other valve of a four-pipe coil has not moved at all.
        Blocks.Hold(ref m.ValveOpenForS, valve.Value > 0 && m.ValvePercent > 0 && m.Heats == heating, scan.Dt);
        var fan = HandValues.Over(scan, coil.Fan, Fan(scan, room, index, coil, roomMemory, ref m), m.DripTrayFull);
        m.ValvePercent = valve.Value;
        m.Heats = heating;
        m.FanPercent = fan.Value;
        scan.Outputs.Commands[coil.Valve] = heating ? Shut(Cause.NotInSeason) : valve;
        if (coil.HeatingValve >= 0)
            scan.Outputs.Commands[coil.HeatingValve] = heating ? valve : Shut(Cause.NotInSeason);
        scan.Outputs.Commands[coil.Fan] = fan;
    }

    /// <summary>Of the rooms a coil serves, the one that wants most of it now: the others get what it makes of it, within their own limits.</summary>
    private static int Lead(in Scan scan, Coil coil)
    {
        var lead = coil.Room;
        var most = double.NegativeInfinity;
        foreach (var index in coil.Rooms)
        {
            ref readonly var m = ref scan.Memory.Rooms[index];
            var wish = m.Stage switch
            {
                Stage.PullDown or Stage.WarmUp => 1e9 + m.ErrorK,
                Stage.EasingOff => 1e6,
                Stage.Satisfied or Stage.RadiantHold when m.Moisture == Moisture.Dehumidifying => 1,
                Stage.CoilHelps or Stage.CoilHold => Demand.OfCoils(scan, scan.House.Rooms[index], m),
                _ => -1,
            };
            if (wish > most)
                (lead, most) = (index, wish);
        }
        return lead;
    }

    /// <summary>
    /// Section 3, rule 7. A switch that cannot be read counts as full. A tray counts as empty when its switch has been so for a while: one that bobs
    /// at the edge must neither start the coil each time nor fill the log.
    /// </summary>
    private static void DripTray(in Scan scan, int index, Coil coil, ref CoilMemory m)
    {
        var reading = scan.Reading(coil.DripTray);
        var made = reading.Exists && reading.Value > 0.5;
        Blocks.Hold(ref m.TrayDryForS, reading.Exists && !made, scan.Dt);
        var stillFull = m.ToldFull && m.TrayDryForS < scan.Settings.TrayDryForS;
        m.DripTrayFull = made || stillFull || scan.IsUnread(coil.DripTray);
        if (!reading.Exists || m.ToldFull == (made || stillFull))
            return;
        m.ToldFull = made;
        scan.Happened(made ? SequenceEvents.DripTrayFull : SequenceEvents.DripTrayEmpty, Owner.Room, coil.Room, new Reason(Cause.DripTrayFull));
    }

    /// <summary>
    /// Water that flows and is no colder (no warmer) than the room cannot cool (heat) it: the coil stops and tries again after a rest. In heating the
    /// fan waits besides, as long as the water is not warm enough to be felt as warm (rule 2.9): no cold blow.
    /// </summary>
    private static void WrongWater(in Scan scan, Coil coil, Room room, bool heats, ref CoilMemory m)
    {
        var air = scan.Reading(room.AirTemperature);
        var loop = RoomCoils.LoopOf(coil, heats);
        var flows = LoopWater.Flows(scan, loop);
        var water = LoopWater.Expected(scan, loop);
        var wrong = air.Exists && flows && (heats ? water < air.Value + 1 : water > air.Value - scan.Settings.CoilCoolerByK);
        Blocks.Hold(ref m.WarmWaterForS, wrong, scan.Dt);
        m.WarmWaterRestS = Math.Max(0, m.WarmWaterRestS - scan.Dt);
        if (m.WarmWaterForS > scan.Settings.WarmWaterWaitS)
            m.WarmWaterRestS = scan.Settings.CoilRestS;
        var enough = scan.Settings.CoilWarmerByK - (m.WaterIsWarm ? 1 : 0);   // a kelvin of hysteresis
        m.WaterIsWarm = air.Exists && flows && water >= air.Value + enough;
    }

    private static Command Valve(in Scan scan, Room room, int index, in RoomMemory roomMemory, ref CoilMemory m)
    {
        if (m.DripTrayFull && roomMemory.Stage != Stage.Off)
            return Shut(TrayCause(m));
        if (Drying.Is(scan, room, index, roomMemory))
        {
            m.Carrying = true;
            return new Command(100, Reason.Of(Cause.Dehumidifying, 100, roomMemory.DewPointC), default, 0);
        }
        switch (roomMemory.Stage)
        {
            case Stage.PullDown or Stage.WarmUp or Stage.EasingOff or Stage.CoilHelps or Stage.CoilHold when !RoomCoils.InSeason(scan, scan.House.Coils[index], roomMemory.Heats):
                return Shut(Cause.NotInSeason);
            case Stage.PullDown or Stage.WarmUp:
                return new Command(100, Reason.Of(PullCause(roomMemory), 100, roomMemory.ErrorK), default, 0);
            case Stage.EasingOff:
                return new Command(100, Reason.Of(Cause.EasingOff, 100, roomMemory.ErrorK), default, 0);
            case Stage.CoilHelps or Stage.CoilHold:
                return Throttle(scan, room, index, roomMemory, ref m);
            case Stage.RadiantHold:
                return Shut(Cause.CoilNotNeeded);
            default:
                return Shut(StageCause(roomMemory, room));
        }
    }

    private static Cause PullCause(in RoomMemory m) => m.Stage == Stage.WarmUp ? Cause.WarmUp : Cause.PullDown;

    private static Cause TrayCause(in CoilMemory m) => m.ToldFull ? Cause.DripTrayFull : Cause.DripTrayUnread;

    private static Command Shut(Cause cause) => new(0, new Reason(cause), default, 0);

    /// <summary>Why a room at rest rests.</summary>
    public static Cause StageCause(in RoomMemory m, Room room) => m.Stage switch
    {
        Stage.Opening => Cause.Opening,
        Stage.Off when !room.Household.Control => Cause.SwitchedOff,
        Stage.Off when !m.Started => Cause.StartingUp,
        Stage.Off => Cause.AirTemperatureMissing,
        Stage.PullDown => Cause.SurfaceWaits,
        _ => Cause.Satisfied,
    };

    /// <summary>Rule 2.3: under the coil's minimum its valve throttles, φ = exp(5.3·(q/q_min − 1)), never under its floor.</summary>
    private static Command Throttle(in Scan scan, Room room, int index, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var all = Demand.OfCoils(scan, room, roomMemory);
        m.Carrying = RoomCoils.TakesPart(scan, room, index, all, m.Carrying, roomMemory.HandingOver, roomMemory.Heats);
        if (!m.Carrying)
            return Shut(Cause.CoilNotNeeded);
        var asked = RoomCoils.AskedOf(scan, room, index, all, roomMemory.Heats);
        var minimum = RoomCoils.MinimumOf(scan, room, index, roomMemory.Heats);
        var wish = asked >= minimum ? 100 : Math.Max(scan.Settings.ValveFloorPercent, 100 * Math.Exp(5.3 * (asked / minimum - 1)));
        var value = Math.Abs(wish - m.ValvePercent) < 1 && wish < 100 ? m.ValvePercent : wish;
        return new Command(value, Reason.Of(Cause.CoilCarries, value, asked, roomMemory.DemandW), default, 0);
    }

    private static Command Fan(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var command = Wish(scan, room, index, coil, roomMemory, m);
        var start = coil.Kind.StartSpeedPercent;
        if (command.Value > 0 && command.Value < start)
            command = new Command(start, Reason.Of(Cause.StartSpeed, start), command.Binding, 0);
        // Rule 3.6 for a valve that is held shut by hand: a wet coil gives its water back.
        if (command.Value > 0 && m.ValveShutForS > scan.Settings.AfterValveShutS)
            command = new Command(0, Reason.Of(Cause.HandValue, scan.Memory.Hands[m.Heats ? coil.HeatingValve : coil.Valve].RemainingS), command.Binding, 0);
        var stopsAtOnce = roomMemory.Stage is Stage.Off or Stage.Opening || m.DripTrayFull || m.ValveShutForS > scan.Settings.AfterValveShutS;
        if (!stopsAtOnce)
            command = Slew(scan, roomMemory, command, start, m);
        var steady = Cap(scan, coil, command, start);
        m.SlewPercent = steady.Value;
        m.KickForS = steady.Value > 0 ? m.KickForS + scan.Dt : 0;
        var kicks = steady.Value > 0 && m.KickForS <= scan.Settings.KickForS && m.FanPercent <= steady.Value + scan.Settings.KickSpeedPercent
            && steady.Value < scan.Settings.KickSpeedPercent;
        if (!kicks)
            return steady;
        var kick = scan.Settings.KickSpeedPercent;
        return Cap(scan, coil, new Command(kick, Reason.Of(Cause.StartKick, kick), default, 0), start);
    }

    /// <summary>What the stage asks of the fan.</summary>
    private static Command Wish(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        if (m.DripTrayFull && roomMemory.Stage != Stage.Off)
            return Shut(TrayCause(m));
        var works = roomMemory.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff or Stage.CoilHelps or Stage.CoilHold;
        if (works && !RoomCoils.InSeason(scan, coil, roomMemory.Heats))
            return Shut(Cause.NotInSeason);
        if (Drying.Is(scan, room, index, roomMemory))
            return Dry(scan, room, index, coil, roomMemory, m);
        if (works && roomMemory.Heats && !m.WaterIsWarm)
            return Shut(Cause.NoColdBlow);
        switch (roomMemory.Stage)
        {
            case Stage.PullDown or Stage.WarmUp:
                return new Command(100, Reason.Of(PullCause(roomMemory), 100, roomMemory.ErrorK), default, 0);
            case Stage.EasingOff:
                var target = Pulling.FadeWish(scan, room, index, roomMemory, m.SlewPercent);
                return new Command(target, Reason.Of(Cause.EasingOff, target, roomMemory.ErrorK), default, 0);
            case Stage.CoilHelps or Stage.CoilHold:
                return Carry(scan, room, index, coil, roomMemory, m);
            case Stage.RadiantHold:
                return Shut(Cause.CoilNotNeeded);
            default:
                return Shut(StageCause(roomMemory, room));
        }
    }

    /// <summary>Barely turning, unless the room wants more of its coil than that.</summary>
    private static Command Dry(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        var speed = Drying.Speed(scan, index);
        var dry = new Command(speed, Reason.Of(Cause.Dehumidifying, speed, roomMemory.DewPointC), default, 0);
        if (roomMemory.Stage is not (Stage.CoilHelps or Stage.CoilHold))
            return dry;
        var carry = Carry(scan, room, index, coil, roomMemory, m);
        return carry.Value > speed ? carry : dry;
    }

    private static Command Carry(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        if (!m.Carrying)
            return Shut(Cause.CoilNotNeeded);
        var asked = RoomCoils.AskedOf(scan, room, index, Demand.OfCoils(scan, room, roomMemory), roomMemory.Heats);
        var full = RoomCoils.FullOf(scan, room, index, roomMemory.Heats);
        var speed = full > 0 ? Math.Max(Emitters.SpeedForShare(asked / full), 0.01) : coil.Kind.StartSpeedPercent;
        return new Command(speed, Reason.Of(Cause.CoilCarries, speed, asked, roomMemory.DemandW), default, 0);
    }

    /// <summary>Rule 4.4: louder and quieter only so fast, in decibels; from rest a fan starts at its start speed, to rest it goes from there.</summary>
    private static Command Slew(in Scan scan, in RoomMemory roomMemory, in Command wish, double start, in CoilMemory m)
    {
        var s = scan.Settings;
        var before = m.SlewPercent;
        if (before <= 0)
            return wish.Value > start ? new Command(start, Reason.Of(Cause.RisingSlowly, start, Rise(s, roomMemory)), wish.Binding, 0) : wish;
        if (wish.Value > before)
        {
            var most = before * FanSound.SpeedRatioForDecibels(Rise(s, roomMemory) * scan.Dt / 60);
            return wish.Value > most && m.CapPercent > most ? new Command(most, Reason.Of(Cause.RisingSlowly, most, Rise(s, roomMemory)), wish.Binding, 0) : wish;
        }
        var fall = roomMemory.Stage == Stage.EasingOff ? s.FallEasingOffDbPerMin : s.FallDbPerMin;
        var least = before * FanSound.SpeedRatioForDecibels(-fall * scan.Dt / 60);
        if (wish.Value >= least || least <= start)
            return wish;
        return new Command(least, Reason.Of(Cause.FallingSlowly, least, fall), wish.Binding, 0);
    }

    private static double Rise(SequenceSettings s, in RoomMemory m) => m.AfterOpening && m.Stage is Stage.PullDown or Stage.WarmUp ? s.RiseAfterOpeningDbPerMin : s.RiseDbPerMin;

    /// <summary>The caps, last. A cap under the start speed means off.</summary>
    private static Command Cap(in Scan scan, Coil coil, in Command command, double start)
    {
        var capped = FanCaps.Apply(scan, coil, command);
        if (capped.Value > 0 && capped.Value < start)
            return new Command(0, Reason.Of(Cause.LimitUnderStartSpeed, capped.Value, start), capped.Binding, 0);
        return capped;
    }
}
