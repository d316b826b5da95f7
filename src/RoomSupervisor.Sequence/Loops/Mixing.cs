// Section 6, rule 3: the mixing valve. Feed-forward from source and return temperature, a small PI for the rest, its stroke time, a dead band, and the end stop of valves that are only counted. 0 % = full
// recirculation, safe in both seasons.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Mixing valve position.</summary>
internal static class Mixing
{
    public static Command Step(in Scan scan, Loop loop, ref LoopMemory m)
    {
        Stands(scan, loop, ref m.Drift, m.MixingPercent);
        var supply = scan.Reading(loop.Supply);
        if (!supply.Exists)
            return Rest(ref m, Cause.SupplyMissing);
        if (m.Stopped != Cause.None)
            return Rest(ref m, m.Stopped);
        if (!Sources.SourceWater.IsForRooms(scan, loop.Source))
            return Sources.SourceWater.Instead(scan, loop.Source, Rest(ref m, Cause.Recirculating));
        if (!m.PumpOn)
            return Rest(ref m, Cause.NoCircuitOpen);
        if (m.Pump.RunsOn || (m.Frost && !m.Heats))
            return Rest(ref m, Cause.Recirculating);
        if (LoopWater.WarmingThrough(scan, loop) >= 0)
            return Rest(ref m, Cause.WarmingThrough);
        if (Synchronises(scan, loop, ref m))
            return new Command(0, Reason.Of(Cause.Resynchronising, m.Drift.ShutsForS), new Reason(Cause.Recirculating), 0);
        if (supply.Quality != Quality.Good)
            return new Command(m.MixingPercent, new Reason(Cause.SupplyOld), default, 0);   // nothing to control by: the valve stays where it is
        if (!m.Heats && loop.Serves == LoopServes.Surfaces && !m.OfUse)
            return new Command(Rest(ref m, Cause.Recirculating).Value, m.Limit, default, 0);
        return Control(scan, loop, supply.Value, ref m);
    }

    private static Command Control(in Scan scan, Loop loop, double supplyC, ref LoopMemory m)
    {
        var s = scan.Settings;
        var source = SourceWater(scan, loop, m.Heats);
        var back = scan.Reading(loop.Return);
        var returned = back.Exists ? back.Value : supplyC + (m.Heats ? -s.SupplyFromReturnK : s.SupplyFromReturnK);
        // Too little difference to mix with: all of it, and the small PI sees to the rest.
        var helps = m.Heats ? source - returned : returned - source;
        var forward = helps > 1 && Physics.Mixing.TryFraction(m.SetPointC, source, returned, out var mixed, out _) ? 100 * mixed.Fraction : 100;
        if (helps <= 0)
        {
            var wrong = m.Heats ? Cause.SourceTooCold : Cause.SourceTooWarm;
            return new Command(Rest(ref m, wrong).Value, Reason.Of(wrong, source, returned), default, 0);
        }
        var error = Error(scan, loop, supplyC, ref m);
        var gain = Gain(helps);
        // Until mixed water has come from the valve to the sensor, the sensor tells of what was in the pipe before: nothing to learn from. Valves bend, so it begins with what even a bent one does not overdo.
        var comes = m.MixesForS >= loop.Settings.LagS;
        if (!comes)
            m.MixingIntegral = -BentBy * forward;
        m.MixesForS += scan.Dt;
        var integral = comes ? gain * s.MixingIntegralPercentPerKS * error * scan.Dt : 0;
        var wish = Pi.Step(ref m.MixingIntegral, error, gain * s.MixingGainPercentPerK * error, integral, forward, new PiLimits(0, 100, -100, 100));
        m.MixingPercent = Move(m.MixingPercent, wish, loop, scan, ref m.Drift);
        var reason = Reason.Of(Cause.MixingForSetPoint, m.MixingPercent, source, returned);
        return new Command(m.MixingPercent, reason, Next(m, source, returned), 0);
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
    private static double Move(double now, double wish, Loop loop, in Scan scan, ref DriftMemory drift)
    {
        var most = 100 * scan.Dt / loop.StrokeS;
        if (Math.Abs(wish - now) < scan.Settings.MixingDeadBandPercent && wish > 0 && wish < 100)
            return now;
        var move = Math.Clamp(wish - now, -most, most);
        drift.TravelPercent += Math.Abs(move);
        return now + move;
    }

    /// <summary>What binds next, as the valve would stand for it: water at the limit of guard or surface. None where there is no limit, or no valve could make such water.</summary>
    private static Reason Next(in LoopMemory m, double source, double returned)
    {
        var cause = m.Limit.Cause switch
        {
            Cause.LowestSafeSupply => Cause.MixingToSafe,
            Cause.OutdoorReserve => Cause.MixingToReserve,
            Cause.FloorForFeet => Cause.MixingToFloor,
            Cause.SurfaceLimit => Cause.MixingToSurface,
            _ => Cause.None,
        };
        return cause != Cause.None && Physics.Mixing.TryFraction(m.Limit.A, source, returned, out var mixed, out _)
            ? Reason.Of(cause, 100 * mixed.Fraction, m.Limit.A)
            : default;
    }

    /// <summary>
    /// A three-point valve is counted, not measured, and the count drifts with each move. Full recirculation, kept for 1.2 strokes, is an end stop; without one for many strokes, in steady weather for days, it
    /// shuts once for no longer than it takes.
    /// </summary>
    private static bool Synchronises(in Scan scan, Loop loop, ref LoopMemory m)
    {
        ref var d = ref m.Drift;
        if (loop.Actuator.Kind != OutputKind.ThreePoint)
            return false;
        if (d.ShutsForS <= 0 && d.TravelPercent >= 100 * scan.Settings.ResynchroniseAfterStrokes)
            d.ShutsForS = (m.MixingPercent / 100 + SpareStrokes) * loop.StrokeS + scan.Dt;
        if (d.ShutsForS <= 0)
            return false;
        d.ShutsForS -= scan.Dt;
        m.MixingPercent = 0;
        if (d.ShutsForS > 0)
            return true;
        d = default;
        return false;
    }

    /// <summary>So much of a stroke longer than counted an end stop is driven against.</summary>
    private const double SpareStrokes = 0.2;

    /// <summary>Counts how long a three-point valve has stood at its end stop in the ordinary course of things: then nothing has drifted.</summary>
    private static void Stands(in Scan scan, Loop loop, ref DriftMemory d, double percent)
    {
        Blocks.Hold(ref d.EndForS, percent <= 0 || percent >= 100, scan.Dt);
        if (d.EndForS >= (1 + SpareStrokes) * loop.StrokeS)
            d.TravelPercent = 0;
    }

    private static Command Rest(ref LoopMemory m, Cause cause)
    {
        m.MixingPercent = 0;
        m.MixingIntegral = 0;
        m.Drift.ShutsForS = 0;
        m.MixesForS = 0;
        return new Command(0, new Reason(cause), new Reason(Cause.Recirculating), 0);
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
