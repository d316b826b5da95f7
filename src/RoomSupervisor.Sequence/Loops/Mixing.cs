// Section 6, rule 3: the mixing valve of a cooled loop. Feed-forward from source and return temperature, a small PI for the rest,
// its stroke time and a dead band. 0 % = full recirculation.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Mixing valve position.</summary>
internal static class Mixing
{
    public static Command Step(in Scan scan, int index, Loop loop, ref LoopMemory m)
    {
        var supply = scan.Reading(loop.Supply);
        if (!supply.Exists)
            return Rest(ref m, Cause.SupplyMissing);
        if (m.Stopped != Cause.None)
            return Rest(ref m, m.Stopped);
        if (!Sources.SourceWater.IsForRooms(scan, loop.Source))
            return Sources.SourceWater.Instead(scan, loop.Source, Rest(ref m, Cause.Recirculating));
        if (!m.PumpOn)
            return Rest(ref m, Cause.NoCircuitOpen);
        if (WarmsThrough(scan, index))
            return Rest(ref m, Cause.WarmingThrough);
        if (supply.Quality != Quality.Good)
            return new Command(m.MixingPercent, new Reason(Cause.SupplyOld), default, 0);   // nothing to control by: the valve stays where it is
        if (!m.Heats && loop.Serves == LoopServes.Surfaces && !m.OfUse)
            return new Command(Rest(ref m, Cause.Recirculating).Value, m.Limit, default, 0);
        var s = scan.Settings;
        var source = SourceWater(scan, loop, m.Heats);
        var back = scan.Reading(loop.Return);
        var returned = back.Exists ? back.Value : supply.Value + (m.Heats ? -s.SupplyFromReturnK : s.SupplyFromReturnK);
        // Too little difference to mix with: all of it, and the small PI sees to the rest.
        var helps = m.Heats ? source - returned : returned - source;
        var forward = helps > 1 && Physics.Mixing.TryFraction(m.SetPointC, source, returned, out var mixed, out _) ? 100 * mixed.Fraction : 100;
        if (helps <= 0)
        {
            var wrong = m.Heats ? Cause.SourceTooCold : Cause.SourceTooWarm;
            return new Command(Rest(ref m, wrong).Value, Reason.Of(wrong, source, returned), default, 0);
        }
        var error = Error(scan, loop, supply.Value, ref m);
        var gain = Gain(helps);
        // Until mixed water has come from the valve to the sensor, the sensor tells of what was in the pipe before: nothing to learn from. Valves bend, so it begins with what even a bent one does not overdo.
        var comes = m.MixesForS >= loop.Settings.LagS;
        if (!comes)
            m.MixingIntegral = -BentBy * forward;
        m.MixesForS += scan.Dt;
        var integral = comes ? gain * s.MixingIntegralPercentPerKS * error * scan.Dt : 0;
        var wish = Pi.Step(ref m.MixingIntegral, error, gain * s.MixingGainPercentPerK * error, integral, forward, new PiLimits(0, 100, -100, 100));
        m.MixingPercent = Move(m.MixingPercent, wish, loop, scan);
        var reason = Reason.Of(Cause.MixingForSetPoint, m.MixingPercent, source, returned);
        return new Command(m.MixingPercent, reason, m.Limit, 0);
    }

    /// <summary>
    /// How far the water is on the weak side. While the set point becomes stronger, as it does for minutes after the guard has held it up, the water at the sensor cannot have followed yet: it is set against what was asked
    /// for a lag ago, or the integral would wind up and pass the lowest safe supply. A set point that becomes milder counts at once.
    /// </summary>
    private static double Error(in Scan scan, Loop loop, double supplyC, ref LoopMemory m)
    {
        if (m.MixesForS <= 0)
            m.DueC = m.SetPointC;
        m.DueC += (m.SetPointC - m.DueC) * Blocks.FilterShare(scan.Dt, loop.Settings.LagS + SensorS);
        return m.Heats ? Math.Min(m.DueC, m.SetPointC) - supplyC : supplyC - Math.Max(m.DueC, m.SetPointC);
    }

    /// <summary>A pocketed water sensor with its filter comes this much later than the water, s (common practice, no published source).</summary>
    private const double SensorS = 15;

    /// <summary>A valve may give this share more than its stroke says: it begins with so much less (project choice; a valve of equal parts bent by 0.7 gives 1/0.7 of a small stroke).</summary>
    private const double BentBy = 0.3;

    /// <summary>
    /// Difference between return and source for which the gains are meant, K (project choice): with an integral of 0.06 %/(K·s), a valve bent by 0.7 and 60 s of dead time the product of integral gain and dead
    /// time is then 0.36, about the 1/e at which a dead time with an integrator just does not overshoot (Skogestad 2003, J. Process Control 13, from memory).
    /// </summary>
    private const double MeantForK = 7;

    /// <summary>Share of the gains: a percent of stroke moves the water by a hundredth of the difference, so more difference asks for less stroke.</summary>
    private static double Gain(double differenceK) => Math.Min(1, MeantForK / differenceK);

    /// <summary>No faster than the valve can move, and not for less than the dead band.</summary>
    private static double Move(double now, double wish, Loop loop, in Scan scan)
    {
        var most = loop.Settings.StrokeS > 0 ? 100 * scan.Dt / loop.Settings.StrokeS : 100;
        if (Math.Abs(wish - now) < scan.Settings.MixingDeadBandPercent && wish > 0 && wish < 100)
            return now;
        return now + Math.Clamp(wish - now, -most, most);
    }

    private static Command Rest(ref LoopMemory m, Cause cause)
    {
        m.MixingPercent = 0;
        m.MixingIntegral = 0;
        m.MixesForS = 0;
        return new Command(0, new Reason(cause), new Reason(Cause.Recirculating), 0);
    }

    private static bool WarmsThrough(in Scan scan, int index)
    {
        foreach (var i in scan.House.Loops[index].Circuits)
        {
            if (scan.Memory.Circuits[i].WarmThrough)
                return true;
        }
        return false;
    }

    /// <summary>Water the source delivers: measured there, else at a direct loop of the same source, else what such a loop is meant to have.</summary>
    private static double SourceWater(in Scan scan, Loop loop, bool heats)
    {
        var measured = Sources.SourceWater.Measured(scan, loop.Source);
        if (measured.Exists)
            return measured.Value;
        var meant = heats ? loop.Settings.HeatingWarmestC(loop.Serves) + scan.Settings.SupplyFromReturnK : 7.0;
        foreach (var i in scan.House.Sources[loop.Source].DirectLoops)
        {
            var other = scan.House.Loops[i];
            meant = heats ? Math.Max(meant, other.Settings.HeatingWarmestC(other.Serves)) : other.ColdestC;
            if (LoopWater.Flows(scan, i) && scan.Reading(other.Supply).Exists)
                return LoopWater.Expected(scan, i);
        }
        return meant;
    }
}
