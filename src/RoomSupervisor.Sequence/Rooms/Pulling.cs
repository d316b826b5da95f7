// Section 2, rule 1: when to start easing off so that what is still under way brings the room to its set point, and when the
// fade has come down to the speed that carries the load.
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Stop distance and fade.</summary>
internal static class Pulling
{
    /// <summary>
    /// Distance before set point at which easing off starts, K: d = r·25 s + r·∫(g(f) − g(f_h))/(g(f₀) − g(f_h)) dt over the fade, with r the rate with which
    /// the room would pass its set point, f₀ the present speed, f_h the speed that carries the load there and g(f) = f^0.7. A fade of a fixed number of decibels a minute
    /// makes g fall exponentially at rate k, so the integral is 1/k − g_h·T/(g₀ − g_h) with T = ln(g₀/g_h)/k. Several coils count by their output. The present rate is
    /// not r: walls and furniture give more with every kelvin and bring the room to rest by themselves. But r is never more than the present one: a coil that has just started has not
    /// cooled yet.
    /// </summary>
    public static double StopDistance(in Scan scan, Room room, in RoomMemory m)
    {
        var s = scan.Settings;
        var full = RoomCoils.Full(scan, room, m.Heats);
        var now = full > 0 ? RoomCoils.Now(scan, room, m.Heats) / full : 0;
        var holding = HoldingShare(scan, room, m, full);
        if (now <= holding * 1.001 || holding <= 0 || m.Air.CapacityJPerK <= 0)
            return 0;
        var rate = Math.Min((now - holding) * full / m.Air.CapacityJPerK, Math.Max(0, AirModel.Rate(scan, m)));
        var k = Emitters.CoilExponent * s.FallEasingOffDbPerMin / 60 * Math.Log(10) / 50;
        var fade = 1 / k - holding * Math.Log(now / holding) / k / (now - holding);
        return Math.Min(rate * (s.StopLagS + fade), s.StopDistanceAtMostK);
    }

    /// <summary>What the coils gave, late as the air's slope is, and what a pull-down says of the room.</summary>
    public static void Follow(in Scan scan, Room room, ref RoomMemory m)
    {
        var s = scan.Settings;
        var lag = RoomDataUse.LagS(scan, room, m, ControlAir.Input(room, m)) + s.AirFilterS + s.SlopeFilterS;
        m.CoilLaggedW += (RoomCoils.Now(scan, room, m.Heats) - m.CoilLaggedW) * Blocks.FilterShare(scan.Dt, lag);
        AirModel.Store(scan, ref m);
        AirModel.Follow(scan, room, ref m);
    }

    /// <summary>Share of full coil output that equals the load, between the slowest speed and the limits.</summary>
    private static double HoldingShare(in Scan scan, Room room, in RoomMemory m, double full)
    {
        if (full <= 0)
            return 0;
        var least = RoomCoils.Minimum(scan, room, m.Heats) / full;
        return Math.Clamp((Demand.LoadAtSetPoint(scan, room, m) - m.SurfaceOutputW) / full, least, Math.Max(least, RoomCoils.MayGive(scan, room, m.Heats) / full));
    }

    /// <summary>True when the fans have come down to the speed that carries the load kept from the start of the fade.</summary>
    public static bool FadeDone(in Scan scan, Room room, in RoomMemory m)
    {
        var input = ControlAir.Input(room, m);
        var lead = Math.Abs(scan.Memory.Inputs[input].SlopePerS) * RoomDataUse.LagS(scan, room, m, input);
        if (m.ErrorK < -scan.Settings.SatisfiedBelowK - LeadDoubt * lead)
            return true;
        if (m.StageForS < SettlesS && lead > TrustedLeadK)
            return false;
        if (m.ErrorK > AgainFrom * StopDistance(scan, room, m) + AgainAboveK)
            return false;
        foreach (var coil in room.Coils)
        {
            // The sequence's own speed: a fan held by hand must not hold the stage.
            if (scan.Memory.Coils[coil].SlewPercent > FadeTarget(scan, room, coil, m) * 1.005)
                return false;
        }
        return true;
    }

    /// <summary>
    /// How a fade goes on: it falls while what is still under way is all that is left; it keeps its speed, or rises again, where the room would come to
    /// rest short of its set point. A fade begun on too hopeful a rate otherwise leaves the rest to the quiet demand, which takes half an hour.
    /// </summary>
    public static double FadeWish(in Scan scan, Room room, int coil, in RoomMemory m, double speed)
    {
        var target = FadeTarget(scan, room, coil, m);
        var distance = StopDistance(scan, room, m);
        if (m.ErrorK <= distance)
            return target;
        return m.ErrorK > AgainFrom * distance + AgainAboveK ? 100 : Math.Max(target, speed);
    }

    /// <summary>
    /// A lag is known within a third, so a lead of this many kelvins may be wrong by a tenth: until it is smaller the fade goes on and may rise again, at
    /// most for this long, s (project choice).
    /// </summary>
    private const double TrustedLeadK = 0.3, SettlesS = 600;

    /// <summary>So much of a lead may be wrong, as a share: a room that looks over-cooled by it alone keeps the speed that carries its load.</summary>
    private const double LeadDoubt = 0.12;

    /// <summary>The fan rises again where what is left is this much more than the stop distance, and this many kelvins besides (project choice).</summary>
    private const double AgainFrom = 1.5, AgainAboveK = 0.05;

    /// <summary>Speed the fade of a coil goes to, percent.</summary>
    public static double FadeTarget(in Scan scan, Room room, int coil, in RoomMemory m)
    {
        var start = scan.House.Coils[coil].StartSpeedPercent;
        var full = RoomCoils.Full(scan, room, m.Heats);
        var input = ControlAir.Input(room, m);
        var doubt = LeadDoubt * Math.Abs(scan.Memory.Inputs[input].SlopePerS) * RoomDataUse.LagS(scan, room, m, input);
        var over = Demand.CoilGain(scan, room, m) * Math.Min(0, m.ErrorK + doubt);
        return Math.Max(full > 0 ? Emitters.SpeedForShare((m.LoadW + over - m.SurfaceOutputW) / full) : start, start);
    }
}
