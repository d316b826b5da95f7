// Growth and drying of water films against the Lewis relation worked with table values. Must never take its figures from the code it checks.
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class WaterFilmTests
{
    // The table counts air and vapour as real gases (enhancement factor 1.004), ours are ideal: half a per cent between them.
    // ASHRAE Handbook Fundamentals ch. 1, table of moist air at 101.325 kPa (from memory): Ws 0.007661 at 10 °C, 0.010694 at 15 °C, 0.014758 at 20 °C. h/(cp·Le^⅔) with 4 W/(m²·K), 1006 J/(kg·K), 0.865^⅔ = 0.9078.
    [Theory]
    [InlineData(15, 10, 4 / (1006 * 0.9078) * (0.010694 - 0.007661))]
    [InlineData(15, 20, 4 / (1006 * 0.9078) * (0.010694 - 0.014758))]
    [InlineData(20, 20, 0)]
    public void A_film_grows_by_the_lewis_relation_under_the_dew_point_and_dries_above_it(double dewPointC, double faceC, double kgPerM2S)
    {
        Assert.True(WaterFilm.TryGrowth(4, dewPointC, faceC, 101325, out double growth, out _));
        Near(kgPerM2S, growth, 0.006 * Math.Abs(kgPerM2S) + 1e-9);
    }

    // ISO 11855-2: at 8 K a cooled ceiling exchanges 8.92·8^0.1 = 10.98 W/(m²·K) (EN 14240 tests of panels lie near that), a floor 7, a wall 8; 5.5 of it by radiation (Olesen, AIVC 2008).
    [Theory]
    [InlineData(true, false, 10.98 - 5.5)]
    [InlineData(false, true, 1.5)]
    [InlineData(false, false, 2.5)]
    public void What_moves_air_at_a_cooled_face_is_its_exchange_less_radiation(bool isCeiling, bool isFloor, double wPerM2K)
    {
        Assert.True(WaterFilm.TryConvection(isCeiling, isFloor, 8, out double convection, out _));
        Near(wPerM2K, convection, 0.005);
    }

    [Fact]
    public void What_cannot_be_is_named()
    {
        Assert.False(WaterFilm.TryGrowth(4, double.NaN, 10, 101325, out double growth, out Impossible why));
        Assert.Equal(("dewPointC", true), (why.Parameter, double.IsNaN(growth)));
        Assert.False(WaterFilm.TryConvection(true, false, -1, out _, out why));
        Assert.Equal("differenceK", why.Parameter);
    }
}
