// Sections 2 and 5 for one surface circuit: its valve. The guard comes last and wins.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Valve of a surface circuit.</summary>
internal static class SurfaceValve
{
    /// <summary>Smallest opening worth commanding, percent (project choice: below it a valve whistles and the flow is unsure).</summary>
    private const double SmallestPercent = 10;

    /// <summary>Smallest wish worth an opening, percent of what the surface may give with safe water; half of it keeps it open (project choice: the noise of an air sensor in watts).</summary>
    private const double SmallestOfMayPercent = 4;

    /// <summary>Shortest turn of a slab that is asked for less than that, s (project choice: ten times what its actuator takes).</summary>
    private const double TurnS = 900;

    public static void Step(in Scan scan, int index)
    {
        var circuit = scan.House.Circuits[index];
        var room = scan.House.Rooms[circuit.Room];
        ref var m = ref scan.Memory.Circuits[index];
        ref readonly var roomMemory = ref scan.Memory.Rooms[circuit.Room];
        var command = Wish(scan, circuit, room, roomMemory, index, ref m);
        if (m.ValvePercent > 0 || m.ShutForS <= 0)
            m.WasNotNeeded = command.Value <= 0 && command.Binding.Cause == Cause.SurfaceNotNeeded;
        if (m.Level == GuardLevel.Shut && m.WarmThrough && !scan.Memory.Loops[circuit.Loop].IsHeld && !scan.House.Loops[circuit.Loop].Settings.Bypass)
            command = new Command(100, m.ShutReason, command.Binding, 0);
        else if (m.Level == GuardLevel.Shut && command.Value > 0)
            command = new Command(0, m.ShutReason, command.Binding, 0);
        else if (command.Value > 0 && m.ValvePercent <= 0 && !Guarding.Guard.MayOpen(scan, index, circuit, ref m))
            command = new Command(0, m.ShutReason, command.Binding, 0);
        HandValues.Over(scan, circuit.Valve, m.Level == GuardLevel.Shut, ref command);
        // It moves from this scan on: what has passed since the last one, long after a late scan, is not its time.
        Blocks.Hold(ref m.OpenForS, command.Value > 0 && m.ValvePercent > 0, scan.Dt);
        m.ValvePercent = command.Value;
        Blocks.Hold(ref m.ShutForS, command.Value <= 0, scan.Dt);
        scan.Outputs.Commands[circuit.Valve] = command;
    }

    private static Command Wish(in Scan scan, Circuit circuit, Room room, in RoomMemory roomMemory, int index, ref CircuitMemory m)
    {
        if (scan.Memory.Loops[circuit.Loop].IsHeld)
            return Loops.Held.Valve(scan, index, m);
        var spent = m.Kept.SpentPercentS;
        m.Kept.SpentPercentS = m.ValvePercent > 0 ? SmallestPercent * TurnS : Math.Max(0, spent - SmallestPercent * scan.Dt);
        if (!Demand.WantsSurface(roomMemory))
            return new Command(0, new Reason(CoilFan.StageCause(roomMemory, room)), default, 0);
        if (!RoomSurfaces.InSeason(scan, index, roomMemory.Heats))
            return new Command(0, Sources.Rests.Why(scan, circuit.Loop, roomMemory.Heats), default, 0);
        var air = scan.Reading(room.AirTemperature);
        var loop = scan.House.Loops[circuit.Loop];
        var supply = scan.Reading(loop.Supply);
        ref readonly var loopMemory = ref scan.Memory.Loops[circuit.Loop];
        var water = loopMemory.PumpOn && supply.Exists ? supply.Value : loopMemory.HasSetPoint ? loopMemory.SetPointC : loop.WarmestC;
        var gives = air.Exists ? Emitters.SurfaceOutput(circuit, air.Value, water, scan.Settings.SupplyFromReturnK, roomMemory.Heats) : 0;
        var share = m.AskedW <= 0 ? 0 : gives > 0 ? Math.Min(100, 100 * m.AskedW / gives) : 100;
        // Water that stands, or that another room holds up, may give nothing now: that must not open a circuit for a watt.
        var ofWhatItMay = m.MayGiveW > 0 ? 100 * m.AskedW / m.MayGiveW : share;
        var halved = m.ValvePercent > 0 ? 0.5 : 1;
        // While the pump stands nobody knows the water that will come: then by the warmest.
        var turns = loopMemory.PumpOn ? share : Math.Min(share, ofWhatItMay);
        if (circuit.Kind.IsSlab && loopMemory.Heats && turns > 0 && turns < SmallestPercent)
            return InTurns(scan, turns, spent, gives, ref m);
        if (share < SmallestPercent * halved || ofWhatItMay < SmallestOfMayPercent * halved)
            return new Command(0, new Reason(Cause.SurfaceNotNeeded), default, 0);
        // A wish that comes and goes about its edge would click the actuator all day: shut, it keeps so for a while. An error worth an opening at once does not wait.
        if (m.ValvePercent <= 0 && m.WasNotNeeded && m.ShutForS < scan.Settings.SurfaceRestS && roomMemory.ErrorK < scan.Settings.CoilHelpsAtLimitK)
            return new Command(0, Reason.Of(Cause.SurfaceRests, 0, scan.Settings.SurfaceRestS - m.ShutForS), Reason.Of(Cause.SurfaceCarries, share, m.AskedW, gives), 0);
        m.Kept.SpentPercentS = 0;
        var value = Math.Abs(share - m.ValvePercent) < 1 && share < 100 ? m.ValvePercent : share;
        return new Command(value, Reason.Of(Cause.SurfaceCarries, value, m.AskedW, gives), default, 0);
    }

    /// <summary>
    /// A heated slab stores for hours: what is too little for its valve it gets in turns, at the smallest opening for a quarter of an hour and more, so often that the mean is what is asked. Shut until the wish has grown
    /// to the smallest opening, its room would be half a kelvin too cold by then, and the slab cold.
    /// </summary>
    private static Command InTurns(in Scan scan, double share, double spent, double gives, ref CircuitMemory m)
    {
        var open = m.ValvePercent > 0;
        spent = Math.Max(0, spent + ((open ? SmallestPercent : 0) - share) * scan.Dt);
        open = open ? spent < SmallestPercent * TurnS : spent <= 0;
        m.Kept.SpentPercentS = spent;
        return open
            ? new Command(SmallestPercent, Reason.Of(Cause.SurfaceCarries, SmallestPercent, m.AskedW, gives), default, 0)
            : new Command(0, new Reason(Cause.SurfaceNotNeeded), default, 0);
    }
}
