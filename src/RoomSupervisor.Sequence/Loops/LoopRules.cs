// Section 6, as far as one room a loop needs it: supply set point under the guard's limit, mixing valve, pump. A pump never pushes
// against shut valves; a mixing valve at 0 % takes nothing cold in, which is safe.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Rules of one loop.</summary>
internal static class LoopRules
{
    public static void Step(in Scan scan, int index)
    {
        ref var m = ref scan.Memory.Loops[index];
        var loop = scan.House.Loops[index];
        if (loop.Serves == LoopServes.Surfaces)
            Surfaces(scan, index, loop, ref m);
        else
            Coils(scan, index, loop, ref m);
        Protect(scan, index, loop, ref m);
        var wish = Pump(scan, index, loop, ref m);
        var pump = HandValues.Over(scan, loop.Pump, wish, wish.Binding.Cause != Cause.CircuitOpen);   // never against shut valves
        m.PumpOn = pump.Value > 0.5;
        Blocks.Hold(ref m.PumpForS, m.PumpOn, scan.Dt);
        scan.Outputs.Commands[loop.Pump] = pump;
        if (loop.PumpSpeed >= 0)
            scan.Outputs.Commands[loop.PumpSpeed] = HandValues.Over(scan, loop.PumpSpeed, pump with { Value = m.PumpOn ? 100 : 0 }, !m.PumpOn);
        if (loop.StandbyPump >= 0)
            scan.Outputs.Commands[loop.StandbyPump] = new Command(0, new Reason(Cause.NoCircuitOpen), default, 0);
        if (loop.Mixing >= 0)
        {
            var mixing = HandValues.Over(scan, loop.Mixing, Mixing.Step(scan, index, loop, ref m), m.Guard == GuardLevel.Shut || m.Stopped != Cause.None);
            m.MixingPercent = mixing.Value;
            scan.Outputs.Commands[loop.Mixing] = mixing;
        }
        Slug(scan, index, loop, ref m);
    }

    /// <summary>Set point of a loop of cooled surfaces: water for the watts asked, never under the lowest safe supply; rises at once, falls slowly.</summary>
    private static void Surfaces(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        if (m.Heats)
        {
            Warm(scan, index, loop, ref m);
            return;
        }
        var wanted = loop.WarmestC;
        m.LowestSafeC = double.NegativeInfinity;
        var whenNobodyIsOpen = double.NegativeInfinity;
        m.Asked = false;
        m.Guard = GuardLevel.Clear;
        foreach (var i in loop.Circuits)
        {
            var circuit = scan.House.Circuits[i];
            ref readonly var c = ref scan.Memory.Circuits[i];
            m.Guard = (GuardLevel)Math.Max((byte)m.Guard, (byte)c.Level);
            if (!double.IsNaN(c.LowestSafeC))
                whenNobodyIsOpen = Math.Max(whenNobodyIsOpen, c.LowestSafeC);
            // A room whose circuit is shut does not hold the water up for the others.
            if (c.ValvePercent <= 0)
                continue;
            m.LowestSafeC = Math.Max(m.LowestSafeC, c.LowestSafeC);
            if (c.AskedW <= 0)
                continue;
            m.Asked = true;
            var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
            if (air.Exists)
                wanted = Math.Min(wanted, Emitters.SupplyForOutput(circuit, air.Value, c.AskedW, scan.Settings.SupplyFromReturnK, heats: false));
        }
        var isOpen = !double.IsInfinity(m.LowestSafeC);
        if (isOpen)
            m.LowestSafeC = Math.Max(Math.Max(m.LowestSafeC, Waiting(scan, index)), OfManifold(scan, loop));
        if (!isOpen)
            m.LowestSafeC = whenNobodyIsOpen;
        m.WantedC = Math.Max(loop.ColdestC, wanted);
        var target = Math.Max(m.Asked ? m.WantedC : loop.WarmestC, m.LowestSafeC);
        m.SetPointC = !m.HasSetPoint || target > m.SetPointC || !isOpen
            ? target
            : Math.Max(target, m.SetPointC - scan.Settings.FallRateKPerMin * scan.Dt / 60);
        m.HasSetPoint = true;
    }

    /// <summary>The air where the manifold stands always counts (rule 5.4): its pipes are bare. Nothing where it is not said or not known.</summary>
    private static double OfManifold(in Scan scan, Loop loop)
    {
        if (loop.ManifoldRoom < 0)
            return double.NegativeInfinity;
        var worst = scan.Memory.Rooms[loop.ManifoldRoom].DewPointWorstC;
        return double.IsNaN(worst) ? double.NegativeInfinity : worst + scan.Settings.MarginK;
    }

