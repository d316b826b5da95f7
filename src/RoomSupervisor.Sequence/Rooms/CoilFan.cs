// Sections 2 to 4 for one coil: valve and fan. The order is fixed: demand, floors, slew, start kick, the caps last, and of a stepped fan the step they allow.
// A fan that runs is never under its start speed; a wet coil with its valve shut, or with warm water, does not run on.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Sources;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Valve and fan of a coil.</summary>
internal static class CoilFan
{
    public static void Step(in Scan scan, int index)
    {
        var coil = scan.House.Coils[index];
        ref var m = ref scan.Memory.Coils[index];
        var lead = SharedCoil.Step(scan, index, coil, ref m);
        var room = scan.House.Rooms[lead];
        ref readonly var roomMemory = ref scan.Memory.Rooms[lead];
        DripTray(scan, index, coil, ref m);
        WrongWater(scan, coil, room, roomMemory.Heats, ref m);
        var valve = Valve(scan, room, index, roomMemory, ref m);
        var heating = roomMemory.Heats && coil.HeatingValve >= 0;
        HandValues.Over(scan, heating ? coil.HeatingValve : coil.Valve, m.MayNotRun, ref valve);
        // One that is held open against frost lets its water through: the fan has its time to fall.
        Blocks.Hold(ref m.ValveShutForS, valve.Value <= 0 && !scan.Memory.Loops[RoomCoils.LoopOf(coil, roomMemory.Heats)].OpensForFrost, scan.Dt);
        // It moves from this scan on; the other valve of a four-pipe coil has not moved at all.
        Blocks.Hold(ref m.ValveOpenForS, valve.Value > 0 && m.ValvePercent > 0 && m.Heats == heating, scan.Dt);
        WetCoil.Follow(scan, coil, roomMemory, ref m);
        var fan = Fan(scan, room, index, coil, roomMemory, ref m);
        HandValues.Over(scan, coil.Fan, m.MayNotRun, ref fan);
        // A fan that a hand has turning needs no kick when it is left to the rules.
        if (fan.Binding.Cause == Cause.HandValue && fan.Value >= coil.StartSpeedPercent)
            m.KickForS = Math.Max(m.KickForS, scan.Settings.KickForS + scan.Dt + 1);
        var before = m.FanPercent;
        m.ValvePercent = valve.Value;
        m.Heats = heating;
        if (fan.Value != before)
            (m.FanPercent, m.FanShare) = (fan.Value, Emitters.CoilShare(fan.Value));
        Audible.Step(scan.Dt, roomMemory.Stage, before, m.KickForS > 0 && m.KickForS <= scan.Settings.KickForS + scan.Dt, ref m);
        scan.Outputs.Commands[coil.Valve] = heating ? Shut(Cause.NotInSeason) : valve;
        if (coil.HeatingValve >= 0)
            scan.Outputs.Commands[coil.HeatingValve] = heating ? valve : Shut(Cause.NotInSeason);
        scan.Outputs.Commands[coil.Fan] = fan;
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
        m.Stopped = Protections.OfCoils(scan, index);
        if (!reading.Exists || m.ToldFull == (m.Stopped == Cause.DripTrayFull))
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
        var water = LoopWater.AtCoil(scan, coil, m, loop);
        var wrong = air.Exists && flows && (heats ? water < air.Value + 1 : water > air.Value - SourceWater.CoolerByK(scan, loop));
        Blocks.Hold(ref m.WarmWaterForS, wrong, scan.Dt);
        m.WarmWaterRestS = Math.Max(0, m.WarmWaterRestS - scan.Dt);
        if (m.WarmWaterForS > scan.Settings.WarmWaterWaitS)
            m.WarmWaterRestS = scan.Settings.CoilRestS;
        var enough = scan.Settings.CoilWarmerByK - (m.WaterIsWarm ? 1 : 0);   // a kelvin of hysteresis
        m.WaterIsWarm = air.Exists && flows && water >= air.Value + enough;
    }

