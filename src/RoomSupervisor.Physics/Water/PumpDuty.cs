// What a pump has to do: pressure lost in fittings and valves, and the power that head and flow take.
// Must never stand for a pump's curve: it tells the duty, a maker's sheet tells the pump.
namespace RoomSupervisor.Physics;

/// <summary>Duty of a pump.</summary>
public static class PumpDuty
{
    /// <summary>Pressure lost in a valve, Pa: 1 bar·(flow/kv)², the definition of kv (EN 60534-1) for water near 1,000 kg/m³.</summary>
    /// <param name="flowM3PerH">0…1000 m³/h.</param>
    /// <param name="kvM3PerH">0.01…2000 m³/h, the flow at 1 bar.</param>
    /// <param name="pascals">Pa; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryValve(double flowM3PerH, double kvM3PerH, out double pascals, out Impossible why)
    {
        pascals = double.NaN;
        if (!Allowed.Range(nameof(flowM3PerH), flowM3PerH, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(kvM3PerH), kvM3PerH, 0.01, 2000, out why)) return false;
        double share = flowM3PerH / kvM3PerH;
        pascals = 100_000 * share * share;
        return true;
    }

    /// <summary>The kv, m³/h, that loses a pressure at a flow: the other way round.</summary>
    /// <param name="flowM3PerH">0…1000 m³/h.</param>
    /// <param name="pascals">1…1e6 Pa.</param>
    /// <param name="kvM3PerH">m³/h; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryKv(double flowM3PerH, double pascals, out double kvM3PerH, out Impossible why)
    {
        kvM3PerH = double.NaN;
        if (!Allowed.Range(nameof(flowM3PerH), flowM3PerH, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(pascals), pascals, 1, 1e6, out why)) return false;
        kvM3PerH = flowM3PerH / Math.Sqrt(pascals / 100_000);
        return true;
    }

    /// <summary>Electrical power, W: flow times head over the efficiency of pump and motor together.</summary>
    /// <param name="flowM3PerH">0…1000 m³/h.</param>
    /// <param name="headPa">0…1e6 Pa.</param>
    /// <param name="efficiency">0.02…0.9; small circulators 0.1 to 0.45 (common practice, no published source).</param>
    /// <param name="watts">W; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryPower(double flowM3PerH, double headPa, double efficiency, out double watts, out Impossible why)
    {
        watts = double.NaN;
        if (!Allowed.Range(nameof(flowM3PerH), flowM3PerH, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(headPa), headPa, 0, 1e6, out why)) return false;
        if (!Allowed.Range(nameof(efficiency), efficiency, 0.02, 0.9, out why)) return false;
        watts = flowM3PerH / 3600 * headPa / efficiency;
        return true;
    }
}
