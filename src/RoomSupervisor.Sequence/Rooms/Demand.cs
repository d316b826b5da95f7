// Section 2, rules 2 to 5: one demand in watts, the coil as its base and the surface trimming, and the hand-over from one to the
// other. Watts asked here become volts elsewhere.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>A room's demand and its split.</summary>
internal static class Demand
{
    public static void Step(in Scan scan, int index)
    {
        var room = scan.House.Rooms[index];
        ref var m = ref scan.Memory.Rooms[index];
        ref var circuit = ref scan.Memory.Circuits[room.Circuit];
        FollowSurface(scan, room, ref m);
        circuit.MayGiveW = SurfaceMayGive(scan, room);
        switch (m.Stage)
        {
            case Stage.EasingOff:
                // The surface opens now, for all it may give: it is slower than the fade, and the air bounces back while it is coming.
                m.DemandW = m.LoadW;
                circuit.AskedW = circuit.MayGiveW;
                break;
            case Stage.CoilHelps:
                Integrate(scan, room, ref m, CoilGain(scan, room), scan.Settings.DemandIntegralS, circuit.MayGiveW + CoilMayGive(scan, room));
                HandOver(scan, room, ref m, circuit);
                circuit.AskedW = m.HandingOver
                    ? m.DemandW + scan.Settings.HandOverExtraPercent / 100 * CoilMinimum(scan, room)
                    : SurfaceTrim(scan, room, m);
                break;
            case Stage.RadiantHold:
                if (circuit.Level == GuardLevel.Shut)
                    m.DemandW = Math.Max(0, SurfaceGain(scan, room) * m.ErrorK + m.IntegralW);   // only the integral stands still
                else
                    Integrate(scan, room, ref m, SurfaceGain(scan, room), scan.Settings.SurfaceIntegralS, circuit.MayGiveW);
                circuit.AskedW = m.DemandW;
                break;
            case Stage.PullDown:
                m.SurfaceHelps |= CoilAloneIsTooLittle(scan, room, m);
                m.DemandW = CoilMayGive(scan, room) + (m.SurfaceHelps ? circuit.MayGiveW : 0);
                circuit.AskedW = m.SurfaceHelps ? circuit.MayGiveW : 0;
                break;
            default:
                m.DemandW = 0;
                circuit.AskedW = 0;
                break;
        }
        if (circuit.Level != GuardLevel.Shut && circuit.MayGiveW <= 0)
            circuit.AskedW = 0;   // asking what it may not give would only open the valve
    }

    /// <summary>On entering a stage the demand starts where the room's heat balance is, or goes on without a bump.</summary>
    public static void OnEnter(in Scan scan, int index, ref RoomMemory m, Stage from)
    {
        var room = scan.House.Rooms[index];
        if (m.Stage == Stage.EasingOff)
            m.LoadW = Load(scan, room, m);
        if (m.Stage is not (Stage.CoilHelps or Stage.RadiantHold))
            return;
        var gain = m.Stage == Stage.CoilHelps ? CoilGain(scan, room) : SurfaceGain(scan, room);
        // Between the two the integral goes on: it is the load the room has shown, whatever the gain that found it.
        if (from is not (Stage.CoilHelps or Stage.RadiantHold))
            m.IntegralW = Load(scan, room, m) + (scan.Settings.WallsWPerKM2 * room.Settings.FloorAreaM2 - gain) * m.ErrorK;
        m.DemandW = Math.Max(0, gain * m.ErrorK + m.IntegralW);
    }

    /// <summary>What the room takes in now: what both emitters give plus what the air stores, W; never under 0.</summary>
    public static double Load(in Scan scan, Room room, in RoomMemory m)
    {
        ref readonly var coil = ref scan.Memory.Coils[room.Coil];
        var coilW = coil.ValvePercent > 0 ? CoilFull(scan, room) * Emitters.CoilShare(coil.FanPercent) : 0;
        var stored = room.Settings.AirCapacityKJPerK * 1000 * scan.Memory.Inputs[room.AirTemperature].SlopePerS;
        return Math.Max(0, coilW + m.SurfaceOutputW + stored);
    }

    /// <summary>True in the stages in which the surface works.</summary>
    public static bool WantsSurface(in RoomMemory m)
        => m.Stage is Stage.EasingOff or Stage.CoilHelps or Stage.RadiantHold || (m.Stage == Stage.PullDown && m.SurfaceHelps);

    /// <summary>Sensible output of the room's coil at full speed with its present water, W.</summary>
    public static double CoilFull(in Scan scan, Room room)
    {
        var coil = scan.House.Coils[room.Coil];
        var air = scan.Reading(room.AirTemperature);
        return air.Exists ? Emitters.CoilFullOutput(coil.Kind, air.Value, LoopWater.Expected(scan, coil.Loop)) : 0;
    }

    /// <summary>Output of the coil at its slowest speed, W.</summary>
    public static double CoilMinimum(in Scan scan, Room room)
        => CoilFull(scan, room) * Emitters.CoilShare(scan.House.Coils[room.Coil].Kind.StartSpeedPercent);

