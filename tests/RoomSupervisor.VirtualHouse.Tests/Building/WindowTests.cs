// What windows lose in a room that is held, against their U values. Must never be read as a proof of the films: EN 673 fixes them, ours follow wind and temperatures.
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Building;

public sealed class WindowTests(ITestOutputHelper output)
{
    /// <summary>
    /// EN 673's conditions as far as they go: 20 °C inside, 0 °C outside, 4 m/s of wind, a sky as warm as the air, no sun. Films that follow the wind and walls that the window cools lose a tenth to a quarter less than its films of
    /// 7.7 and 25 W/(m²·K) say; what one glass keeps in more than another, which no film touches, is what the two U values say.
    /// </summary>
    [Theory]
    [InlineData(1.1, 2.8)]
    [InlineData(2.8, 4.5)]
    [InlineData(4.5, 5.7)]
    public void Windows_part_by_what_their_U_values_say(double better, double worse)
    {
        double kept = 200 / LostW(better) - 200 / LostW(worse), said = 1 / better - 1 / worse;
        output.WriteLine(FormattableString.Invariant($"{better} against {worse}: {kept:F4} m²K/W, {said:F4} said; {LostW(worse) / (200 * worse):F2} of U·A·ΔT"));
        Assert.InRange(kept / said, 0.9, 1.1);
        Assert.InRange(LostW(worse) / (200 * worse), 0.7, 1);
    }

    // Ten square metres, W.
    private static double LostW(double u)
    {
        BuildingModel building = new(Samples.Box(furniture: 1000) with { Windows = [new WindowPlan("window", 0, 10, 180, GlassPlan.FromUg(u, 0.7))] }, 300);
        WeatherNow weather = new() { AirC = 0, SkyC = 0, WindMPerS = 4, WindFromDegrees = 180, PressurePa = 101_325, HumidityRatio = 0.003 };
        for (int i = 0; i < 12 * 24 * 10; i++)
        {
            building.IdealHeatC[0] = 20;
            building.Step(weather);
        }

        return building.IdealW[0];
    }
}
