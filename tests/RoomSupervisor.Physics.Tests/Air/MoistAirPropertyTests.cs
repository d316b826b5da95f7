// Properties of moist air over random states: round trips, order of the temperatures, and what is refused.
// Must never claim the order dew ≤ wet ≤ dry below 0.01 °C: an iced bulb follows ice, the dew point follows water.
using CsCheck;
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class MoistAirPropertyTests
{
    private static readonly Gen<(double T, double Rh, double P)> Warm = Gen.Select(Gen.Double[0.01, 60], Gen.Double[1, 100], Gen.Double[70_000, 108_000]);

    private static readonly Gen<(double T, double Rh, double P)> Cold = Gen.Select(Gen.Double[-40, 60], Gen.Double[1, 100], Gen.Double[70_000, 108_000]);

    // Bisection on the saturation form: slow and sure, the yardstick of the fast inversion.
    private static double Bisect(double pascals)
    {
        double low = -100, high = 100;
        for (int i = 0; i < 100; i++)
        {
            double middle = (low + high) / 2;
            if (Of(MoistAir.TrySaturationPressure, middle) < pascals) low = middle;
            else high = middle;
        }

        return low;
    }

    [Fact]
    public void Dew_point_is_the_exact_inverse_to_a_millionth_of_a_kelvin() => Cold.Each(11, 5000, s =>
    {
        double vapour = s.Rh / 100 * Of(MoistAir.TrySaturationPressure, s.T);
        Near(Bisect(vapour), Of(MoistAir.TryDewPoint, s.T, s.Rh), 1e-6);
    });

    [Theory] // the ends of the range, where the first guess is worst: the saturation form gives the pressure back
    [InlineData(-60, 1)]
    [InlineData(-95, 60)]
    [InlineData(199, 99)]
    [InlineData(199, 0.5)]
    [InlineData(120, 1e-4)]
    public void Dew_point_is_exact_at_the_ends_of_the_range_too(double dryBulb, double percent)
    {
        double vapour = percent / 100 * Of(MoistAir.TrySaturationPressure, dryBulb);
        Near(1, Of(MoistAir.TrySaturationPressure, Of(MoistAir.TryDewPoint, dryBulb, percent)) / vapour, 1e-8);
    }

    [Fact]
    public void Relative_humidity_comes_back_from_dew_point_humidity_ratio_and_wet_bulb() => Warm.Each(12, 5000, s =>
    {
        AirState a = Air(s.T, s.Rh, s.P);
        Near(s.Rh, Of(MoistAir.TryRelativeHumidity, s.T, a.DewPointC), 1e-6, "dew point");
        Assert.True(AirState.TryFromHumidityRatio(s.T, a.HumidityRatio, s.P, out AirState b, out Impossible why), why.ToString());
        Near(s.Rh, b.RelativeHumidityPercent, 1e-6, "humidity ratio");
        Near(a.DewPointC, Of(MoistAir.TryDewPointFromHumidityRatio, a.HumidityRatio, s.P), 1e-6, "dew point from humidity ratio");
        if (a.WetBulbC < 0) return;
        Assert.True(AirState.TryFromWetBulb(s.T, a.WetBulbC, s.P, out AirState c, out why), why.ToString());
        Near(s.Rh, c.RelativeHumidityPercent, 1e-5, "wet bulb");
    });

    [Fact]
    public void Dew_point_is_at_most_wet_bulb_is_at_most_dry_bulb_from_0_01_degrees_up() => Warm.Each(13, 5000, s =>
    {
        AirState a = Air(s.T, s.Rh, s.P);
        Assert.InRange(a.WetBulbC, double.NegativeInfinity, a.DryBulbC + 1e-7);
        if (a.DewPointC >= 0.01) Assert.InRange(a.DewPointC, double.NegativeInfinity, a.WetBulbC + 1e-6);
        if (s.Rh < 99.9) Assert.True(a.DewPointC < a.DryBulbC);
    });

    [Fact]
    public void Dew_point_rises_with_temperature_and_with_humidity() => Cold.Each(14, 5000, s =>
    {
        double here = Of(MoistAir.TryDewPoint, s.T, s.Rh);
        Assert.True(Of(MoistAir.TryDewPoint, s.T + 0.01, s.Rh) > here);
        if (s.Rh <= 99.9) Assert.True(Of(MoistAir.TryDewPoint, s.T, s.Rh + 0.05) > here);
    });

    [Fact]
    public void Slopes_equal_central_differences() => Cold.Each(15, 3000, s =>
    {
        double t = Math.Min(s.T, 59), rh = Math.Clamp(s.Rh, 2, 98);
        Assert.True(MoistAir.TryDewPointSlopes(t, rh, out double perKelvin, out double perPercent, out Impossible why), why.ToString());
        Near((Of(MoistAir.TryDewPoint, t + 0.01, rh) - Of(MoistAir.TryDewPoint, t - 0.01, rh)) / 0.02, perKelvin, 1e-5);
        Near((Of(MoistAir.TryDewPoint, t, rh + 0.01) - Of(MoistAir.TryDewPoint, t, rh - 0.01)) / 0.02, perPercent, 1e-4);
    });

    [Theory]
    [InlineData(100)]
    [InlineData(101.3)]
    [InlineData(103)]
    public void A_reading_from_100_to_103_percent_counts_as_saturated_with_a_note(double percent)
    {
        Assert.Equal(percent > 100, MoistAir.IsOverSaturatedReading(percent));
        Near(24, Of(MoistAir.TryDewPoint, 24, percent), 1e-9);
        Assert.Equal(100, Air(24, percent).RelativeHumidityPercent);
    }

    [Theory]
    [InlineData(24, 103.1, "relativeHumidityPercent")]
    [InlineData(24, 0, "relativeHumidityPercent")]
    [InlineData(24, -0.1, "relativeHumidityPercent")]
    [InlineData(24, double.NaN, "relativeHumidityPercent")]
    [InlineData(24, double.PositiveInfinity, "relativeHumidityPercent")]
    [InlineData(double.NaN, 50, "dryBulbC")]
    [InlineData(double.NegativeInfinity, 50, "dryBulbC")]
    [InlineData(201, 50, "dryBulbC")]
    [InlineData(-101, 50, "dryBulbC")]
    public void An_impossible_reading_has_no_dew_point_and_says_why(double dryBulb, double percent, string parameter)
    {
        Assert.False(MoistAir.TryDewPoint(dryBulb, percent, out double result, out Impossible why));
        Assert.True(double.IsNaN(result));
        Assert.Equal(parameter, why.Parameter);
        Assert.False(why.Value >= why.Lowest && why.Value <= why.Highest);
        Assert.False(MoistAir.TryDewPointError(dryBulb, percent, 0.3, 2, out result, out _));
        Assert.True(double.IsNaN(result));
        Assert.False(AirState.TryFromRelativeHumidity(dryBulb, percent, 101325, out AirState state, out _));
        Assert.Equal(AirState.Unknown, state);
    }

    [Fact]
    public void Perfectly_dry_air_has_a_humidity_ratio_but_no_dew_point()
    {
        Assert.Equal(0, Of(MoistAir.TryHumidityRatio, 24, 0, 101325));
        Assert.False(MoistAir.TryDewPointFromHumidityRatio(0, 101325, out double none, out _));
        Assert.True(double.IsNaN(none));
    }
}
