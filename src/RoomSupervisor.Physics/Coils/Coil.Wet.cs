// The wet and part-wet coil: a dry part in front, where the surface is above the dew point, a wet part behind.
// Must never iterate without bound: each search has a bracket and a fixed count.
namespace RoomSupervisor.Physics;

public static partial class Coil
{
    // State where a wet section ends: heat it takes, and the air it leaves.
    private readonly record struct Wet(double HeatW, double LeavingEnthalpy, double EnteringC, double Share, double LeavingWaterC);

    // A wet part from the water's entry up to where the water has reached a temperature, with air entering there.
    private static Wet WetSection(in Streams s, double share, double enteringC, double enteringEnthalpy, double leavingWaterC)
    {
        double atWater = s.Saturated(s.WaterC);
        double rise = leavingWaterC - s.WaterC;
        double slope = rise > 1e-6 ? (s.Saturated(leavingWaterC) - atWater) / rise : (s.Saturated(s.WaterC + 1e-3) - atWater) / 1e-3;
        double ratio = s.AirKgPerS * slope / s.WaterRate;
        double air = share * s.AirSide / s.AirRate;
        double units = air / (1 + s.AirKgPerS * slope / s.AirRate * s.AirSide / s.WaterSide);
        double heat = Effectiveness.Counterflow(units, ratio) * s.AirKgPerS * (enteringEnthalpy - atWater);
        return new Wet(heat, enteringEnthalpy - heat / s.AirKgPerS, enteringC, share, leavingWaterC);
    }

    // Water leaving an all-wet coil: the temperature that agrees with its own saturation slope.
    private static double AllWetWater(in Streams s)
    {
        double guess = s.WaterC + 0.5 * (s.DewPointC - s.WaterC), step = double.NaN, earlier = double.NaN;
        for (int round = 0; round < 20; round++)
        {
            double next = s.WaterC + WetSection(s, 1, s.AirC, s.AirEnthalpy, guess).HeatW / s.WaterRate;
            double off = next - guess;
            if (Math.Abs(off) < 1e-7) break;
            // Secant on the fixed point; the first round takes the plain step.
            double move = round == 0 || off == earlier ? off : -off * step / (off - earlier);
            (step, earlier) = (move, off);
            guess += move;
        }

        return guess;
    }

    /// <summary>
    /// Finds the leaving water temperature at which dry part and wet part agree on the water between them (regula falsi, Illinois rule).
    /// With the surface below the dew point already where the air enters, the dry part is empty and this is the all-wet coil.
    /// </summary>
    private static CoilResult PartlyWet(in Streams s)
    {
        // All wet first: the usual case, and the cheaper one. It holds when the surface at the air's entry is below the dew point.
        double water = AllWetWater(s);
        if (EntrySurface(s, water) <= s.DewPointC) return Result(s, WetSection(s, 1, s.AirC, s.AirEnthalpy, water), s.AirC, 1);

        double low = s.WaterC, high = Math.Min(s.AirC, s.WaterC + s.AirRate / s.WaterRate * (s.AirC - s.WaterC) * 2 + 1e-3);
        double atLow = Mismatch(s, low, out _), atHigh = Mismatch(s, high, out Wet wet);
        for (int round = 0; round < 60 && high - low > 1e-9; round++)
        {
            double middle = (low * atHigh - high * atLow) / (atHigh - atLow);
            if (!(middle > low && middle < high)) middle = (low + high) / 2;
            double off = Mismatch(s, middle, out wet);
            if (Math.Abs(off) < 1e-8) break;
            if (off > 0) (high, atHigh, atLow) = (middle, off, atLow / 2);
            else (low, atLow, atHigh) = (middle, off, atHigh / 2);
        }

        return Result(s, wet, s.AirC, wet.Share);
    }

    // Surface where the air enters an all-wet coil: heat through the air film (enthalpy) equals heat into the water.
    private static double EntrySurface(in Streams s, double waterC)
    {
        double film = s.AirSide / s.AirHeat, surface = waterC;
        for (int round = 0; round < 3; round++)
        {
            double saturated = s.Saturated(surface), slope = (s.Saturated(surface + 0.01) - saturated) / 0.01;
            surface += (film * (s.AirEnthalpy - saturated) - s.WaterSide * (surface - waterC)) / (film * slope + s.WaterSide);
        }

        return surface;
    }