    private static Command Valve(in Scan scan, Room room, int index, in RoomMemory roomMemory, ref CoilMemory m)
    {
        m.CarryForS += scan.Dt;
        if (m.MayNotRun && roomMemory.Stage != Stage.Off)
        {
            m.Carrying = false;
            return Instead(new Reason(m.Stopped), StageValve(roomMemory));
        }
        if (!SharedCoil.Serves(scan.House.Coils[index], m, roomMemory.Heats) && (Works(roomMemory.Stage) || Drying.Is(scan, room, index, roomMemory)))
        {
            m.Carrying = false;
            return Instead(SharedCoil.Why(scan, m), StageValve(roomMemory));
        }
        if (Drying.Is(scan, room, index, roomMemory))
        {
            m.Carrying = true;
            Drying.Follow(scan, room, index, roomMemory, ref m);
            var opening = Drying.Valve(scan, index, m);
            return new Command(opening, Reason.Of(Cause.Dehumidifying, opening, roomMemory.DewPointC), default, 0);
        }
        m.Dries = false;
        if (Works(roomMemory.Stage) && !RoomCoils.InSeason(scan, scan.House.Coils[index], roomMemory.Heats))
            return Instead(new Reason(Cause.NotInSeason), StageValve(roomMemory));
        if (roomMemory.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff)
            (m.Carrying, m.CarryForS) = (true, 0);   // the quiet stage after it finds it running, at the beginning of a run
        return roomMemory.Stage switch
        {
            Stage.PullDown or Stage.WarmUp or Stage.EasingOff => StageValve(roomMemory),
            Stage.CoilHelps or Stage.CoilHold => Throttle(scan, room, index, roomMemory, ref m),
            Stage.RadiantHold => Shut(Cause.CoilNotNeeded),
            _ => Shut(StageCause(roomMemory, room)),
        };
    }

    /// <summary>The stages in which a coil works.</summary>
    private static bool Works(Stage stage) => stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff or Stage.CoilHelps or Stage.CoilHold;

    /// <summary>What a stage that needs no sums asks of the valve.</summary>
    private static Command StageValve(in RoomMemory m) => m.Stage switch
    {
        Stage.PullDown or Stage.WarmUp => new Command(100, Reason.Of(PullCause(m), 100, m.ErrorK), default, 0),
        Stage.EasingOff => new Command(100, Reason.Of(Cause.EasingOff, 100, m.ErrorK), default, 0),
        _ => default,
    };

    /// <summary>Shut or still for a reason; what it takes from the room stands behind it.</summary>
    private static Command Instead(in Reason why, in Command wish) => new(0, why, wish.Value > 0 ? wish.Binding : default, 0);

    private static Cause PullCause(in RoomMemory m) => m.Stage == Stage.WarmUp ? Cause.WarmUp : Cause.PullDown;

    private static Command Shut(Cause cause) => new(0, new Reason(cause), default, 0);

    /// <summary>Why a room at rest rests.</summary>
    public static Cause StageCause(in RoomMemory m, Room room) => m.Stage switch
    {
        Stage.Opening => m.ProbablyOpen ? Cause.ProbablyOpenStage : Cause.Opening,
        Stage.Off when !room.Household.Control => Cause.SwitchedOff,
        Stage.Off when !m.Started => m.TurnInS > 0 ? Cause.StartsInTurn : Cause.StartingUp,
        Stage.Off => Cause.AirTemperatureMissing,
        Stage.PullDown => Cause.SurfaceWaits,
        _ => Cause.Satisfied,
    };

    /// <summary>Mean over which what is asked of a coil decides whether it runs, s (project choice: the demand's own time).</summary>
    private const double AskedSlowS = 300;

    /// <summary>Rule 2.3: under the coil's minimum its valve throttles, φ = exp(5.3·(q/q_min − 1)), never under its floor. One that only opens or shuts cannot.</summary>
    private static Command Throttle(in Scan scan, Room room, int index, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var all = Demand.OfCoils(scan, room, roomMemory);
        if (scan.House.Coils[index].Actuator.Kind == OutputKind.OnOff)
            return OpenOrShut(scan, room, index, all, roomMemory, ref m);
        // By the mean of minutes: what one digit of a sensor asks for comes and goes.
        m.AskedSlowW = m.CarryForS <= scan.Dt ? all : m.AskedSlowW + (all - m.AskedSlowW) * Blocks.FilterShare(scan.Dt, AskedSlowS);
        var takesPart = RoomCoils.TakesPart(scan, room, index, RoomCoils.IsTooWarm(scan, room, roomMemory) ? Math.Max(all, m.AskedSlowW) : m.AskedSlowW, m.Carrying, roomMemory.HandingOver, roomMemory.Heats);
        var runs = RoomCoils.Runs(scan, room, index, takesPart, roomMemory, m);
        var waits = takesPart && !runs && !m.Carrying;
        if (runs != m.Carrying)
            (m.Carrying, m.CarryForS) = (runs, 0);
        var asked = RoomCoils.AskedOf(scan, room, index, all, roomMemory.Heats);
        if (!m.Carrying)
            return waits ? Instead(Reason.Of(Cause.StartStopWait, 0, scan.Settings.CoilRestAtLeastS - m.CarryForS), new Command(100, Reason.Of(Cause.CoilCarries, 100, asked, roomMemory.DemandW), default, 0)) : Shut(Cause.CoilNotAsked);
        var minimum = RoomCoils.MinimumOf(scan, room, index, roomMemory.Heats);
        var wish = asked >= minimum ? 100 : Math.Max(scan.Settings.ValveFloorPercent, Emitters.ValveForShare(asked / minimum));
        var value = Math.Abs(wish - m.ValvePercent) < 1 && wish < 100 ? m.ValvePercent : wish;
        return new Command(value, Reason.Of(Cause.CoilCarries, value, asked, roomMemory.DemandW), default, 0);
    }

