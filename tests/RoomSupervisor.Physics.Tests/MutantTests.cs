// Shows that the key checks can fail: each is fed the right formula, which it must accept, and a known slip, which it must reject.
// Must never hold a slip nobody makes: each here is a published copy's error, another convention, or a lost factor.
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class MutantTests
{
    private static bool Accepts(IEnumerable<(double Expected, double Value)> pairs, double tolerance) =>
        pairs.All(p => Math.Abs(p.Expected - p.Value) <= tolerance);

    private static IEnumerable<double[]> WarmGrid => Numbers("reference/psychro_grid.csv").Where(c => c[0] >= 0.01 && c[6] > 0.02);

    [Fact] // psychrolib grid at 2e-5 K, as in the grid test; the Magnus set of WMO-No. 8 is 0.04 K off
    public void The_dew_point_check_rejects_magnus_and_a_humidity_taken_over_ice()
    {
        static double Magnus(double t, double rh)
        {
            double x = Math.Log(rh / 100) + 17.62 * t / (243.12 + t);
            return 243.12 * x / (17.62 - x);
        }

        Assert.True(Accepts(WarmGrid.Select(c => (c[6], Of(MoistAir.TryDewPoint, c[0], c[1]))), 2e-5));
        Assert.False(Accepts(WarmGrid.Select(c => (c[6], Magnus(c[0], c[1]))), 2e-5));
        Assert.False(Accepts(WarmGrid.Select(c => (c[6], Of(MoistAir.TryDewPoint, c[0], c[1]) + 1e-4)), 2e-5));
        IEnumerable<double[]> cold = Numbers("reference/psychro_grid.csv").Where(c => c[6] < -1 && c[0] > 1);
        Assert.False(Accepts(cold.Select(c => (c[6], Of(MoistAir.TryDewPoint, c[0], c[1]))), 2e-5));
    }

    [Fact] // psychrolib grid; a pressure taken for sea level at 1,500 m
    public void The_humidity_ratio_check_rejects_a_forgotten_altitude()
    {
        Assert.True(Accepts(WarmGrid.Select(c => (c[7], Of(MoistAir.TryHumidityRatio, c[0], c[1], c[2]))), 1e-7));
        Assert.False(Accepts(WarmGrid.Select(c => (c[7], Of(MoistAir.TryHumidityRatio, c[0], c[1], 101325))), 1e-7));
        Assert.False(Accepts(WarmGrid.Select(c => (c[9], Of(MoistAir.TryWetBulb, c[0], c[1], 101325))), 1e-3));
    }

    [Fact] // EN 1264-2 worked values; a public copy writes tV − tR/ln(…) without brackets, others take the arithmetic mean
    public void The_over_temperature_check_rejects_lost_brackets_and_the_arithmetic_mean()
    {
        (double V, double R, double I, double H)[] worked = [(40, 35, 20, 17.3803), (35, 30, 20, 12.3315), (16, 19, 26, 8.4110)];
        Assert.True(Accepts(worked.Select(w => (w.H, Of(OverTemperature.TryLogarithmicMean, w.V, w.R, w.I))), 5e-5));
        Assert.False(Accepts(worked.Select(w => (w.H, w.V - w.R / Math.Log((w.V - w.I) / (w.R - w.I)))), 5e-5));
        Assert.False(Accepts(worked.Select(w => (w.H, Math.Abs((w.V + w.R) / 2 - w.I))), 5e-5));
    }

    [Fact] // ISO 7730 draught rate; the 0.62 power put on (34 − ta) too gives a third
    public void The_draught_check_rejects_the_exponent_on_both_terms()
    {
        (double T, double V, double Dr)[] worked = [(20, .10, 10.10), (22, .20, 22.58), (26, .30, 25.67)];
        Assert.True(Accepts(worked.Select(w => (w.Dr, Of(LocalDiscomfort.TryDraught, w.T, w.V, 40))), 0.05));
        Assert.False(Accepts(worked.Select(w => (w.Dr, Math.Pow((34 - w.T) * (w.V - 0.05), 0.62) * (0.37 * w.V * 40 + 3.14))), 0.05));
    }

    [Fact] // the coil's invariant: with the surface temperature held fixed the sensible heat ratio would not move with air flow
    public void The_drying_check_rejects_a_coil_of_fixed_surface_temperature()
    {
        AirState air = Air(27, 47), apparatus = Air(10, 100);
        double Ratio(double flow)
        {
            double bypass = Math.Exp(-0.258 / flow);
            double h2 = bypass * air.EnthalpyKJPerKg + (1 - bypass) * apparatus.EnthalpyKJPerKg, t2 = bypass * 27 + (1 - bypass) * 10;
            return 1.026 * (27 - t2) / (air.EnthalpyKJPerKg - h2);
        }

        double Ours(double flow)
        {
            CoilInput input = new(air, flow, 7, 0.124, 4.2);
            Assert.True(Coil.TrySolve(input, new CoilConductances(300 * Math.Pow(flow / 0.16, 0.6), 600), out CoilResult r, out Impossible why), why.ToString());
            return r.SensibleHeatRatio;
        }

        static bool Dries(Func<double, double> ratio) => ratio(0.16) > ratio(0.08) + 0.01 && ratio(0.08) > ratio(0.04) + 0.01;
        Assert.True(Dries(Ours));
        Assert.False(Dries(Ratio));
    }

    [Fact] // ISO 7730 Table D.1; mean radiant taken for air, and clothing in clo instead of m²K/W
    public void The_comfort_check_rejects_a_room_without_radiation()
    {
        double[][] rows = [[23.5, 25.5, .10, 60, 1.2, .5, -0.01], [23, 21, .10, 40, 1.2, 1, 0.05]];
        double Vote(double[] r, double radiant)
        {
            bool possible = Physics.Comfort.TryPredictedMeanVote(r[0], radiant, r[2], r[3], r[4], r[5], out double vote, out Impossible why);
            return Must(possible, vote, why);
        }

        Assert.True(Accepts(rows.Select(r => (r[6], Vote(r, r[1]))), 0.02));
        Assert.False(Accepts(rows.Select(r => (r[6], Vote(r, r[0]))), 0.02));
    }

    [Fact] // IAPWS-IF97 table; water taken as 4,180 kJ/(m³·K) everywhere is up to 1.6 % off
    public void The_water_check_rejects_a_constant_heat_capacity()
    {
        IEnumerable<double[]> rows = Numbers("reference/water_if97.csv");
        double Heat(double t)
        {
            Assert.True(Physics.Water.TryProperties(t, out LiquidProperties p, out Impossible why), why.ToString());
            return p.HeatKJPerM3K;
        }

        Assert.True(Accepts(rows.Select(c => (1.0, Heat(c[0]) / c[3])), 2e-4));
        Assert.False(Accepts(rows.Select(c => (1.0, 4180 / c[3])), 2e-4));
    }
}
