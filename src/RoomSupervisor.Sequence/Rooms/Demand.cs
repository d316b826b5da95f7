// Section 2, rules 2 to 5: one demand in watts, the coils as its base and the surfaces trimming, and the hand-over from one to the
// other. Watts are positive in the direction in which the room works. Watts asked here become volts elsewhere.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>A room's demand and its split.</summary>
internal static class Demand
{
    public static void Step(in Scan scan, int index)
    {
        var room = scan.House.Rooms[index];
        ref var m = ref scan.Memory.Rooms[index];
        m.SurfaceOutputW = RoomSurfaces.Follow(scan, room, m.Heats);
        var surfacesW = RoomSurfaces.MayGive(scan, room, m.Heats);
        var asked = OfSurfaces(scan, room, ref m, surfacesW);
        RoomSurfaces.Ask(scan, room, asked, m.Heats, m.Stage == Stage.CoilHelps && !m.HandingOver);
    }

    /// <summary>Moves the demand on and gives the watts asked of the surfaces.</summary>
    private static double OfSurfaces(in Scan scan, Room room, ref RoomMemory m, double surfacesW)
    {
        switch (m.Stage)
        {
            case Stage.EasingOff:
                // The surface opens now, for all it may give: it is slower than the fade, and the air bounces back while it is coming.
                // The load is seen anew at each scan: at the first moment of the fade it hides behind what the air still gives away.
                m.LoadW = LoadAtSetPoint(scan, room, m);
                m.DemandW = m.LoadW;
                return surfacesW;
            case Stage.CoilHelps:
                Integrate(scan, room, ref m, CoilGain(scan, room, m), scan.Settings.DemandIntegralS, surfacesW + RoomCoils.MayGive(scan, room, m.Heats));
                HandOver(scan, room, ref m, surfacesW);
                return m.HandingOver
                    ? m.DemandW + scan.Settings.HandOverExtraPercent / 100 * CoilLow(m) * RoomCoils.Minimum(scan, room, m.Heats)
                    : SurfaceTrim(scan, room, m);
            case Stage.CoilHold:
                Integrate(scan, room, ref m, CoilGain(scan, room, m), scan.Settings.DemandIntegralS, RoomCoils.MayGive(scan, room, m.Heats));
                return 0;
            case Stage.RadiantHold:
                m.IntegralW = Math.Max(m.IntegralW, Loops.HeatLoad.AtLeastW(scan, m));
                if (RoomSurfaces.AllShut(scan, room))
                    m.DemandW = Math.Max(0, RoomSurfaces.Gain(scan, room) * m.ErrorK + m.IntegralW);   // only the integral stands still
                else
                    Integrate(scan, room, ref m, RoomSurfaces.Gain(scan, room), RoomSurfaces.IntegralS(scan, room), surfacesW + Drying.OutputW(scan, room, m));
                return Math.Max(0, m.DemandW - Drying.OutputW(scan, room, m));
            case Stage.PullDown or Stage.WarmUp:
                m.SurfaceHelps |= m.Stage == Stage.WarmUp || CoilAloneIsTooLittle(scan, room, m);
                m.DemandW = RoomCoils.MayGive(scan, room, m.Heats) + (m.SurfaceHelps ? surfacesW : 0);
                return m.SurfaceHelps ? surfacesW : 0;
            default:
                m.DemandW = 0;
                return 0;
        }
    }

    /// <summary>On entering a stage the demand starts where the room's heat balance is, or goes on without a bump.</summary>
    public static void OnEnter(in Scan scan, int index, ref RoomMemory m, Stage from)
    {
        var room = scan.House.Rooms[index];
        if (m.Stage == Stage.EasingOff)
            m.LoadW = LoadAtSetPoint(scan, room, m);
        if (!IsHeld(m.Stage))
            return;
        var gain = m.Stage == Stage.RadiantHold ? RoomSurfaces.Gain(scan, room) : CoilGain(scan, room, m);
        // Between these the integral goes on: it is the load the room has shown, whatever the gain that found it.
        if (IsHeld(from))
            m.IntegralW += AirModel.FadingW(room, m, from);
        else
            m.IntegralW = Load(scan, room, m) + (scan.Settings.WallsWPerKM2 * room.Settings.FloorAreaM2 - gain) * m.ErrorK;
        m.DemandW = Math.Max(0, gain * m.ErrorK + m.IntegralW);
        m.IntegralW -= AirModel.FadingW(room, m, m.Stage);
    }

    private static bool IsHeld(Stage stage) => stage is Stage.CoilHelps or Stage.RadiantHold or Stage.CoilHold;

