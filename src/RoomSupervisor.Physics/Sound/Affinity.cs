// Pumps and fans at another speed: flow, pressure and power.
// Must never let electrical power fall to nothing with speed: the electronics keep drawing theirs.
namespace RoomSupervisor.Physics;

/// <summary>Flow, pressure and electrical power at a speed, each as a share of (or beside) full speed.</summary>
/// <param name="FlowRatio">Share of full flow.</param>
/// <param name="PressureRatio">Share of full pressure.</param>
/// <param name="PowerW">Electrical power, W.</param>
public readonly record struct AffinityPoint(double FlowRatio, double PressureRatio, double PowerW);

/// <summary>
/// Affinity laws of one machine on one unchanged circuit: flow ~ N, pressure ~ N², shaft power ~ N³ (textbook). Electrical power rests on a
/// floor that the electronics draw at any running speed (common practice, no published source).
/// </summary>
public static class Affinity
{
    /// <summary>Point at a share of full speed. At speed 0 all is 0 but the floor.</summary>
    /// <param name="speedRatio">0…1.5 of full speed.</param>
    /// <param name="fullPowerW">Electrical power at full speed, 0…1e5 W.</param>
    /// <param name="electronicsFloorW">0…full power, W.</param>
    /// <param name="point">The point; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryAt(
        double speedRatio, double fullPowerW, double electronicsFloorW, out AffinityPoint point, out Impossible why)
    {
        point = new AffinityPoint(double.NaN, double.NaN, double.NaN);
        if (!Allowed.Range(nameof(speedRatio), speedRatio, 0, 1.5, out why)) return false;
        if (!Allowed.Range(nameof(fullPowerW), fullPowerW, 0, 1e5, out why)) return false;
        if (!Allowed.Range(nameof(electronicsFloorW), electronicsFloorW, 0, fullPowerW, out why)) return false;
        double square = speedRatio * speedRatio;
        point = new AffinityPoint(speedRatio, square, electronicsFloorW + (fullPowerW - electronicsFloorW) * square * speedRatio);
        return true;
    }
}
