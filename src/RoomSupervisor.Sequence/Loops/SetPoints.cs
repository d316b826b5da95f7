// Section 6, rules 1 and 2: the supply set point of a loop. One room: water for the watts asked. Several: trim and respond on their requests. Coils: their coldest while a room is pulled down or dried, else as mild
// as requests allow. Never under what the guard calls safe, nor over what a heated surface bears; in cooling it rises at once and falls slowly.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Supply set points.</summary>
internal static class SetPoints
{
    /// <summary>Water a coil loop begins with in heating, °C (sequence, rule 6.2); warmer in a warm-up.</summary>
    private const double CoilsHeatWithC = 40;

    public static void Step(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        if (loop.Serves == LoopServes.Coils)
            Coils(scan, index, loop, ref m);
        else if (m.Heats && m.IsHeld)
            Held.Water(scan, loop, ref m);
        else if (m.Heats)
            Warm(scan, index, loop, ref m);
        else
            Cool(scan, index, loop, ref m);
        m.HasSetPoint = true;
    }

    /// <summary>A loop of cooled surfaces.</summary>
    private static void Cool(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var wanted = loop.WarmestC;
        m.LowestSafeC = double.NegativeInfinity;
        var whenNobodyIsOpen = double.NegativeInfinity;
        m.Limit = default;
        m.Asked = false;
        foreach (var i in loop.Circuits)
        {
            var circuit = scan.House.Circuits[i];
            ref readonly var c = ref scan.Memory.Circuits[i];
            if (!double.IsNaN(c.LowestSafeC))
                whenNobodyIsOpen = Math.Max(whenNobodyIsOpen, c.LowestSafeC);
            if (!Holds(circuit, c))
                continue;
            LimitBy(ref m, c.LowestSafeC, c.Limit);
            if (c.ValvePercent <= 0 || c.AskedW <= 0)
                continue;
            m.Asked = true;
            wanted = Math.Min(wanted, LoopWater.Wanted(scan, i));
        }
        var isOpen = !double.IsInfinity(m.LowestSafeC);
        if (isOpen)
            Others(scan, loop, ref m);
        else
            m.LowestSafeC = whenNobodyIsOpen;
        m.WantedC = Math.Max(loop.ColdestC, wanted);
        if (loop.HasSeveralRooms)
            m.WantedC = RoomRequests.Trimmed(scan, index, loop, m.WantedC, isHeld: m.LowestSafeC >= m.TrimmedC, loop.ColdestC, loop.WarmestC, ref m);
        var target = Math.Max(m.Asked ? m.WantedC : loop.WarmestC, m.LowestSafeC);
        m.SetPointC = !m.HasSetPoint || target > m.SetPointC || !isOpen
            ? target
            : Math.Max(target, m.SetPointC - scan.Settings.FallRateKPerMin * scan.Dt / 60);
    }

    /// <summary>A room whose circuit is shut does not hold the water up for the others; one just isolated does until its actuator has shut.</summary>
    private static bool Holds(Circuit circuit, in CircuitMemory c) => c.ValvePercent > 0 || (c.Isolated && c.ShutForS < circuit.Actuator.ClosingTimeS);

    private static void LimitBy(ref LoopMemory m, double lowest, in Reason why)
    {
        if (lowest > m.LowestSafeC)
            (m.LowestSafeC, m.Limit) = (lowest, why);
    }

    /// <summary>
    /// Besides the open circuits: the manifold's air, and circuits that wait, shut, for warmer water on a loop that others use. These are let in by warming the loop, as long as the
    /// water is still of use to every room that is open now and no room is isolated for it (rule 5.4); after their longest wait, for a turn, in any case.
    /// </summary>
    private static void Others(in Scan scan, Loop loop, ref LoopMemory m)
    {
        if (loop.ManifoldRoom >= 0)
        {
            var manifold = LoopWater.OfManifold(scan, loop);
            LimitBy(ref m, manifold, Reason.Of(Cause.LowestSafeSupply, manifold, scan.Memory.Rooms[loop.ManifoldRoom].DewPointWorstC));
        }
        var useful = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
        {
            if (scan.Memory.Circuits[i].ValvePercent > 0)
                useful = Math.Min(useful, LoopWater.WarmestUsefulFor(scan, scan.House.Circuits[i]));
        }
        foreach (var i in loop.Circuits)
        {
            ref readonly var c = ref scan.Memory.Circuits[i];
            if (LoopWater.Waits(c) && LoopWater.IsWanted(scan, i) && (c.LowestSafeC <= useful || WaterTurns.Has(c)))
                LimitBy(ref m, c.LowestSafeC, c.Limit);
        }
    }

