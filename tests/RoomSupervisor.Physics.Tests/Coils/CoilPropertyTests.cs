// Properties of the coil over random inputs: balances close, nothing exceeds its bound, dry means dry.
// Must never be unseeded: a failure is found again by its seed.
using CsCheck;
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class CoilPropertyTests
{
    private static readonly Gen<(CoilInput Input, CoilConductances Coil)> Any =
        Gen.Select(Gen.Double[15, 40], Gen.Double[15, 98], Gen.Double[0.01, 0.5], Gen.Double[4, 60], Gen.Double[0.01, 0.5],
            Gen.Double[50, 2000], Gen.Double[50, 5000], Gen.Double[80_000, 105_000],
            (t, rh, ma, tw, mw, air, water, p) => (new CoilInput(Air(t, rh, p), ma, tw, mw, 4.19), new CoilConductances(air, water)));

    private static CoilResult Solve(CoilInput input, CoilConductances coil)
    {
        Assert.True(Coil.TrySolve(input, coil, out CoilResult result, out Impossible why), why.ToString());
        return result;
    }

    [Fact]
    public void Energy_and_moisture_balances_close() => Any.Each(2, 3000, sample =>
    {
        (CoilInput input, CoilConductances coil) = sample;
        CoilResult r = Solve(input, coil);
        double scale = Math.Max(Math.Abs(r.TotalW), 1);
        double leaving = Of(MoistAir.TryEnthalpy, r.LeavingAirC, r.LeavingHumidityRatio);
        double air = 1000 * input.DryAirKgPerS * (input.Air.EnthalpyKJPerKg - leaving);
        double water = 1000 * input.WaterKgPerS * input.WaterKJPerKgK * (r.LeavingWaterC - input.WaterC);
        Near(r.TotalW, air, 1e-6 * scale, "air side");
        Near(r.TotalW, water, 1e-6 * scale, "water side");
        Near(r.TotalW, r.SensibleW + r.LatentW, 1e-9 * scale, "sensible and latent");
        Near(3600 * input.DryAirKgPerS * (input.Air.HumidityRatio - r.LeavingHumidityRatio), r.CondensateKgPerH, 1e-9, "moisture");
    });

    [Fact]
    public void Condensate_is_exactly_zero_when_the_coil_is_above_the_dew_point_and_positive_when_below() => Any.Each(3, 3000, sample =>
    {
        (CoilInput input, CoilConductances coil) = sample;
        CoilResult r = Solve(input, coil);
        if (input.WaterC >= input.Air.DewPointC) Assert.Equal(0, r.CondensateKgPerH);
        if (r.ColdestSurfaceC >= input.Air.DewPointC + 0.1) Assert.Equal(0, r.CondensateKgPerH);
        if (r.WetShare > 0.01) Assert.True(r.CondensateKgPerH > 0);
    });

    [Fact]
    public void No_coil_takes_more_than_the_air_holds_above_the_water() => Any.Each(4, 3000, sample =>
    {
        (CoilInput input, CoilConductances coil) = sample;
        CoilResult r = Solve(input, coil);
        if (r.TotalW < 0)
        {
            Assert.InRange(r.LeavingAirC, input.Air.DryBulbC, input.WaterC + 1e-9);
            return;
        }

        AirState saturated = Air(input.WaterC, 100, input.Air.PressurePa);
        double floor = r.WetShare > 0 ? saturated.EnthalpyKJPerKg : Of(MoistAir.TryEnthalpy, input.WaterC, input.Air.HumidityRatio);
        Assert.True(r.TotalW <= 1000 * input.DryAirKgPerS * (input.Air.EnthalpyKJPerKg - floor) + 1e-6);
        Assert.InRange(r.LeavingAirC, input.WaterC - 1e-9, input.Air.DryBulbC);
    });

    [Fact]
    public void A_coil_with_more_conductance_never_gives_less() => Any.Each(5, 3000, sample =>
    {
        (CoilInput input, CoilConductances coil) = sample;
        CoilResult small = Solve(input, coil), large = Solve(input, new CoilConductances(coil.AirWPerK * 1.2, coil.WaterWPerK * 1.2));
        Assert.True(Math.Abs(large.TotalW) >= Math.Abs(small.TotalW) * (1 - 1e-6) - 1e-9, $"{small} {large}");
    });
}