    /// <summary>
    /// Lowest safe supply of circuits that wait, shut, for warmer water on a loop that others use: they are let in by warming the loop, as long as the
    /// water is still of use to every room that is open now. Beyond that the others go on, and isolation is a later version's.
    /// </summary>
    private static double Waiting(in Scan scan, int index)
    {
        var useful = double.PositiveInfinity;
        foreach (var i in scan.House.Loops[index].Circuits)
        {
            if (scan.Memory.Circuits[i].ValvePercent > 0)
                useful = Math.Min(useful, LoopWater.WarmestUsefulFor(scan, scan.House.Circuits[i]));
        }
        var highest = double.NegativeInfinity;
        foreach (var i in scan.House.Loops[index].Circuits)
        {
            ref readonly var c = ref scan.Memory.Circuits[i];
            ref readonly var room = ref scan.Memory.Rooms[scan.House.Circuits[i].Room];
            var waits = c.Level == GuardLevel.Shut && c.ValvePercent <= 0 && c.ShutReason.Cause == Cause.WaitingForWarmWater;
            if (waits && Demand.WantsSurface(room) && room.DemandW > 0 && c.LowestSafeC <= useful)
                highest = Math.Max(highest, c.LowestSafeC);
        }
        return highest;
    }

    /// <summary>
    /// Set point of a loop of heated surfaces: by the outdoor temperature, straight between its coldest and its warmest; without one, water for the
    /// watts asked.
    /// </summary>
    private static void Warm(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var (coldest, warmest) = (loop.Settings.HeatingColdestC(loop.Serves), loop.Settings.HeatingWarmestC(loop.Serves));
        var wanted = coldest;
        m.LowestSafeC = double.NaN;
        m.Guard = GuardLevel.Clear;
        m.Asked = false;
        foreach (var i in loop.Circuits)
        {
            var circuit = scan.House.Circuits[i];
            ref readonly var c = ref scan.Memory.Circuits[i];
            var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
            if (c.ValvePercent <= 0 || c.AskedW <= 0 || !air.Exists)
                continue;
            m.Asked = true;
            wanted = Math.Max(wanted, Emitters.SupplyForOutput(circuit, air.Value, c.AskedW, scan.Settings.SupplyFromReturnK, heats: true));
        }
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (outdoors.Exists && m.Asked)
        {
            var none = scan.Settings.NoHeatingOverC;
            var share = (none - outdoors.Value) / (none - loop.Settings.DesignOutdoorC);
            wanted = coldest + (warmest - coldest) * Math.Clamp(share, 0, 1);
        }
        m.WantedC = Math.Clamp(wanted, coldest, warmest);
        m.SetPointC = m.WantedC;
        m.HasSetPoint = true;
    }

    /// <summary>True when a coil's water in use is this loop's.</summary>
    private static bool Uses(in Scan scan, int coil, int loop)
        => scan.Memory.Coils[coil].ValvePercent > 0 && RoomCoils.LoopOf(scan.House.Coils[coil], scan.Memory.Coils[coil].Heats) == loop;

    /// <summary>Coil loop: coldest (warmest) water while a room is pulled down, otherwise as mild as the coils' share of their output allows.</summary>
    private static void Coils(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var share = 0.0;
        m.Asked = false;
        foreach (var i in loop.Coils)
        {
            if (!Uses(scan, i, index))
                continue;
            m.Asked = true;
            var cap = Math.Max(scan.Memory.Coils[i].CapPercent, 1);
            share = Math.Max(share, IsPulling(scan, scan.House.Coils[i]) ? 1 : Math.Min(1, scan.Memory.Coils[i].FanPercent / cap));
        }
        m.LowestSafeC = double.NaN;
        var (mild, strong) = m.Heats ? (loop.Settings.HeatingColdestC(loop.Serves), loop.Settings.HeatingWarmestC(loop.Serves)) : (loop.WarmestC, loop.ColdestC);
        m.WantedC = mild + share * (strong - mild);
        m.SetPointC = m.WantedC;
        m.HasSetPoint = true;
    }

    /// <summary>True while a room of the coil wants the strongest water: pulled down, warmed up or dried.</summary>
    private static bool IsPulling(in Scan scan, Coil coil)
    {
        foreach (var room in coil.Rooms)
        {
            ref readonly var m = ref scan.Memory.Rooms[room];
            if (m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff || m.Moisture == Moisture.Dehumidifying)
                return true;
        }
        return false;
    }

