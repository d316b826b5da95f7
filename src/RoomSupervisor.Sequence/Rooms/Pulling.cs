// Section 2, rule 1: when to start easing off so that what is still under way brings the room to its set point, and when the
// fade has come down to the speed that carries the load.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Stop distance and fade.</summary>
internal static class Pulling
{
    /// <summary>
    /// Distance before set point at which easing off starts, K: d = r·25 s + r·∫(g(f) − g(f_h))/(g(f₀) − g(f_h)) dt over the fade, with r the rate at
    /// which the room falls, f₀ the present speed, f_h the speed that carries the load and g(f) = f^0.7. A fade of a fixed number of decibels a minute
    /// makes g fall exponentially at rate k, so the integral is 1/k − g_h·T/(g₀ − g_h) with T = ln(g₀/g_h)/k.
    /// </summary>
    public static double StopDistance(in Scan scan, Room room)
    {
        var s = scan.Settings;
        var rate = -scan.Memory.Inputs[room.AirTemperature].SlopePerS;
        if (rate <= 0)
            return 0;
        var now = Emitters.CoilShare(scan.Memory.Coils[room.Coil].FanPercent);
        var holding = Emitters.CoilShare(HoldingSpeed(scan, room));
        var fade = 0.0;
        if (now > holding * 1.001)
        {
            var k = Emitters.CoilExponent * s.FallEasingOffDbPerMin / 60 * Math.Log(10) / 50;
            fade = 1 / k - holding * Math.Log(now / holding) / k / (now - holding);
        }
        return Math.Min(rate * (s.StopLagS + fade), s.StopDistanceAtMostK);
    }

    /// <summary>Speed whose coil output equals the load, between the start speed and the limits, percent.</summary>
    public static double HoldingSpeed(in Scan scan, Room room)
    {
        var coil = scan.House.Coils[room.Coil];
        var full = Demand.CoilFull(scan, room);
        var load = Demand.Load(scan, room, scan.Memory.Rooms[scan.House.Coils[room.Coil].Room]);
        var speed = full > 0 ? Emitters.SpeedForShare(load / full) : coil.Kind.StartSpeedPercent;
        return Math.Clamp(speed, coil.Kind.StartSpeedPercent, Math.Max(coil.Kind.StartSpeedPercent, FanCaps.Lowest(scan, room, coil)));
    }

    /// <summary>True when the fan has come down to the speed that carries the load kept from the start of the fade.</summary>
    public static bool FadeDone(in Scan scan, Room room, in RoomMemory m)
    {
        // The sequence's own speed: a fan held by hand must not hold the stage.
        var fan = scan.Memory.Coils[room.Coil].SlewPercent;
        return m.ErrorK < -scan.Settings.SatisfiedBelowK || fan <= FadeTarget(scan, room, m) * 1.005;
    }

    /// <summary>Speed the fade goes to, percent.</summary>
    public static double FadeTarget(in Scan scan, Room room, in RoomMemory m)
    {
        var coil = scan.House.Coils[room.Coil];
        var full = Demand.CoilFull(scan, room);
        var speed = full > 0 ? Emitters.SpeedForShare(m.LoadW / full) : coil.Kind.StartSpeedPercent;
        return Math.Max(speed, coil.Kind.StartSpeedPercent);
    }
}
