// Section 6, rule 1: how much more than their water gives the rooms of a loop ask for, as requests from 0 to 3, and the set point that follows from them. A request is of the water now, so a slab is not waited for.
// Never moves a set point while the pump stands: what the rooms ask then is not asked of this water.
using RoomSupervisor.Sequence.Rooms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Requests of rooms to their loop.</summary>
internal static class RoomRequests
{
    /// <summary>
    /// Valve opening that makes one request, and that ends it, as a share (Guideline 36 counts a control loop over 95 % until it is under 85 %). Two and three: asked for so much more than the water gives
    /// (project choice: watts tell at once what a room's temperature would tell in an hour).
    /// </summary>
    private const double One = 0.95, OneEnds = 0.85, Two = 1.02, Three = 1.2;

    /// <summary>The same by the fan of a coil, as a share of what its limits let it turn: warmer water is paid for in noise (project choice).</summary>
    private const double FanOne = 0.6, FanTwo = 0.75, FanThree = 0.9;

    /// <summary>What requests have made of a set point, or of the distance from one: begins at what is given while the pump stands, and moves once a period while it flows.</summary>
    /// <param name="scan">This scan.</param>
    /// <param name="index">The loop.</param>
    /// <param name="loop">The same.</param>
    /// <param name="begin">Where it begins.</param>
    /// <param name="isHeld">True while something else decides the water: asking moves nothing.</param>
    /// <param name="lowest">Lowest value.</param>
    /// <param name="highest">Highest value.</param>
    /// <param name="m">Remembered.</param>
    public static double Trimmed(in Scan scan, int index, Loop loop, double begin, bool isHeld, double lowest, double highest, ref LoopMemory m)
    {
        m.Requests = Count(scan, index, loop, m.Heats);
        if (!m.PumpOn)
            BeginAt(begin, ref m);
        m.TrimForS = LoopWater.Flows(scan, index) ? m.TrimForS + scan.Dt : 0;
        if (m.TrimForS < scan.Settings.RequestPeriodS)
            return m.TrimmedC = Math.Clamp(m.TrimmedC, lowest, highest);
        m.TrimForS = 0;
        var s = scan.Settings;
        var milder = m.Heats ? -1 : 1;
        var rule = new TrimAndRespond(milder * s.RequestTrimK, -milder * s.RequestRespondK, s.RequestRespondAtMostK, s.RequestsIgnored, lowest, highest);
        return m.TrimmedC = isHeld ? rule.NextHeld(m.TrimmedC, m.Requests) : rule.Next(m.TrimmedC, m.Requests);
    }

    /// <summary>From here on requests move it.</summary>
    public static void BeginAt(double value, ref LoopMemory m) => (m.TrimmedC, m.TrimForS) = (value, 0);

    /// <summary>Each room counts once, by the circuit that asks most; coils each.</summary>
    private static int Count(in Scan scan, int index, Loop loop, bool heats)
    {
        foreach (var i in loop.Circuits)
            Follow(scan, i, heats);
        var sum = 0;
        foreach (var i in loop.Circuits)
            sum += OfRoom(scan, index, i);
        foreach (var i in loop.Coils)
            sum += LoopWater.Uses(scan, i, index) ? OfCoil(scan.Memory.Coils[i]) : 0;
        return sum;
    }

    /// <summary>What a circuit's room asks of the loop; 0 where another circuit of the room has told it already.</summary>
    private static int OfRoom(in Scan scan, int loop, int circuit)
    {
        var (first, most) = (-1, 0);
        foreach (var i in scan.House.Rooms[scan.House.Circuits[circuit].Room].Circuits)
        {
            if (scan.House.Circuits[i].Loop != loop)
                continue;
            first = first < 0 ? i : first;
            most = Math.Max(most, scan.Memory.Circuits[i].Kept.Requests);
        }
        return first == circuit ? most : 0;
    }

    private static int OfCoil(in CoilMemory m)
    {
        var share = m.FanPercent / Math.Max(m.CapPercent, 1);
        return share >= FanThree ? 3 : share >= FanTwo ? 2 : share >= FanOne ? 1 : 0;
    }

    /// <summary>Requests of a circuit grow when more has been asked for a while, and fall at once.</summary>
    private static void Follow(in Scan scan, int index, bool heats)
    {
        ref var m = ref scan.Memory.Circuits[index];
        var now = Wish(scan, index, m, heats);
        Blocks.Hold(ref m.Kept.RequestForS, now > m.Kept.Requests, scan.Dt);
        if (now < m.Kept.Requests || m.Kept.RequestForS > scan.Settings.RequestAfterS)
            (m.Kept.Requests, m.Kept.RequestForS) = (now, 0);
    }

    /// <summary>By what is asked over what its water gives now.</summary>
    private static byte Wish(in Scan scan, int index, in CircuitMemory m, bool heats)
    {
        var circuit = scan.House.Circuits[index];
        var air = scan.Reading(scan.House.Rooms[circuit.Room].AirTemperature);
        var supply = scan.Reading(scan.House.Loops[circuit.Loop].Supply);
        if (m.ValvePercent <= 0 || m.AskedW <= 0 || !air.Exists || !supply.Exists)
            return 0;
        var gives = Emitters.SurfaceOutput(circuit, air.Value, supply.Value, scan.Settings.SupplyFromReturnK, heats);
        var share = gives > 0 ? m.AskedW / gives : double.PositiveInfinity;
        if (share > Two)
            return (byte)(share > Three ? 3 : 2);
        return (byte)(share > (m.Kept.Requests > 0 ? OneEnds : One) ? 1 : 0);
    }
}