    /// <summary>
    /// A loop of heated surfaces: by the outdoor temperature, straight between its coldest and its warmest, and of thin surfaces over that by requests; without a sensor outdoors, water for the watts asked.
    /// </summary>
    private static void Warm(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var (coldest, warmest) = (loop.Settings.HeatingColdestC(loop.Serves), loop.Settings.HeatingWarmestC(loop.Serves));
        var wanted = coldest;
        var highest = double.PositiveInfinity;
        m.LowestSafeC = double.NaN;
        m.Limit = default;
        m.Asked = false;
        foreach (var i in loop.Circuits)
        {
            var circuit = scan.House.Circuits[i];
            ref readonly var c = ref scan.Memory.Circuits[i];
            var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
            if (c.ValvePercent <= 0 || c.AskedW <= 0 || !air.Exists)
                continue;
            m.Asked = true;
            if (c.HighestC < highest)
                (highest, m.Limit) = (c.HighestC, Reason.Of(Cause.SurfaceLimit, c.HighestC, SurfaceLimit.WarmestSurface(scan, circuit)));
            wanted = Math.Max(wanted, Emitters.SupplyForOutput(circuit, air.Value, c.AskedW, scan.Settings.SupplyFromReturnK, heats: true));
        }
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (outdoors.Exists && m.Asked)
        {
            var none = scan.Settings.NoHeatingOverC;
            var share = (none - outdoors.Value) / (none - loop.Settings.DesignOutdoorC);
            var byOutdoors = coldest + (warmest - coldest) * Math.Clamp(share, 0, 1);
            var isHeld = byOutdoors + m.TrimmedC >= Math.Min(highest, warmest);
            // A slab gives what it is asked for hours later, when the sun has come: requests left rooms colder in the mornings than the weather alone (a simulated winter).
            wanted = loop.IsSlow ? byOutdoors : byOutdoors + RoomRequests.Trimmed(scan, index, loop, 0, isHeld, 0, scan.Settings.OutdoorTrimK, ref m);
        }
        m.WantedC = Math.Min(highest, Math.Clamp(wanted, coldest, warmest));
        m.SetPointC = m.WantedC;
    }

    /// <summary>Coil loop: coldest (warmest) water while a room is pulled down (warmed up), dried or asks to be dried, otherwise as mild as requests allow.</summary>
    private static void Coils(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var strongly = false;
        m.Asked = false;
        foreach (var i in loop.Coils)
        {
            var uses = LoopWater.Uses(scan, i, index);
            m.Asked |= uses;
            strongly |= WantsStrongest(scan, index, scan.House.Coils[i], uses);
        }
        m.LowestSafeC = double.NaN;
        var (mild, strong) = m.Heats ? (loop.Settings.HeatingColdestC(loop.Serves), loop.Settings.HeatingWarmestC(loop.Serves)) : (loop.WarmestC, loop.ColdestC);
        var begin = m.Heats ? Math.Clamp(CoilsHeatWithC, mild, strong) : mild;
        if (strongly)
            RoomRequests.BeginAt(strong, ref m);
        m.WantedC = strongly ? strong : RoomRequests.Trimmed(scan, index, loop, begin, isHeld: false, Math.Min(mild, strong), Math.Max(mild, strong), ref m);
        m.SetPointC = m.WantedC;
    }

    /// <summary>True while a room of the coil wants the strongest water.</summary>
    private static bool WantsStrongest(in Scan scan, int index, Coil coil, bool uses)
    {
        var mayAskToDry = coil.Loop == index && scan.Memory.Sources[scan.House.Loops[index].Source].Drying.Granted && !scan.Memory.Loops[index].Heats;
        foreach (var room in coil.Rooms)
        {
            ref readonly var m = ref scan.Memory.Rooms[room];
            if (uses && (m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff || m.Moisture == Moisture.Dehumidifying))
                return true;
            if (mayAskToDry && m.DryWishForS > scan.Settings.DryWaitS && m.DryRestS <= 0)
                return true;
        }
        return false;
    }
}