    /// <summary>
    /// Rule 6.7: what stops a loop whatever its rooms want: a high limit that has tripped and half an hour after it, a leak until the next start, too
    /// little water pressure. A limit whose contact cannot be read stops it for as long, told when it lasts: at every start it is so for a moment. A
    /// pressure that cannot be read stops nothing.
    /// </summary>
    private static void Protect(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        m.HighLimitRestS = scan.IsMade(loop.HighLimit) ? HighLimitQuietS : Math.Max(0, m.HighLimitRestS - scan.Dt);
        var unread = scan.IsUnread(loop.HighLimit);
        Blocks.Hold(ref m.HighLimitUnreadS, unread, scan.Dt);
        var pressure = scan.Reading(loop.Pressure);
        m.Stopped = scan.Memory.Leak ? Cause.Leak
            : m.HighLimitRestS > 0 ? Cause.HighLimit
            : unread ? Cause.HighLimitUnread
            : pressure.Exists && pressure.Value < LowestPressureKPa ? Cause.PressureLow
            : Cause.None;
        var lasts = m.Stopped != Cause.HighLimitUnread || m.HighLimitUnreadS >= scan.Settings.DeclaredMissingAfterS;
        if (m.Stopped != Cause.None && m.Stopped != m.ToldStopped && lasts)
            scan.Happened(SequenceEvents.LoopStopped, Owner.Loop, index, new Reason(m.ToldStopped = m.Stopped));
        else if (m.Stopped == Cause.None && m.ToldStopped != Cause.None)
        {
            scan.Happened(SequenceEvents.LoopFree, Owner.Loop, index, new Reason(m.ToldStopped));
            m.ToldStopped = Cause.None;
        }
    }

    /// <summary>How long a high limit must have been quiet, s.</summary>
    private const double HighLimitQuietS = 1800;

    /// <summary>Under this gauge pressure a pump would draw air, kPa.</summary>
    private const double LowestPressureKPa = 50;

    /// <summary>On while a circuit or coil valve has been open for its actuator's opening time; off with the last one shut.</summary>
    private static Command Pump(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        if (m.Stopped != Cause.None)
            return new Command(0, new Reason(m.Stopped), default, 0);
        var waits = double.PositiveInfinity;
        if (loop.Serves == LoopServes.Surfaces)
        {
            if (!scan.Reading(loop.Supply).Exists && !m.Heats)
                return new Command(0, new Reason(Cause.SupplyMissing), default, 0);
            foreach (var i in loop.Circuits)
            {
                var circuit = scan.House.Circuits[i];
                if (scan.Memory.Circuits[i].ValvePercent > 0)
                    waits = Math.Min(waits, circuit.Actuator.OpeningTimeS - scan.Memory.Circuits[i].OpenForS);
            }
        }
        else
        {
            foreach (var i in loop.Coils)
            {
                if (Uses(scan, i, index))
                    waits = Math.Min(waits, scan.House.Coils[i].OpeningTimeS - scan.Memory.Coils[i].ValveOpenForS);
            }
        }
        if (double.IsInfinity(waits))
            return new Command(0, new Reason(Cause.NoCircuitOpen), default, 0);
        return waits > 0
            ? new Command(0, Reason.Of(Cause.CircuitOpening, waits), default, 0)
            : new Command(1, new Reason(Cause.CircuitOpen), default, 0);
    }

    /// <summary>What the standing water will measure when it moves: the mean of supply and return while it flows, then warming towards the room.</summary>
    private static void Slug(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        if (loop.Serves != LoopServes.Surfaces || m.Heats)
            return;
        var supply = scan.Reading(loop.Supply);
        if (m.PumpOn || !m.HasSlug)
        {
            m.HasSlug = supply.Exists;
            if (!supply.Exists || (m.HasSlug && m.PumpOn && m.PumpForS < loop.Settings.LagS))
                return;
            var back = scan.Reading(loop.Return);
            m.SlugC = m.PumpOn ? (supply.Value + (back.Exists ? back.Value : supply.Value)) / 2 : supply.Value;
            return;
        }
        var air = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
        {
            var reading = scan.Reading(scan.House.Rooms[scan.House.Circuits[i].Room].AirTemperature);
            if (reading.Exists)
                air = Math.Min(air, reading.Value);
        }
        if (double.IsFinite(air))
            m.SlugC += (air - m.SlugC) * Blocks.FilterShare(scan.Dt, scan.Settings.SlugTimeS);
    }
}
