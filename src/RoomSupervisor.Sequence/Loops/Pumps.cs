// Section 6, rule 4: the pumps of a loop: when one runs, which of two, how fast, and whether it really does. Never pushes against shut valves: it waits until a circuit is proven open, by its end switch or by the
// time its actuator takes; runs on only where a bypass gives the water a way.
using RoomSupervisor.Sequence.Sources;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Pumps.</summary>
internal static class Pumps
{
    /// <summary>Less flow than this is none, l/min (project choice: a meter's noise).</summary>
    private const double NoFlowLPerMin = 0.5;

    /// <summary>Shortest time between two changes from one pump to the other, s (project choice: two pumps without proof are not the pumps' fault).</summary>
    private const double ChangeRestS = 3600;

    public static void Step(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var wish = Wish(scan, index, loop, ref m);
        Prove(scan, index, loop, ref m);
        var onStandby = loop.StandbyPump >= 0 && (Exercise.OnStandby(scan, index, loop, m) ?? m.Pump.OnStandby);
        var on = Write(scan, loop.Pump, onStandby ? Other(wish, Cause.StandbyRuns) : wish, m.Frost);
        if (loop.StandbyPump >= 0)
            on |= Write(scan, loop.StandbyPump, onStandby ? wish : Other(wish, Cause.StandsBy), m.Frost);
        m.PumpOn = on;
        Blocks.Hold(ref m.PumpForS, m.PumpOn, scan.Dt);
        if (loop.PumpSpeed >= 0)
        {
            var speed = Speed(scan, index, loop, m, wish);
            HandValues.Over(scan, loop.PumpSpeed, !m.PumpOn || m.Frost, ref speed);
            scan.Outputs.Commands[loop.PumpSpeed] = speed;
        }
    }

    private static bool Write(in Scan scan, int output, in Command wish, bool isFrost)
    {
        var command = wish;
        HandValues.Over(scan, output, isFrost || wish.Value < 0.5, ref command);   // by hand never against shut valves, never off in frost
        scan.Outputs.Commands[output] = command;
        return command.Value > 0.5;
    }

    private static Command Other(in Command wish, Cause cause) => wish.Value > 0.5 ? new Command(0, new Reason(cause), wish.Binding, 0) : wish;

    /// <summary>Whether a pump is to run, and why.</summary>
    private static Command Wish(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        m.Pump.PostRunS = Math.Max(0, m.Pump.PostRunS - scan.Dt);
        m.Pump.RunsOn = false;
        if (m.Stopped != Cause.None && !(m.Frost && m.Stopped == Cause.SupplyMissing))
            return Off(new Reason(m.Stopped));
        var stopped = SourceWater.StopsPump(scan, loop);
        if (stopped != Cause.None && (!m.Frost || stopped == Cause.ChangingOver))
            return SourceWater.Instead(scan, loop.Source, default);
        if (Exercise.OfPump(scan, index, loop, m) is { Binding.Cause: not Cause.None } exercised)
            return exercised;
        var waits = Math.Min(WaitsS(scan, index, loop), m.Frost ? Frost.WaitsS(scan, index, loop, m) : double.PositiveInfinity);
        if (waits <= 0)
        {
            m.Pump.PostRunS = scan.Settings.PumpPostRunS;
            return On(m.Frost ? Frost.Why(m) : new Reason(Cause.CircuitOpen));
        }
        m.Pump.RunsOn = (m.Frost || m.Pump.PostRunS > 0) && loop.Settings.Bypass;   // past valves that are not open yet: against frost at once
        if (m.Pump.RunsOn)
            return On(m.Frost ? Frost.Why(m) : Reason.Of(Cause.PostRun, m.Pump.PostRunS));
        if (PassingBy(scan, loop) is { Cause: not Cause.None } past)
            return On(past);
        return Off(double.IsInfinity(waits) ? new Reason(Cause.NoCircuitOpen) : Reason.Of(Cause.CircuitOpening, waits));
    }

    private static Command On(in Reason why) => new(1, why, default, 0);

    private static Command Off(in Reason why) => new(0, why, default, 0);

