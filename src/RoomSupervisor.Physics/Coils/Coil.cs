// A water coil in air: dry, wet or part wet, whichever its surface says.
// Must never condense where the surface stands at or above the air's dew point, nor let heat or moisture vanish.
namespace RoomSupervisor.Physics;

/// <summary>
/// Counterflow coil by effectiveness-NTU (dry) and by enthalpy effectiveness with a saturated-air slope (wet): Threlkeld, Thermal
/// Environmental Engineering; Braun, Klein and Mitchell, ASHRAE Trans. 95 (1989); scheme of dry, wet and part-wet coils after Elmahdy and
/// Mitalas, ASHRAE Trans. 83 (1977). All from memory; held by worked values and a public coil table. Heat of the condensate is left in the
/// total (under 1 %). Exchange laws are those of <see cref="CoilConductances"/>: no fouling, no bypass.
/// </summary>
public static partial class Coil
{
    /// <summary>Solves a coil and chooses dry, wet or part wet. Heating is a dry coil with negative heat.</summary>
    /// <param name="input">What enters, ranges at <see cref="CoilInput"/>.</param>
    /// <param name="conductances">The coil, ranges at <see cref="CoilConductances"/>.</param>
    /// <param name="result">Result; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySolve(in CoilInput input, in CoilConductances conductances, out CoilResult result, out Impossible why)
    {
        result = CoilResult.Unknown;
        if (!Check(input, conductances, out why)) return false;
        Streams s = new(input, conductances);
        CoilResult dry = Dry(s);
        // The coldest point of a dry coil is where the water enters: above the dew point there, dry everywhere.
        if (dry.TotalW <= 0 || dry.ColdestSurfaceC >= input.Air.DewPointC)
        {
            result = dry;
            return true;
        }

        result = PartlyWet(s);
        return true;
    }

    /// <summary>Solves the coil as dry, whatever the dew point: right for heating and for warm water.</summary>
    /// <inheritdoc cref="TrySolve"/>
    public static bool TryDry(in CoilInput input, in CoilConductances conductances, out CoilResult result, out Impossible why)
    {
        result = CoilResult.Unknown;
        if (!Check(input, conductances, out why)) return false;
        result = Dry(new Streams(input, conductances));
        return true;
    }

    /// <summary>
    /// Solves the coil as wet on its whole surface. Refused where the entering water is not below the dew point of the air, for then there
    /// is no wet coil.
    /// </summary>
    /// <inheritdoc cref="TrySolve"/>
    public static bool TryAllWet(in CoilInput input, in CoilConductances conductances, out CoilResult result, out Impossible why)
    {
        result = CoilResult.Unknown;
        if (!Check(input, conductances, out why)) return false;
        if (!Allowed.Range("input.WaterC", input.WaterC, 0.5, input.Air.DewPointC, out why)) return false;
        Streams s = new(input, conductances);
        result = Result(s, AllWet(s));
        return true;
    }

    private static bool Check(in CoilInput i, in CoilConductances c, out Impossible why) =>
        Allowed.Range("input.Air.DryBulbC", i.Air.DryBulbC, -40, 80, out why)
        && Allowed.Range("input.Air.HumidityRatio", i.Air.HumidityRatio, 0, 0.2, out why)
        && Allowed.Range("input.DryAirKgPerS", i.DryAirKgPerS, 1e-5, 100, out why)
        && Allowed.Range("input.WaterC", i.WaterC, 0.5, 95, out why)
        && Allowed.Range("input.WaterKgPerS", i.WaterKgPerS, 1e-5, 100, out why)
        && Allowed.Range("input.WaterKJPerKgK", i.WaterKJPerKgK, 2, 5, out why)
        && Allowed.Range("conductances.AirWPerK", c.AirWPerK, 1, 1e5, out why)
        && Allowed.Range("conductances.WaterWPerK", c.WaterWPerK, 1, 1e6, out why);

    // Everything the sections share; heat in W, enthalpy in J per kg dry air.
    private readonly struct Streams
    {
        internal readonly double AirC, Ratio, AirEnthalpy, DewPointC, PressurePa, AirKgPerS, AirHeat, WaterC, WaterRate, AirSide, WaterSide;

        // Saturated air at the entering water and at the dew point, J/kg dry air, and the first one's slope.
        internal readonly double AtWater, SlopeAtWater, AtDewPoint;

        internal Streams(in CoilInput i, in CoilConductances c)
        {
            AirC = i.Air.DryBulbC;
            Ratio = i.Air.HumidityRatio;
            DewPointC = i.Air.DewPointC;
            PressurePa = i.Air.PressurePa;
            AirEnthalpy = 1000 * MoistAir.Enthalpy(AirC, Ratio);
            AirKgPerS = i.DryAirKgPerS;
            AirHeat = 1006 + 1860 * Ratio;
            WaterC = i.WaterC;
            WaterRate = 1000 * i.WaterKgPerS * i.WaterKJPerKgK;
            AirSide = c.AirWPerK;
            WaterSide = c.WaterWPerK;
            AtWater = Saturated(WaterC, out SlopeAtWater);
            AtDewPoint = 1000 * MoistAir.Enthalpy(DewPointC, Ratio);
        }

        internal double AirRate => AirKgPerS * AirHeat;

        internal double Conductance => AirSide * WaterSide / (AirSide + WaterSide);

        // Saturated air's enthalpy, J/kg dry air, over water at every temperature, and its slope, J/(kg·K).
        internal double Saturated(double celsius, out double slope)
        {
            double kelvin = celsius + MoistAir.ZeroCelsius, vapour = Math.Exp(MoistAir.LogOverWater(kelvin, out double fall, out _));
            double dry = 1 / (PressurePa - vapour), ratio = MoistAir.MassRatio * vapour * dry, heat = 2.501e6 + 1860 * celsius;
            slope = 1006 + 1860 * ratio + heat * ratio * fall * PressurePa * dry;
            return 1006 * celsius + ratio * heat;
        }
    }

    private static CoilResult Dry(in Streams s)
    {
        double least = Math.Min(s.AirRate, s.WaterRate), most = Math.Max(s.AirRate, s.WaterRate);
        double heat = Effectiveness.Counterflow(s.Conductance / least, least / most) * least * (s.AirC - s.WaterC);
        double leaving = s.AirC - heat / s.AirRate;
        double surface = (s.AirSide * leaving + s.WaterSide * s.WaterC) / (s.AirSide + s.WaterSide);
        return new CoilResult(heat, heat, 0, 0, leaving, s.Ratio, s.WaterC + heat / s.WaterRate, surface, double.NaN, 0);
    }
}