    /// <summary>What is asked of the coil: what the surface does not give, W.</summary>
    public static double CoilAsked(in Scan scan, Room room, in RoomMemory m)
        => m.Stage == Stage.PullDown ? CoilMayGive(scan, room) : Math.Max(0, m.DemandW - m.SurfaceOutputW);

    /// <summary>
    /// A surface buys next to nothing in a pull-down that the coil wins (rule 2, table). One that the coil does not win would go on for hours: after a
    /// while alone, and with the room falling too slowly, the surface helps until the pull-down ends.
    /// </summary>
    private static bool CoilAloneIsTooLittle(in Scan scan, Room room, in RoomMemory m)
        => m.StageForS > scan.Settings.PullDownAloneS
            && -scan.Memory.Inputs[room.AirTemperature].SlopePerS * scan.Settings.PullDownHorizonS < m.ErrorK;

    private static double CoilMayGive(in Scan scan, Room room)
        => CoilFull(scan, room) * Emitters.CoilShare(FanCaps.Lowest(scan, room, scan.House.Coils[room.Coil]));

    private static double SurfaceTrim(in Scan scan, Room room, in RoomMemory m)
        => Math.Max(0, m.DemandW - scan.Settings.CoilSharePercent / 100 * CoilMinimum(scan, room));

    /// <summary>What the surface may give with the coldest water the guard allows, W.</summary>
    private static double SurfaceMayGive(in Scan scan, Room room)
    {
        var air = scan.Reading(room.AirTemperature);
        ref readonly var memory = ref scan.Memory.Circuits[room.Circuit];
        if (!air.Exists || memory.Level == GuardLevel.Shut || double.IsNaN(memory.LowestSafeC))
            return 0;
        var circuit = scan.House.Circuits[room.Circuit];
        var coldest = Math.Max(scan.House.Loops[circuit.Loop].ColdestC, memory.LowestSafeC);
        if (coldest > LoopWater.WarmestUsefulFor(scan, circuit))
            return 0;
        return Emitters.PanelOutput(circuit, air.Value, coldest, scan.Settings.SupplyFromReturnK);
    }

    /// <summary>A panel's output follows its water and valve with a time constant.</summary>
    private static void FollowSurface(in Scan scan, Room room, ref RoomMemory m)
    {
        var circuit = scan.House.Circuits[room.Circuit];
        var loop = scan.House.Loops[circuit.Loop];
        ref readonly var memory = ref scan.Memory.Circuits[room.Circuit];
        var air = scan.Reading(room.AirTemperature);
        var supply = scan.Reading(loop.Supply);
        var flowing = scan.Memory.Loops[circuit.Loop].PumpOn && memory.ValvePercent > 0;
        var steady = air.Exists && supply.Exists && flowing
            ? Emitters.PanelOutput(circuit, air.Value, supply.Value, scan.Settings.SupplyFromReturnK) * memory.ValvePercent / 100
            : 0;
        m.SurfaceOutputW += (steady - m.SurfaceOutputW) * Blocks.FilterShare(scan.Dt, scan.Settings.SurfaceTimeS);
    }

    private static double CoilGain(in Scan scan, Room room) => room.Settings.AirCapacityKJPerK * 1000 / scan.Settings.DemandTimeS;

    private static double SurfaceGain(in Scan scan, Room room)
        => scan.Settings.SurfaceGainWPerKM2 * scan.House.Circuits[room.Circuit].Settings.AreaM2;

    /// <summary>Proportional and integral; the integral stands still where it would only wind up.</summary>
    private static void Integrate(in Scan scan, Room room, ref RoomMemory m, double gain, double integralS, double most)
    {
        if (double.IsNaN(m.ErrorK))
            return;
        var wish = gain * m.ErrorK + m.IntegralW;
        var windsUp = (wish >= most && m.ErrorK > 0) || (wish <= 0 && m.ErrorK < 0);
        if (!windsUp)
            m.IntegralW += gain * m.ErrorK * scan.Dt / integralS;
        if (most > 0)
            m.IntegralW = Math.Min(m.IntegralW, most);   // what the guard forbids for a while does not change the load
        m.DemandW = Math.Clamp(gain * m.ErrorK + m.IntegralW, 0, most);
    }

    /// <summary>Rule 4: the coil hands over when the surface may carry the demand with something to spare, for a while.</summary>
    private static void HandOver(in Scan scan, Room room, ref RoomMemory m, in CircuitMemory circuit)
    {
        var may = circuit.Level != GuardLevel.Shut && m.DemandW < scan.Settings.HandOverSharePercent / 100 * circuit.MayGiveW;
        Blocks.Hold(ref m.HandOverForS, may, scan.Dt);
        if (circuit.Level == GuardLevel.Shut)
            m.HandingOver = false;
        else if (m.HandOverForS > scan.Settings.HandOverWaitS)
            m.HandingOver = true;
    }
}