    /// <summary>
    /// Rule 4.3 for a valve that only opens or shuts: by shares of time it would stand shut for minutes under a running fan on a wet coil. So the coil runs or
    /// rests: it stops when asked for less than the slowest speed by the hysteresis, and keeps either for a while. A fan of one speed is asked by its output:
    /// it would start at full demand only.
    /// </summary>
    private static Command OpenOrShut(in Scan scan, Room room, int index, double all, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var start = scan.House.Coils[index].StartSpeedPercent;
        var speed = SpeedFor(scan, room, index, all, roomMemory, out var asked);
        var takesPart = RoomCoils.TakesPart(scan, room, index, all, m.Carrying, roomMemory.HandingOver, roomMemory.Heats);
        var wants = takesPart && (start >= 100 || roomMemory.HandingOver || Hysteresis.Over(speed, start, start - scan.Settings.StartHysteresisPercent, m.Carrying));
        var waits = wants != m.Carrying && m.CarryForS < scan.Settings.StartStopWaitS;
        if (wants != m.Carrying && !waits)
            (m.Carrying, m.CarryForS) = (wants, 0);
        var open = new Command(100, Reason.Of(Cause.CoilCarries, 100, asked, roomMemory.DemandW), default, 0);
        if (m.Carrying)
            return open;
        return waits ? Instead(Reason.Of(Cause.StartStopWait, 0, scan.Settings.StartStopWaitS - m.CarryForS), open) : Shut(Cause.CoilNotAsked);
    }

    /// <summary>Speed at which a coil gives its share of what is asked of all, percent; over 0.</summary>
    private static double SpeedFor(in Scan scan, Room room, int index, double all, in RoomMemory roomMemory, out double asked)
    {
        asked = RoomCoils.AskedOf(scan, room, index, all, roomMemory.Heats);
        var full = RoomCoils.FullOf(scan, room, index, roomMemory.Heats);
        return full > 0 ? Math.Max(Emitters.SpeedForShare(asked / full), 0.01) : scan.House.Coils[index].StartSpeedPercent;
    }

    private static Command Fan(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, ref CoilMemory m)
    {
        var command = Wish(scan, room, index, coil, roomMemory, m);
        var start = coil.StartSpeedPercent;
        if (command.Value > 0 && command.Value < start)
            command = new Command(start, Reason.Of(Cause.StartSpeed, start), command.Binding, 0);
        var stopsAtOnce = roomMemory.Stage is Stage.Off or Stage.Opening || m.MayNotRun || !SourceWater.IsForRooms(scan, SourceOf(scan, coil, roomMemory)) || m.ValveShutForS > scan.Settings.AfterValveShutS || WetCoil.MustStop(scan.Settings, m);
        if (!stopsAtOnce)
            command = FanHurry.Slewed(scan, coil, roomMemory, command, start, m);
        var steady = Cap(scan, coil, m.SlewPercent, command, start);
        m.SlewPercent = steady.Value;
        m.KickForS = steady.Value > 0 ? m.KickForS + scan.Dt : 0;
        if (coil.Kind.FanSignal == CoilKind.Steps)
            return FanSteps.Of(scan, coil, steady, ref m);
        return Kicks(scan, coil, m) ? Kick(scan, coil, start) : steady;
    }

    /// <summary>Only a fan whose signal makes its speed needs a kick to start from rest; a relay gives it all there is.</summary>
    private static bool Kicks(in Scan scan, Coil coil, in CoilMemory m)
    {
        var s = scan.Settings;
        return m.SlewPercent > 0 && m.KickForS <= s.KickForS && m.SlewPercent < s.KickSpeedPercent && coil.Kind.FanSignal != CoilKind.OnOff;
    }

    private static Command Kick(in Scan scan, Coil coil, double start)
    {
        var kick = scan.Settings.KickSpeedPercent;
        return Cap(scan, coil, 0, new Command(kick, Reason.Of(Cause.StartKick, kick), default, 0), start);
    }

