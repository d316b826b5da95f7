// One circuit of a manifold as a resistance: pipe by Darcy and Weisbach, a part that goes with the square of flow, and a valve by its flow coefficient. Flow for a pressure and back. Must never assume that pipe goes with
// the square of flow: small circuits are laminar.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>A circuit.</summary>
/// <param name="LengthM">Pipe, m, 0 to 250.</param>
/// <param name="BoreM">Inner diameter, m.</param>
/// <param name="LocalShare">Bends and manifold as a share of the pipe's friction.</param>
/// <param name="SquarePa">Further loss, Pa at 1 kg/s, going with the square of flow.</param>
public readonly record struct Branch(double LengthM, double BoreM, double LocalShare, double SquarePa)
{
    /// <summary>Roughness of plastic pipe, m.</summary>
    private const double RoughnessM = 1.5e-6;

    /// <summary>Pressure that drives one bar through a flow coefficient, Pa: kv is m³/h at 1 bar by definition.</summary>
    private const double BarPa = 1e5;

    /// <summary>Largest flow that is reckoned with, kg/s.</summary>
    private const double MostKgPerS = 2;

    /// <summary>Loss of the circuit without its valve, Pa.</summary>
    /// <param name="kgPerS">0 to 2 kg/s.</param>
    /// <param name="carrier">Properties of the water.</param>
    public double LossPa(double kgPerS, in LiquidProperties carrier)
    {
        var square = SquarePa * kgPerS * kgPerS;
        if (LengthM <= 0 || kgPerS <= 0)
            return square;
        if (!WaterFlow.TryVelocity(3600 * kgPerS / carrier.DensityKgPerM3, BoreM, out var velocity, out var why) || !WaterFlow.TryFriction(Math.Min(velocity, 10), BoreM, RoughnessM, carrier, out var perM, out why))
            throw new ArgumentOutOfRangeException(nameof(kgPerS), why.ToString());
        return square + perM * LengthM * (1 + LocalShare);
    }

    /// <summary>Loss of a valve, Pa.</summary>
    /// <param name="kgPerS">Flow.</param>
    /// <param name="kv">Flow coefficient, m³/h at 1 bar.</param>
    /// <param name="carrier">Properties of the water.</param>
    public static double ValvePa(double kgPerS, double kv, in LiquidProperties carrier)
    {
        var share = 3600 * kgPerS / carrier.DensityKgPerM3 / kv;
        // By definition for water of 1,000 kg/m³.
        return BarPa * share * share * carrier.DensityKgPerM3 / 1000;
    }

    /// <summary>Flow coefficient with which a valve takes a pressure at a flow.</summary>
    public static double KvFor(double kgPerS, double pa, in LiquidProperties carrier) => 3600 * kgPerS / carrier.DensityKgPerM3 / Math.Sqrt(pa / BarPa * 1000 / carrier.DensityKgPerM3);

    /// <summary>Flow that a pressure drives through circuit and valve, kg/s.</summary>
    public double FlowFor(double pa, double kv, in LiquidProperties carrier)
    {
        var (low, high) = (0.0, MostKgPerS);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (LossPa(middle, carrier) + ValvePa(middle, kv, carrier) > pa)
                high = middle;
            else
                low = middle;
        }
        return (low + high) / 2;
    }
}
