// Section 5: the condensation guard, per circuit. Above everything else. Works on measured supply (the lower of raw and filtered)
// and the worst-case dew point. A circuit that is shut opens again only when its water is safe and the air steady, or by warming the
// standing water through at full recirculation.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

/// <summary>Guard levels of every circuit.</summary>
internal static class Guard
{
    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Circuits.Length; i++)
        {
            if (!scan.Memory.Loops[scan.House.Circuits[i].Loop].Heats)
                Measure(scan, i);
        }
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            WaterTurns.Step(scan, i);
            Isolation.Step(scan, i);
        }
        for (var i = 0; i < scan.House.Circuits.Length; i++)
            Decide(scan, i, scan.House.Circuits[i], ref scan.Memory.Circuits[i]);
    }

    /// <summary>
    /// False for a circuit about to open into water that flows for others and is too cold for it: it would be shut again within the minute. It waits, shut, as after cold water: the loop is warmed for it, or its room
    /// isolated (rule 5.4).
    /// </summary>
    public static bool MayOpen(in Scan scan, int index, Circuit circuit, ref CircuitMemory m)
    {
        if (scan.Memory.Loops[circuit.Loop].Heats)
            return true;
        var water = LoopWater.Flows(scan, circuit.Loop) ? Math.Min(m.ColdestC, LoopWater.ComesForOthers(scan, index)) : LoopWater.ComesForOthers(scan, index);
        if (!(water < m.LowestSafeC - scan.Settings.OpenBelowK))
            return true;
        var before = m.Level;
        m.Level = GuardLevel.Shut;
        m.ShutReason = Reason.Of(Cause.WaitingForWarmWater, water, m.LowestSafeC - scan.Settings.OpenBelowK);
        scan.Happened(SequenceEvents.GuardChanged, Owner.Room, circuit.Room, m.ShutReason, (byte)before, (byte)m.Level);
        return false;
    }

    private static void Measure(in Scan scan, int index)
    {
        var circuit = scan.House.Circuits[index];
        ref var m = ref scan.Memory.Circuits[index];
        ref readonly var room = ref scan.Memory.Rooms[circuit.Room];
        m.WorstC = room.DewPointWorstC + SupplyAgeing(scan, circuit);
        m.LowestSafeC = LowestSafe(scan, circuit, room, m.WorstC);
        m.Limit = Reason.Of(Cause.LowestSafeSupply, m.LowestSafeC, room.DewPointWorstC);
        if (SurfaceLimit.ColdestSupply(scan, index, out var why) is var coldest && coldest > m.LowestSafeC)
            (m.LowestSafeC, m.Limit) = (coldest, why);
        m.OfUse = LoopWater.IsOfUse(m.LowestSafeC, LoopWater.WarmestUsefulFor(scan, circuit), m.OfUse);
        m.ColdestC = ColdestSupply(scan, circuit);
        Blocks.Hold(ref m.ColdForS, m.ColdestC < m.WorstC + scan.Settings.ShutUnderK, scan.Dt);
        Blocks.Hold(ref m.SteadyForS, room.DewPointRateKPerS * 60 <= scan.Settings.SteadyRateKPerMin, scan.Dt);
        m.WarmThroughRestS = Math.Max(0, m.WarmThroughRestS - scan.Dt);
    }

    private static void Decide(in Scan scan, int index, Circuit circuit, ref CircuitMemory m)
    {
        var before = m.Level;
        Wet(scan, index, circuit, ref m);
        var happened = m.ShutReason;
        if (scan.Memory.Loops[circuit.Loop].Heats)
            happened = Warm(scan, index, ref m);
        else if (Protections.ShutsCooled(scan, index, out var why))
            Shut(ref m, happened = why, scan);
        else if (m.Level == GuardLevel.Shut)
            happened = TryOpen(scan, index, circuit, ref m, Math.Min(m.ColdestC, LoopWater.ComesForOthers(scan, index)));
        if (m.Level != before)
            scan.Happened(SequenceEvents.GuardChanged, Owner.Room, circuit.Room, happened, (byte)before, (byte)m.Level);
    }

    /// <summary>Warm water wets nothing: nothing to guard but the heat of the surface, until the loop carries cold water again.</summary>
    private static Reason Warm(in Scan scan, int index, ref CircuitMemory m)
    {
        var hot = Protections.ShutsHeated(scan, index, out var why);
        m = new CircuitMemory
        {
            Level = hot ? GuardLevel.Shut : GuardLevel.Clear,
            ShutReason = why,
            Wet = m.Wet,
            SinceWetS = m.SinceWetS,
            LowestSafeC = double.NaN,
            WorstC = double.NaN,
            HighestC = SurfaceLimit.WarmestSupply(scan, index),
            ValvePercent = m.ValvePercent,
            OpenForS = m.OpenForS,
            ShutForS = m.ShutForS,
            AskedW = m.AskedW,
            MayGiveW = m.MayGiveW,
            OutputW = m.OutputW,
            Kept = m.Kept,
        };
        return hot ? why : new Reason(Cause.WarmWater);
    }

    /// <summary>Raised: the loop is held warmer than it would like to be. Called after the loops have stepped.</summary>
    public static void Raise(in Scan scan)
    {
        LoopWater.Follow(scan);
        for (var i = 0; i < scan.House.Circuits.Length; i++)
        {
            ref var m = ref scan.Memory.Circuits[i];
            if (m.Level == GuardLevel.Shut || scan.Memory.Loops[scan.House.Circuits[i].Loop].Heats)
                continue;
            ref readonly var loop = ref scan.Memory.Loops[scan.House.Circuits[i].Loop];
            var wish = loop.Asked ? loop.WantedC : double.MaxValue;
            var level = m.LowestSafeC > wish + (m.Level == GuardLevel.Raised ? -0.1 : 0.1) ? GuardLevel.Raised : GuardLevel.Clear;
            if (level == m.Level)
                continue;
            scan.Happened(SequenceEvents.GuardChanged, Owner.Room, scan.House.Circuits[i].Room, m.Limit, (byte)m.Level, (byte)level);
            m.Level = level;
        }
    }

    /// <summary>Rule 5.1: worst-case dew point + margin + what a rising dew point will add until warmer water arrives.</summary>
    private static double LowestSafe(in Scan scan, Circuit circuit, in RoomMemory room, double worst)
    {
        // What is slow to warm or to shut must act that much earlier.
        var acts = Math.Max(scan.House.Loops[circuit.Loop].Settings.LagS, circuit.Actuator.ClosingTimeS);
        var anticipation = Math.Clamp(room.DewPointRateKPerS * acts, 0, scan.Settings.AnticipationAtMostK);
        return worst + scan.Settings.MarginK + anticipation;
    }

    /// <summary>Rule 1.7 for the supply sensor: what is added to the worst case while its reading is older than its device's interval.</summary>
    private static double SupplyAgeing(in Scan scan, Circuit circuit)
    {
        var input = scan.House.Loops[circuit.Loop].Supply;
        var supply = scan.Reading(input);
        return supply.Exists ? Math.Max(0, supply.AgeS - scan.House.Inputs[input].Sensor.IntervalS) * scan.Settings.AgeingAddsKPerMin / 60 : 0;
    }

    /// <summary>The coldest the surface may feel: raw or filtered supply or the surface itself; NaN when the supply is missing.</summary>
    private static double ColdestSupply(in Scan scan, Circuit circuit)
    {
        var input = scan.House.Loops[circuit.Loop].Supply;
        var supply = scan.Reading(input);
        if (!supply.Exists)
            return double.NaN;
        var coldest = Math.Min(supply.Value, scan.Memory.Inputs[input].Raw);
        var surface = scan.Reading(circuit.SurfaceTemperature);
        return surface.Exists ? Math.Min(coldest, surface.Value) : coldest;
    }

    private static void Wet(in Scan scan, int index, Circuit circuit, ref CircuitMemory m)
    {
        var own = scan.IsMade(circuit.CondensationSwitch);
        var manifold = scan.IsMade(scan.House.Loops[circuit.Loop].ManifoldSwitch);
        if (own && !m.Wet)
            scan.Happened(SequenceEvents.CondensationWet, Owner.Room, circuit.Room, new Reason(Cause.CondensationSwitch));
        m.Wet = own;
        // One switch is one call, however many circuits it shuts: the first of them tells it.
        ref var loop = ref scan.Memory.Loops[circuit.Loop];
        if (manifold != loop.ManifoldWet)
            scan.Happened(manifold ? SequenceEvents.ManifoldWet : SequenceEvents.ManifoldDry, Owner.Loop, circuit.Loop, new Reason(Cause.CondensationSwitch));
        loop.ManifoldWet = manifold;
        m.SinceWetS = own || manifold ? 0 : m.SinceWetS + scan.Dt;
    }

    private static void Shut(ref CircuitMemory m, in Reason why, in Scan scan)
    {
        if (m.WarmThrough)
            EndWarmThrough(ref m, scan);
        if (m.Level != GuardLevel.Shut)
            m.SteadyForS = 0;   // steady from now on, not from before
        m.Level = GuardLevel.Shut;
        m.ShutReason = why;
        m.WarmThrough = false;
    }

    /// <summary>Rules 5.2 and 5.3: steady air and safe water open the circuit; steady air and standing water that will be safe warm it through.</summary>
    private static Reason TryOpen(in Scan scan, int index, Circuit circuit, ref CircuitMemory m, double supply)
    {
        var s = scan.Settings;
        var wait = Math.Max(s.OpenAfterSteadyS - m.SteadyForS, s.OpenAfterWetS - m.SinceWetS);
        if (wait > 0)
        {
            m.ShutReason = Reason.Of(Cause.WaitingForSteadyAir, wait);
            if (m.WarmThrough)
                EndWarmThrough(ref m, scan);
            return m.ShutReason;
        }
        if (supply >= m.LowestSafeC - s.OpenBelowK)
        {
            m.ShutReason = Reason.Of(Cause.LowestSafeSupply, m.LowestSafeC, m.WorstC);
            m.Level = GuardLevel.Clear;
            m.WarmThrough = false;
            m.WarmThroughForS = 0;
            return m.ShutReason;
        }
        m.ShutReason = Reason.Of(Cause.WaitingForWarmWater, supply, m.LowestSafeC - s.OpenBelowK);
        WarmThrough(scan, index, circuit, ref m, supply);
        return m.ShutReason;
    }

    /// <summary>
    /// Rule 5.3, for a loop whose supply sensor sees nothing while every circuit is shut. Only alone on its loop: it takes the mixing valve to full
    /// recirculation. It ends when nobody asks, when others open, and when the moving water turns out cold.
    /// </summary>
    private static void WarmThrough(in Scan scan, int index, Circuit circuit, ref CircuitMemory m, double supply)
    {
        var s = scan.Settings;
        ref readonly var loop = ref scan.Memory.Loops[circuit.Loop];
        var bypass = scan.House.Loops[circuit.Loop].Settings.Bypass;
        var wanted = LoopWater.IsWanted(scan, index) && m.OfUse;
        // Past the circuits nothing can get wet, so the water need not be expected to be safe.
        var expected = wanted && IsAlone(scan, index, circuit.Loop) && (bypass || (loop.HasSlug && loop.SlugC >= m.WorstC + s.SlugAboveK));
        if (m.WarmThrough)
        {
            m.WarmThroughForS += loop.PumpOn ? scan.Dt : 0;   // the actuator's time is not the water's
            var cold = !bypass && LoopWater.Flows(scan, circuit.Loop) && supply < m.WorstC + s.ShutAtOnceUnderK;
            if (!expected || cold || m.WarmThroughForS > s.WarmThroughAtMostS)
                EndWarmThrough(ref m, scan);
        }
        else if (expected && m.WarmThroughRestS <= 0)
        {
            m.WarmThrough = true;
            m.WarmThroughForS = 0;
        }
        if (m.WarmThrough)
            m.ShutReason = bypass ? Reason.Of(Cause.PastCircuits, supply, m.LowestSafeC - s.OpenBelowK) : Reason.Of(Cause.WarmThrough, loop.SlugC, m.WorstC);
    }

    private static bool IsAlone(in Scan scan, int index, int loop)
    {
        foreach (var i in scan.House.Loops[loop].Circuits)
        {
            if (i == index)
                continue;
            ref readonly var other = ref scan.Memory.Circuits[i];
            var opensNow = other.Level != GuardLevel.Shut && other.AskedW > 0 && Demand.WantsSurface(scan.Memory.Rooms[scan.House.Circuits[i].Room]);
            if (other.ValvePercent > 0 || other.WarmThrough || opensNow)
                return false;
        }
        return true;
    }

    private static void EndWarmThrough(ref CircuitMemory m, in Scan scan)
    {
        // What never flowed has nothing to rest from, but its actuator has moved.
        m.WarmThroughRestS = m.WarmThroughForS > 0 ? scan.Settings.WarmThroughAtMostS : scan.Settings.DwellS;
        m.WarmThrough = false;
        m.WarmThroughForS = 0;
    }
}
