// What a surface gives with water of a temperature: output characteristic and the water's own warming on the way, solved together; and how cold the water may be at a dew point.
// Must never give more than the water carries, nor let water be colder than the guard will allow.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A surface at one supply temperature.</summary>
/// <param name="SupplyC">Entering water, °C.</param>
/// <param name="ReturnC">Leaving water, °C.</param>
/// <param name="WPerM2">Output, W/m².</param>
/// <param name="SurfaceC">Mean temperature of the surface, °C.</param>
public readonly record struct SurfaceAt(double SupplyC, double ReturnC, double WPerM2, double SurfaceC);

/// <summary>Surfaces with water.</summary>
internal static class SurfaceGives
{
    /// <summary>Warmest supply with which the sequence still cools, and its coldest set point, °C.</summary>
    public const double WarmestC = 20, ColdestC = 15;

    // Accuracies of a usual room sensor and of the supply sensor; the guard's margin beside them.
    private const double AirK = 0.3, AirPercent = 2, SupplyK = 0.3, MarginK = 1.0;

    /// <summary>The coldest supply the guard allows at a room's dew point, °C: the dew point, what sensors may be off (root sum square), and 1 K.</summary>
    /// <param name="roomC">°C.</param>
    /// <param name="dewC">°C.</param>
    public static double LowestSafeC(double roomC, double dewC)
    {
        var dew = Math.Min(dewC, roomC);
        if (!MoistAir.TryRelativeHumidity(roomC, dew, out var humidity, out _) || !MoistAir.TryDewPointError(roomC, humidity, AirK, AirPercent, out var off, out _))
            off = 0.65;
        return dew + Math.Sqrt(off * off + SupplyK * SupplyK) + MarginK;
    }

    /// <summary>Output at a supply temperature: q = rated·(dTlog/8)^n and q = flow·cp·(return − supply), solved by halving.</summary>
    /// <param name="ratedWPerM2">At 8 K, W/m².</param>
    /// <param name="exponent">n.</param>
    /// <param name="flowKgPerSM2">Water, kg/(s·m²).</param>
    /// <param name="supplyC">°C.</param>
    /// <param name="roomC">°C.</param>
    /// <param name="exchangeWPerM2K">From surface to room; for the surface's temperature.</param>
    public static SurfaceAt At(double ratedWPerM2, double exponent, double flowKgPerSM2, double supplyC, double roomC, double exchangeWPerM2K)
    {
        double low = 0, high = Math.Abs(roomC - supplyC) * flowKgPerSM2 * 4190;
        var sign = roomC > supplyC ? 1 : -1;
        if (high <= 0)
            return new SurfaceAt(supplyC, supplyC, 0, roomC);
        for (var i = 0; i < 60; i++)
        {
            var q = (low + high) / 2;
            OverTemperature.TryLogarithmicMean(supplyC, supplyC + sign * q / (flowKgPerSM2 * 4190), roomC, out var difference, out _);
            if (ratedWPerM2 * Math.Pow(difference / 8, exponent) > q)
                low = q;
            else
                high = q;
        }
        var watts = (low + high) / 2;
        return new SurfaceAt(supplyC, supplyC + sign * watts / (flowKgPerSM2 * 4190), watts, roomC - sign * watts / exchangeWPerM2K);
    }

    /// <summary>Supply with which it gives an output at a flow, °C; warmer than the room in heating.</summary>
    public static double SupplyFor(double ratedWPerM2, double exponent, double flowKgPerSM2, double wPerM2, double roomC, bool heats)
    {
        double low = 0, high = 80;
        for (var i = 0; i < 50; i++)
        {
            var apart = (low + high) / 2;
            if (At(ratedWPerM2, exponent, flowKgPerSM2, heats ? roomC + apart : roomC - apart, roomC, 10).WPerM2 < wPerM2)
                low = apart;
            else
                high = apart;
        }
        return heats ? roomC + high : roomC - high;
    }

    /// <summary>Total exchange of a surface, W/(m²·K): floor cooling 7, ceiling cooling and floor heating 10.8, walls 8, ceiling heating 6 (ISO 11855-2; EN 1264-5).</summary>
    public static double Exchange(EstimateSurface surface, bool heats) => surface.IsWall ? 8 : surface.IsFloor == heats ? 10.8 : heats ? 6 : 7;
}
