// The wet and part-wet coil: a dry part in front, where the surface is above the dew point, a wet part behind.
// Must never iterate without bound: each search has a bracket and a fixed count.
namespace RoomSupervisor.Physics;

public static partial class Coil
{
    // State where a wet section ends: heat it takes, and the air it leaves.
    private readonly record struct Wet(double HeatW, double LeavingEnthalpy, double EnteringC, double Share);

    // A wet part from the water's entry up to where the water has reached a temperature, with air entering there.
    private static Wet WetSection(in Streams s, double share, double enteringC, double enteringEnthalpy, double leavingWaterC)
    {
        double rise = leavingWaterC - s.WaterC;
        double slope = Math.Abs(rise) > 1e-4 ? (s.Saturated(leavingWaterC, out _) - s.AtWater) / rise : s.SlopeAtWater;
        return WithSlope(s, share, enteringC, enteringEnthalpy, slope);
    }

    private static Wet WithSlope(in Streams s, double share, double enteringC, double enteringEnthalpy, double slope)
    {
        double units = share * s.AirSide / s.AirRate / (1 + slope * s.AirSide / (s.AirHeat * s.WaterSide));
        double heat = Effectiveness.Counterflow(units, s.AirKgPerS * slope / s.WaterRate) * s.AirKgPerS * (enteringEnthalpy - s.AtWater);
        return new Wet(heat, enteringEnthalpy - heat / s.AirKgPerS, enteringC, share);
    }

    // The all-wet coil: the leaving water agrees with its own saturation slope, to 0.1 mK.
    private static Wet AllWet(in Streams s)
    {
        double chord = (s.AtDewPoint - s.AtWater) / Math.Max(s.DewPointC - s.WaterC, 1e-6);
        Wet wet = WithSlope(s, 1, s.AirC, s.AirEnthalpy, chord);
        double guess = s.WaterC + wet.HeatW / s.WaterRate, step = double.NaN, earlier = double.NaN;
        for (int round = 0; round < 20; round++)
        {
            wet = WetSection(s, 1, s.AirC, s.AirEnthalpy, guess);
            double off = s.WaterC + wet.HeatW / s.WaterRate - guess;
            if (Math.Abs(off) < 1e-4) break;
            // Secant on the fixed point; the first round takes the plain step.
            double move = round == 0 || off == earlier ? off : -off * step / (off - earlier);
            (step, earlier) = (move, off);
            guess += move;
        }

        return wet;
    }

    /// <summary>
    /// Finds the dry share at which dry and wet part agree on the water between them (regula falsi with halving). At the joint the surface
    /// stands at the dew point. With the surface below the dew point already where the air enters, this is the all-wet coil.
    /// </summary>
    private static CoilResult PartlyWet(in Streams s)
    {
        // All wet first: the usual case, and the cheaper one. It holds when the surface at the air's entry is below the dew point.
        Wet wet = AllWet(s);
        double water = s.WaterC + wet.HeatW / s.WaterRate;
        double atDewPoint = s.AirSide / s.AirHeat * (s.AirEnthalpy - s.AtDewPoint) - s.WaterSide * (s.DewPointC - water);
        if (atDewPoint <= 0) return Result(s, wet);

        double low = 0, high = 1, atLow = Mismatch(s, low, out wet), atHigh = Mismatch(s, high, out wet);
        for (int round = 1; round < 90 && high - low > 1e-12; round++)
        {
            double middle = (low * atHigh - high * atLow) / (atHigh - atLow);
            // With little water on a large coil the balance is almost a step: every third round halves the bracket.
            if (round % 3 == 0 || !(middle > low && middle < high)) middle = (low + high) / 2;
            double off = Mismatch(s, middle, out wet);
            if (Math.Abs(off) < 1e-9) break;
            if (off > 0) (high, atHigh, atLow) = (middle, off, atLow / 2);
            else (low, atLow, atHigh) = (middle, off, atHigh / 2);
        }

        return Result(s, wet);
    }