    // Water temperature at the joint as the dry part says, minus as the wet part says; positive when the guess of the leaving water is high.
    private static double Mismatch(in Streams s, double leavingC, out Wet wet)
    {
        double difference = s.AirC - leavingC, k = s.Conductance * (1 / s.AirRate - 1 / s.WaterRate);
        if (Math.Abs(k) < 1e-7) k = 1e-7;
        double a = s.Conductance / (s.WaterRate * k), r = s.AirSide / (s.AirSide + s.WaterSide);
        // Along the dry part the difference fades as E = exp(−k·x), and the surface is linear in E: solve for the dew point.
        double fading = (s.DewPointC - leavingC + a * difference) / ((a + r) * difference);
        double dry = fading > 0 ? Math.Clamp(-Math.Log(fading) / k, 0, 1) : 1;
        double passed = (1 - Math.Exp(-k * dry)) * difference;
        double joint = leavingC - a * passed;
        double airC = s.AirC - s.Conductance / (s.AirRate * k) * passed;
        double enthalpy = s.AirEnthalpy - s.AirHeat * (s.AirC - airC);
        wet = WetSection(s, 1 - dry, airC, enthalpy, joint);
        return joint - s.WaterC - wet.HeatW / s.WaterRate;
    }

    private static CoilResult Result(in Streams s, in Wet wet, double airC, double share)
    {
        double entering = s.AirEnthalpy - s.AirHeat * (airC - wet.EnteringC);
        double fading = Math.Exp(-share * s.AirSide / s.AirRate);
        double surfaceEnthalpy = share > 1e-9 ? entering - (entering - wet.LeavingEnthalpy) / (1 - fading) : s.Saturated(s.DewPointC);
        double surface = SaturatedAt(s, surfaceEnthalpy);
        double leavingC = surface + (wet.EnteringC - surface) * fading;
        double leavingRatio = Math.Min((wet.LeavingEnthalpy / 1000 - 1.006 * leavingC) / (2501 + 1.86 * leavingC), s.Ratio);
        double total = s.AirKgPerS * (s.AirEnthalpy - wet.LeavingEnthalpy);
        double sensible = s.AirRate * (airC - leavingC);
        double condensate = 3600 * s.AirKgPerS * (s.Ratio - leavingRatio);
        double coldest = ColdestWetSurface(s, wet);
        return new CoilResult(total, sensible, total - sensible, condensate, leavingC, leavingRatio,
            s.WaterC + total / s.WaterRate, coldest, surface, share);
    }

    // Surface where the water enters: the same balance as at the air's entry, with the leaving air.
    private static double ColdestWetSurface(in Streams s, in Wet wet)
    {
        double film = s.AirSide / s.AirHeat, saturated = s.Saturated(s.WaterC), slope = (s.Saturated(s.WaterC + 0.5) - saturated) / 0.5;
        return s.WaterC + film * (wet.LeavingEnthalpy - saturated) / (film * slope + s.WaterSide);
    }

    // Temperature at which saturated air has an enthalpy (Newton from the dew point of the entering air).
    private static double SaturatedAt(in Streams s, double enthalpy)
    {
        double celsius = Math.Min(s.DewPointC, s.AirC);
        for (int round = 0; round < 8; round++)
        {
            double kelvin = celsius + MoistAir.ZeroCelsius, vapour = Math.Exp(MoistAir.LogOverWater(kelvin));
            double dry = s.PressurePa - vapour, ratio = MoistAir.MassRatio * vapour / dry;
            double slope = 1006 + 1860 * ratio + 1000 * (2501 + 1.86 * celsius) * ratio * MoistAir.SlopeOverWater(kelvin) * s.PressurePa / dry;
            double move = (enthalpy - 1000 * MoistAir.Enthalpy(celsius, ratio)) / slope;
            celsius += move;
            if (Math.Abs(move) < 1e-6) break;
        }

        return celsius;
    }
}