    /// <summary>
    /// What the room takes in (gives away): what both emitters give plus what the air stores, W; never under 0. The air's slope comes late by the
    /// sensor's lag, so it is set against what the coil gave then: a slope of the pull-down beside the output of a fan that has slowed since would say
    /// that there is no load at all.
    /// </summary>
    public static double Load(in Scan scan, Room room, in RoomMemory m)
    {
        if (m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff)
            return Math.Max(0, AirModel.LoadW(scan, m));
        var capacity = m.Air.CapacityJPerK > 0 ? m.Air.CapacityJPerK : room.Settings.AirCapacityKJPerK * 1000;
        var stored = capacity * scan.Memory.Inputs[ControlAir.Input(room, m)].SlopePerS * (m.Heats ? -1 : 1);
        return Math.Max(0, m.CoilLaggedW + m.SurfaceOutputW + stored);
    }

    /// <summary>
    /// What the room will take in (give away) when it stands at its set point, W: the load as it was seen, and what walls and furniture give on top once the air has
    /// come from where the sensor saw it to the set point.
    /// </summary>
    public static double LoadAtSetPoint(in Scan scan, Room room, in RoomMemory m)
        => Load(scan, room, m) + m.Air.WallsWPerK * SeenAboveK(scan, room, m);

    /// <summary>How far the sensor itself, not its lead estimate, is from the set point, K: as old as the slope and the coil's output that the load is made of.</summary>
    private static double SeenAboveK(in Scan scan, Room room, in RoomMemory m)
    {
        var seen = scan.Reading(ControlAir.Input(room, m)).Value;
        return double.IsNaN(seen) ? 0 : Math.Max(0, m.Heats ? m.WantedC - seen : seen - m.WantedC);
    }

    /// <summary>True in the stages in which the surface works.</summary>
    public static bool WantsSurface(in RoomMemory m)
        => m.Stage is Stage.EasingOff or Stage.CoilHelps or Stage.RadiantHold || (m.Stage is Stage.PullDown or Stage.WarmUp && m.SurfaceHelps);

    /// <summary>What is asked of the coils together: what the surfaces do not give, W.</summary>
    public static double OfCoils(in Scan scan, Room room, in RoomMemory m)
        => m.Stage is Stage.PullDown or Stage.WarmUp ? RoomCoils.MayGive(scan, room, m.Heats) : Math.Max(0, m.DemandW - m.SurfaceOutputW);

    /// <summary>
    /// A surface buys next to nothing in a pull-down that the coil wins (rule 2, table). One that the coil does not win would go on for hours: after a
    /// while alone, and with the room falling too slowly, the surface helps until the pull-down ends.
    /// </summary>
    private static bool CoilAloneIsTooLittle(in Scan scan, Room room, in RoomMemory m)
        => m.StageForS > scan.Settings.PullDownAloneS
            && -scan.Memory.Inputs[ControlAir.Input(room, m)].SlopePerS * scan.Settings.PullDownHorizonS < m.ErrorK;

    private static double SurfaceTrim(in Scan scan, Room room, in RoomMemory m)
        => Math.Max(0, m.DemandW - scan.Settings.CoilSharePercent / 100 * CoilLow(m) * Math.Max(RoomCoils.Minimum(scan, room, m.Heats), Drying.OutputW(scan, room, m)));

    /// <summary>Share of its typed-in output that the coil surely gives where it was measured.</summary>
    private static double CoilLow(in RoomMemory m) => m.CoilLow > 0 ? m.CoilLow : 1;

    /// <summary>Watts for a kelvin of error while coils work; less where they have swung (rule 4.6).</summary>
    public static double CoilGain(in Scan scan, Room room, in RoomMemory m) => Calming.Share(m) * room.Settings.AirCapacityKJPerK * 1000 / scan.Settings.DemandTimeS;

    /// <summary>Proportional and integral; the integral stands still where it would only wind up.</summary>
    private static void Integrate(in Scan scan, Room room, ref RoomMemory m, double gain, double integralS, double most)
    {
        if (double.IsNaN(m.ErrorK))
            return;
        // What the guard forbids for a while does not change the load.
        var limits = new PiLimits(0, most) { IntegralMost = most > 0 ? most : double.PositiveInfinity };
        m.DemandW = Pi.Step(ref m.IntegralW, m.ErrorK, gain * m.ErrorK, gain * m.ErrorK * scan.Dt / integralS, AirModel.FadingW(room, m, m.Stage), limits);
    }

    /// <summary>Rule 4: the coil hands over when the surface may carry the demand with something to spare, for a while.</summary>
    private static void HandOver(in Scan scan, Room room, ref RoomMemory m, double surfacesW)
    {
        var shut = RoomSurfaces.AllShut(scan, room);
        // A coil at its floor gives more than it is asked for, and the demand sinks under what the room takes: the larger of both counts.
        var needed = Math.Max(m.DemandW, Load(scan, room, m));
        var may = !shut && m.Moisture != Moisture.Dehumidifying && needed < scan.Settings.HandOverSharePercent / 100 * Bounce.Trust(m) * surfacesW;
        Blocks.Hold(ref m.HandOverForS, may, scan.Dt);
        if (shut || m.Moisture == Moisture.Dehumidifying)
            m.HandingOver = false;
        else if (m.HandOverForS > scan.Settings.HandOverWaitS)
            m.HandingOver = true;
    }
}
