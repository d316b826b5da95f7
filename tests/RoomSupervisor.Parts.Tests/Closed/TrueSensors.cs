// What the sensors of the closed test room say: late and noisy. Never exact.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// A wall sensor as two first-order lags: the case's for temperature, a third of it for vapour (a wall housing's own exchange; common practice, no
/// published source). Relative humidity is that of the chip's own temperature. Water sensors lag 8 s. Noise even within ±0.03 K and ±0.3 %, seeded.
/// </summary>
internal sealed class TrueSensors(TrueAir room, int lagS, uint seed)
{
    private readonly Random noise = new((int)(seed & 0x7FFFFFFF));
    private double wallC = room.AirC, vapourPa = room.VapourPa, supplyC = 22, returnC = 22, coilC = 22;

    public double WallC => wallC + Noise(0.03);

    public double HumidityPercent => Math.Min(100, 100 * vapourPa / SaturationPa(wallC)) + Noise(0.3);

    public double SupplyC => supplyC + Noise(0.03);

    public double ReturnC => returnC + Noise(0.03);

    public double CoilC => coilC + Noise(0.03);

    public double Noise(double half) => half * (2 * noise.NextDouble() - 1);

    /// <summary>One second.</summary>
    public void Step(TrueAir air, TruePlant plant, TrueSurface surface)
    {
        wallC += (air.AirC - wallC) / lagS;
        vapourPa += (air.VapourPa - vapourPa) / (lagS / 3.0);
        supplyC += (plant.SurfaceWaterC - supplyC) / 8;
        returnC += (surface.ReturnC - returnC) / 8;
        coilC += (plant.CoilWaterC - coilC) / 8;
    }

    private static double SaturationPa(double celsius)
        => MoistAir.TrySaturationPressure(celsius, out var pascals, out _) ? pascals : throw new InvalidOperationException($"no saturation at {celsius} °C");
}