    // Surface where the water enters: heat from the leaving air through the film (enthalpy) equals heat into the water. Newton.
    private static double ColdestSurface(in Streams s, double leavingEnthalpy)
    {
        double film = s.AirSide / s.AirHeat;
        double surface = s.WaterC + film * (leavingEnthalpy - s.AtWater) / (film * s.SlopeAtWater + s.WaterSide);
        for (int round = 0; round < 6; round++)
        {
            double saturated = s.Saturated(surface, out double slope);
            double move = (film * (leavingEnthalpy - saturated) - s.WaterSide * (surface - s.WaterC)) / (film * slope + s.WaterSide);
            surface += move;
            if (Math.Abs(move) < 1e-2) break;
        }

        return surface;
    }

    // Water at the joint less what the wet part makes of the entering water: positive when the dry share is too large.
    private static double Mismatch(in Streams s, double dry, out Wet wet)
    {
        double c = s.AirRate / s.WaterRate, whole = (s.AirSide + s.WaterSide) / s.AirSide;
        if (Math.Abs(1 - c) < 1e-6) c = 1 - 1e-6;
        // Air − water at the joint is fixed by the dew point, (Td−Tj)·whole; at the air's entry it is F times that, F = exp(k·x), and also
        // follows from the heat balance of the dry part. The two make Tj linear in known things.
        double f = Math.Exp(s.Conductance / s.AirRate * (1 - c) * dry);
        double joint = double.IsPositiveInfinity(f) ? s.DewPointC
            : ((1 - c) * s.AirC - (f - c) * whole * s.DewPointC) / (1 - c - (f - c) * whole);
        double airC = joint + (s.DewPointC - joint) * whole;
        wet = WetSection(s, 1 - dry, airC, s.AirEnthalpy - s.AirHeat * (s.AirC - airC), joint);
        return joint - s.WaterC - wet.HeatW / s.WaterRate;
    }

    private static CoilResult Result(in Streams s, in Wet wet)
    {
        double share = wet.Share, entering = s.AirEnthalpy - s.AirHeat * (s.AirC - wet.EnteringC);
        double fading = Math.Exp(-share * s.AirSide / s.AirRate);
        double surfaceEnthalpy = share > 1e-9 ? entering - (entering - wet.LeavingEnthalpy) / (1 - fading) : s.AtDewPoint;
        double surface = SaturatedAt(s, surfaceEnthalpy);
        double leavingC = surface + (wet.EnteringC - surface) * fading;
        double leavingRatio = Math.Min((wet.LeavingEnthalpy / 1000 - 1.006 * leavingC) / (2501 + 1.86 * leavingC), s.Ratio);
        double total = s.AirKgPerS * (s.AirEnthalpy - wet.LeavingEnthalpy);
        double sensible = s.AirRate * (s.AirC - leavingC);
        double condensate = 3600 * s.AirKgPerS * (s.Ratio - leavingRatio);
        double coldest = ColdestSurface(s, wet.LeavingEnthalpy);
        return new CoilResult(total, sensible, total - sensible, condensate, leavingC, leavingRatio,
            s.WaterC + total / s.WaterRate, coldest, surface, share);
    }

    // Temperature at which saturated air has an enthalpy: Newton from the chord between entering water and dew point.
    private static double SaturatedAt(in Streams s, double enthalpy)
    {
        double span = s.AtDewPoint - s.AtWater;
        double celsius = s.WaterC + (span > 1 ? (enthalpy - s.AtWater) / span * (s.DewPointC - s.WaterC) : 0);
        for (int round = 0; round < 8; round++)
        {
            double move = (enthalpy - s.Saturated(celsius, out double slope)) / slope;
            celsius += move;
            if (Math.Abs(move) < 1e-3) break;
        }

        return celsius;
    }
}
