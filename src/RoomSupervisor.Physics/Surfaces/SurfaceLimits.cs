// The temperatures a surface should not pass, each with where the figure is from.
// Must never be taken for condensation safety: that is a matter of dew point, not of a fixed limit.
namespace RoomSupervisor.Physics;

/// <summary>Limits of surface temperature, °C.</summary>
public static class SurfaceLimits
{
    /// <summary>Highest floor temperature where people stay. EN 1264 (quoted by a test laboratory).</summary>
    public const double HeatedFloorOccupiedC = 29;

    /// <summary>Highest floor temperature in the edge zone. EN 1264 (quoted by a test laboratory).</summary>
    public const double HeatedFloorEdgeC = 35;

    /// <summary>Highest floor temperature in bathrooms: 24 °C + 9 K (from memory, not confirmed).</summary>
    public const double HeatedFloorBathroomC = 33;

    /// <summary>Lowest temperature of a cooled wall or ceiling. ISO 11855-6:2012 Annex A (quoted).</summary>
    public const double CooledWallOrCeilingC = 17;

    /// <summary>Lowest temperature of a cooled floor. ISO 11855-6:2012 Annex A (quoted).</summary>
    public const double CooledFloorC = 19;

    /// <summary>Lowest temperature of a cooled floor under people who sit. Olesen, AIVC 2008 (quoted).</summary>
    public const double CooledFloorSeatedC = 20;

    /// <summary>
    /// Largest heat flow, W/m², a floor may give so that its mean stays at a limit: 8.92·(limit − room)^1.1, 0 when the room is warmer.
    /// EN 1264-2 basic characteristic; the hottest spot of a real floor stands above its mean.
    /// </summary>
    /// <param name="limitC">10…40 °C.</param>
    /// <param name="roomC">−20…60 °C.</param>
    /// <param name="wattsPerM2">W/m²; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryHighestFloorHeating(double limitC, double roomC, out double wattsPerM2, out Impossible why)
    {
        wattsPerM2 = double.NaN;
        if (!Allowed.Range(nameof(limitC), limitC, 10, 40, out why)) return false;
        if (!Allowed.Range(nameof(roomC), roomC, -20, 60, out why)) return false;
        return RadiantSurface.TryFloorHeatingOrCeilingCooling(Math.Max(limitC - roomC, 0), out wattsPerM2, out why);
    }
}