    /// <summary>What the stage asks of the fan, and what forbids it.</summary>
    private static Command Wish(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        var wish = StageWish(scan, room, index, coil, roomMemory, m);
        if (m.MayNotRun && roomMemory.Stage != Stage.Off)
            return Instead(new Reason(m.Stopped), wish);
        if (wish.Value <= 0)
            return wish;
        if (!SharedCoil.Serves(coil, m, roomMemory.Heats))
            return Instead(SharedCoil.Why(scan, m), wish);
        if (!SourceWater.IsForRooms(scan, SourceOf(scan, coil, roomMemory)))
            return SourceWater.Instead(scan, SourceOf(scan, coil, roomMemory), wish);
        if (Works(roomMemory.Stage) && !RoomCoils.InSeason(scan, coil, roomMemory.Heats))
            return Instead(new Reason(Cause.NotInSeason), wish);
        if (m.ValveShutForS > scan.Settings.AfterValveShutS)
            return Instead(new Reason(Cause.CoilValveShut), wish);
        if (WetCoil.MustStop(scan.Settings, m))
            return Instead(WetCoil.Why(scan, coil, roomMemory, m), wish);
        if (roomMemory.Heats && !m.WaterIsWarm)
            return Instead(WrongBlow.NoCold(scan, room, coil, m), wish);
        return WrongBlow.IsWarm(scan, room, coil, roomMemory, m) ? Instead(WrongBlow.NoWarm(scan, room, coil, m), wish) : wish;
    }

    private static int SourceOf(in Scan scan, Coil coil, in RoomMemory m) => scan.House.Loops[RoomCoils.LoopOf(coil, m.Heats)].Source;

    private static Command StageWish(in Scan scan, Room room, int index, Coil coil, in RoomMemory roomMemory, in CoilMemory m)
    {
        if (Drying.Is(scan, room, index, roomMemory))
            return Dry(scan, room, index, roomMemory, m);
        switch (roomMemory.Stage)
        {
            case Stage.PullDown or Stage.WarmUp:
                return new Command(100, Reason.Of(PullCause(roomMemory), 100, roomMemory.ErrorK), default, 0);
            case Stage.EasingOff:
                var target = Pulling.FadeWish(scan, room, index, roomMemory, m.SlewPercent);
                return new Command(target, Reason.Of(Cause.EasingOff, target, roomMemory.ErrorK), default, 0);
            case Stage.CoilHelps or Stage.CoilHold:
                return Carry(scan, room, index, roomMemory, m);
            default:
                return Rest(coil, roomMemory.Stage == Stage.RadiantHold ? Cause.CoilNotNeeded : StageCause(roomMemory, room), m);
        }
    }

    /// <summary>A fan at rest; a limit that would not let it turn stands behind that.</summary>
    private static Command Rest(Coil coil, Cause cause, in CoilMemory m)
    {
        var start = coil.StartSpeedPercent;
        return new Command(0, new Reason(cause), m.CapPercent < start ? Reason.Of(Cause.LimitUnderStartSpeed, m.CapPercent, start) : default, 0);
    }

    /// <summary>Barely turning, unless the room wants more of its coil than that.</summary>
    private static Command Dry(in Scan scan, Room room, int index, in RoomMemory roomMemory, in CoilMemory m)
    {
        var speed = Drying.SpeedNow(scan, room, index, m);
        var dry = new Command(speed, Reason.Of(Cause.Dehumidifying, speed, roomMemory.DewPointC), default, 0);
        if (roomMemory.Stage is not (Stage.CoilHelps or Stage.CoilHold))
            return dry;
        var carry = Carry(scan, room, index, roomMemory, m);
        return carry.Value > speed ? carry with { RunnerUp = dry.Binding } : dry;
    }

    private static Command Carry(in Scan scan, Room room, int index, in RoomMemory roomMemory, in CoilMemory m)
    {
        if (!m.Carrying)
            return Rest(scan.House.Coils[index], Cause.CoilNotAsked, m);
        var speed = SpeedFor(scan, room, index, Demand.OfCoils(scan, room, roomMemory), roomMemory, out var asked);
        return new Command(speed, Reason.Of(Cause.CoilCarries, speed, asked, roomMemory.DemandW), default, 0);
    }

    /// <summary>The caps, last. A cap under the start speed means off.</summary>
    private static Command Cap(in Scan scan, Coil coil, double before, in Command command, double start)
    {
        var capped = command;
        FanCaps.Apply(scan, coil, before, ref capped);
        if (capped.Value > 0 && capped.Value < start)
            return new Command(0, Reason.Of(Cause.LimitUnderStartSpeed, capped.Value, start), capped.Binding, 0);
        return capped;
    }
}