    /// <summary>Time until the first circuit or coil valve is open, s; 0 or less: one is; infinite: all are shut.</summary>
    private static double WaitsS(in Scan scan, int index, Loop loop)
    {
        var waits = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
        {
            if (scan.Memory.Circuits[i].ValvePercent > 0)
                waits = Math.Min(waits, UntilOpenS(scan, scan.House.Circuits[i], scan.Memory.Circuits[i].ValvePercent, scan.Memory.Circuits[i].OpenForS));
        }
        foreach (var i in loop.Coils)
        {
            if (LoopWater.Uses(scan, i, index))
                waits = Math.Min(waits, scan.House.Coils[i].OpeningTimeS - scan.Memory.Coils[i].ValveOpenForS);
        }
        return waits;
    }

    /// <summary>An end switch that can be read counts more than the actuator's time, both ways; of a valve that is only throttled it says nothing when it is not made.</summary>
    public static double UntilOpenS(in Scan scan, Circuit circuit, double told, double openForS)
    {
        var byTime = circuit.Actuator.OpeningTimeS - openForS;
        if (!scan.Reading(circuit.EndSwitch).Exists)
            return byTime;
        return scan.IsMade(circuit.EndSwitch) ? 0 : told >= 100 ? Math.Max(byTime, scan.Dt + 1) : byTime;
    }

    /// <summary>Rule 5.5: on a loop with a bypass the pump runs past shut circuits, so that the supply sensor sees the water; none where nobody asks for it.</summary>
    private static Reason PassingBy(in Scan scan, Loop loop)
    {
        var circuit = loop.Settings.Bypass ? LoopWater.WarmingThrough(scan, loop) : -1;
        return circuit < 0 ? default : scan.Memory.Circuits[circuit].ShutReason;
    }

    /// <summary>A pump told to run without its contact, or without flow, is told; the other one takes over. Sensors that cannot be read prove nothing either way.</summary>
    private static void Prove(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        ref var p = ref m.Pump;
        p.ChangeRestS = Math.Max(0, p.ChangeRestS - scan.Dt);
        var (contact, flow) = (scan.Reading(loop.PumpProof), scan.Reading(loop.Flow));
        // Raw: a filter would let a flow that has ceased fade for half a minute.
        var unproven = (contact.Exists && contact.Value < 0.5) || (flow.Exists && scan.Memory.Inputs[loop.Flow].Raw < NoFlowLPerMin);
        Blocks.Hold(ref p.UnprovenForS, m.PumpOn && unproven, scan.Dt);
        if (p.ToldUnproven && m.PumpOn && !unproven)
        {
            p.ToldUnproven = false;
            scan.Happened(SequenceEvents.PumpProven, Owner.Loop, index, new Reason(p.OnStandby ? Cause.StandbyRuns : Cause.CircuitOpen));
        }
        if (p.UnprovenForS < scan.Settings.ProofWaitS)
            return;
        var changes = loop.StandbyPump >= 0 && p.ChangeRestS <= 0;
        if (!p.ToldUnproven || changes)
            scan.Happened(SequenceEvents.PumpNotProven, Owner.Loop, index, Reason.Of(p.OnStandby ? Cause.StandbyNotProven : Cause.PumpNotProven, p.UnprovenForS));
        p.ToldUnproven = true;
        if (!changes)
            return;
        (p.OnStandby, p.ChangeRestS, p.UnprovenForS) = (!p.OnStandby, ChangeRestS, 0);
        m.PumpForS = 0;   // its water is seen anew
    }

    /// <summary>Speed by the share of the loop that is open: what all circuits need is what a pump is chosen for, one alone needs less of it.</summary>
    private static Command Speed(in Scan scan, int index, Loop loop, in LoopMemory m, in Command wish)
    {
        if (!m.PumpOn)
            return new Command(0, wish.Binding, default, 0);
        var share = m.Frost ? 1 : OpenShare(scan, index, loop);
        var slowest = loop.Settings.PumpSlowestPercent;
        var speed = slowest + (100 - slowest) * share;
        return new Command(speed, Reason.Of(Cause.PumpSpeed, speed, 100 * share), default, 0);
    }

    /// <summary>Surfaces count by area, coils each the same.</summary>
    private static double OpenShare(in Scan scan, int index, Loop loop)
    {
        var (open, all) = (0.0, 0.0);
        foreach (var i in loop.Circuits)
        {
            var area = scan.House.Circuits[i].Settings.AreaM2;
            open += area * scan.Memory.Circuits[i].ValvePercent / 100;
            all += area;
        }
        foreach (var i in loop.Coils)
        {
            open += LoopWater.Uses(scan, i, index) ? scan.Memory.Coils[i].ValvePercent / 100 : 0;
            all += 1;
        }
        return all > 0 ? Math.Clamp(open / all, 0, 1) : 0;
    }
}
