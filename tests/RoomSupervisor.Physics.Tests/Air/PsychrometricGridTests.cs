// Moist air against the 1,152-state psychrometric grid (psychrolib 2.5.0, another implementation of ASHRAE Handbook Fundamentals ch. 1).
// Must never compare unlike with unlike: below 0.01 °C the grid's humidity is over ice and its dew point is a frost point.
using System.Globalization;
using Xunit;
using Xunit.Abstractions;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class PsychrometricGridTests(ITestOutputHelper output)
{
    private sealed record Row(
        double DryBulbC, double GridPercent, double PressurePa, double SaturatedPa, double VapourPa, double DewOrFrostC, double Ratio,
        double WetBulbC, double EnthalpyJ, double Volume, double Density, double PerKelvin, double PerPercent)
    {
        // The grid's humidity is over ice below 0.01 °C; ours is over water at every temperature.
        internal double Percent => DryBulbC >= 0.01 ? GridPercent : 100 * VapourPa / Of(MoistAir.TrySaturationPressure, DryBulbC);

        // Around 0 °C the wet and the iced bulb both have a solution: psychrolib's bisection ends on either, by chance; ours is the wet one.
        // ASHRAE Handbook Fundamentals ch. 1 eqs. 33 and 35 at a bulb of 0 °C: the wet root exists from Wet up, the iced one below Iced.
        internal bool BothBulbs
        {
            get
            {
                double vapour = Of(MoistAir.TrySaturationPressureOverIce, 0), saturated = 0.621945 * vapour / (PressurePa - vapour);
                double wet = (2501 * saturated - 1.006 * DryBulbC) / (2501 + 1.86 * DryBulbC);
                double iced = (2830 * saturated - 1.006 * DryBulbC) / (2830 + 1.86 * DryBulbC);
                return DryBulbC > 0 && Ratio >= wet && Ratio < iced;
            }
        }

        internal string Where => string.Create(CultureInfo.InvariantCulture, $"{DryBulbC} °C {GridPercent} % {PressurePa} Pa");
    }

    private static readonly Row[] Grid = [.. Numbers("reference/psychro_grid.csv").Select(c => new Row(
        c[0], c[1], c[2], c[3], c[4], c[6], c[7], c[9], c[10], c[11], c[12], c[15], c[16]))];

    private static readonly IEnumerable<Row> Warm = Grid.Where(r => r.DryBulbC >= 0.01);

    private void Check(IEnumerable<Row> rows, string name, double tolerance, Func<Row, double> difference)
    {
        Worst worst = new(name);
        foreach (Row row in rows) worst.Add(difference(row), row.Where);
        output.WriteLine(worst.ToString());
        Assert.True(worst.Value <= tolerance, worst.ToString());
    }

    [Fact]
    public void The_grid_has_1152_states() => Assert.Equal(1152, Grid.Length);

    [Fact] // psychrolib 2.5.0; the column has three decimals: 2 ppm of the smallest value
    public void Saturation_pressure_equals_the_grid_over_water_and_over_ice()
    {
        Check(Warm, "pws water, relative", 5e-6, r => Of(MoistAir.TrySaturationPressure, r.DryBulbC) / r.SaturatedPa - 1);
        Check(Grid.Where(r => r.DryBulbC < 0.01), "pws ice, relative", 5e-6, r => Of(MoistAir.TrySaturationPressureOverIce, r.DryBulbC) / r.SaturatedPa - 1);
    }

    [Fact] // psychrolib 2.5.0, bisected column (five decimals; vapour pressure has three)
    public void Dew_point_equals_the_grid_where_it_is_above_the_triple_point() =>
        Check(Warm.Where(r => r.DewOrFrostC > 0.02), "dew point K", 2e-5, r => Of(MoistAir.TryDewPoint, r.DryBulbC, r.GridPercent) - r.DewOrFrostC);

    [Fact] // psychrolib 2.5.0: its "dew point" below 0 °C is over ice
    public void Frost_point_equals_the_grid_where_it_is_below_zero() =>
        Check(Grid.Where(r => r.DewOrFrostC < 0), "frost point K", 5e-4, r => Of(MoistAir.TryFrostPoint, r.DryBulbC, r.Percent) - r.DewOrFrostC);

    [Fact] // psychrolib 2.5.0; pressure is rounded to 0.1 Pa in the grid, which moves the largest W by 5e-8
    public void Humidity_ratio_equals_the_grid() =>
        Check(Grid, "W kg/kg", 1e-7, r => Of(MoistAir.TryHumidityRatio, r.DryBulbC, r.Percent, r.PressurePa) - r.Ratio);

    [Fact] // psychrolib 2.5.0, bisected column, five decimals
    public void Wet_bulb_equals_the_grid()
    {
        static double Off(Row r) => Of(MoistAir.TryWetBulb, r.DryBulbC, r.Percent, r.PressurePa) - r.WetBulbC;
        Row[] both = [.. Grid.Where(r => r.BothBulbs)];
        Assert.InRange(both.Length, 1, 8);
        Check(Grid.Except(both), "wet bulb K", 1e-3, Off);
        Check(both.Where(r => r.WetBulbC >= 0), "wet bulb near 0 °C where the grid took the wet one, K", 1e-3, Off);
        Assert.All(both, r => Assert.InRange(Of(MoistAir.TryWetBulb, r.DryBulbC, r.Percent, r.PressurePa), 0, 1));
    }

    [Fact] // psychrolib 2.5.0
    public void Enthalpy_volume_and_density_equal_the_grid()
    {
        Check(Grid, "h kJ/kg", 1e-3, r => Air(r.DryBulbC, r.Percent, r.PressurePa).EnthalpyKJPerKg - r.EnthalpyJ / 1000);
        Check(Grid, "v relative", 3e-6, r => Air(r.DryBulbC, r.Percent, r.PressurePa).SpecificVolumeM3PerKg / r.Volume - 1);
        Check(Grid, "rho relative", 3e-6, r => Air(r.DryBulbC, r.Percent, r.PressurePa).DensityKgPerM3 / r.Density - 1);
    }

    [Fact] // central differences on psychrolib 2.5.0, five decimals
    public void Dew_point_slopes_equal_the_grid()
    {
        static (double PerKelvin, double PerPercent) Slopes(Row r)
        {
            Assert.True(MoistAir.TryDewPointSlopes(r.DryBulbC, r.GridPercent, out double k, out double p, out Impossible why), why.ToString());
            return (k, p);
        }

        // At 100 % the grid cannot step upwards; next to 0 °C its step crosses to ice.
        Row[] rows = [.. Warm.Where(r => r.DewOrFrostC > 0.2 && r.DryBulbC > 0.2 && r.GridPercent < 100)];
        Check(rows, "dTd/dT", 2e-4, r => Slopes(r).PerKelvin - r.PerKelvin);
        Check(rows, "dTd/dRH", 2e-4, r => Slopes(r).PerPercent - r.PerPercent);
    }
}
