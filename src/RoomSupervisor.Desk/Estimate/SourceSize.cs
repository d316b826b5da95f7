// Size and efficiency of the source, and its buffer. Must never hide what a size was reckoned for: design day or winter night, and the margin on it.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;
using PhysicalWater = RoomSupervisor.Physics.Water;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>The source as estimated.</summary>
/// <param name="CoolingPeakW">Most cold the house takes at once on the design day, hourly mean, moisture counted, W.</param>
/// <param name="HeatingPeakW">Heat of the house at the winter design temperature, W.</param>
/// <param name="Size">Sizes.</param>
/// <param name="CoolingPerformance">Cold for work over the design day; NaN where nothing is cooled.</param>
/// <param name="HeatingPerformance">Heat for work at the winter design temperature; NaN for a boiler.</param>
/// <param name="HeatingWaterC">Warmest water it must make, °C.</param>
/// <param name="BufferWhy">What the buffer was reckoned for.</param>
public sealed record SourceEstimate(double CoolingPeakW, double HeatingPeakW, PlantSize Size, double CoolingPerformance, double HeatingPerformance, double HeatingWaterC, string BufferWhy);

internal static class SourceSize
{
    // Margin on the design day, on a heat pump's heat for its defrosts, and how heat and cold of one machine go together (common practice, no published source).
    private const double ColdMargin = 1.1, DefrostMargin = 1.15, HeatOverCold = 1.3, LeastHeatOverCold = 1.1, SwingK = 5, ApproachK = 5;

    /// <summary>Cold for work.</summary>
    public static double CoolingPerformance(EstimateSource source, double outdoorC, double waterC)
        => HeatPump.TryCooling(Math.Clamp(outdoorC, -10, 55), Math.Clamp(waterC, 4, 25), source.ShareOfIdealPercent / 100, ApproachK, out var performance, out _) ? performance : 3;

    /// <summary>Heat for work.</summary>
    public static double HeatingPerformance(EstimateSource source, double outdoorC, double waterC)
        => HeatPump.TryHeating(Math.Clamp(outdoorC, -30, 45), Math.Clamp(waterC, 15, 75), source.ShareOfIdealPercent / 100, ApproachK, out var performance, out _) ? performance : double.NaN;

    /// <summary>Sizes for a cold and a heat; what the file says of the machine goes before.</summary>
    public static PlantSize Of(EstimateFile file, DesignDays days, double coldW, double heatW)
    {
        var source = file.Source;
        var isPump = source.Type == "heat-pump";
        var cold = source.Cools ? coldW * ColdMargin / ColdAt(days) : 0;
        var heat = source.Heats ? isPump ? heatW * DefrostMargin / new MachinePlan(1000, 1000, 0.3).HeatingAtW(days.WinterC) * 1000 : heatW * ColdMargin : 0;
        if (isPump)
            (cold, heat) = (Math.Max(cold, heat / HeatOverCold), Math.Max(heat, cold * LeastHeatOverCold));
        cold = Said(file.Building.CoolingOutputW, cold);
        heat = Said(file.Building.HeatingOutputW, heat);
        if (!source.Cools)
            cold = heat;   // the virtual boiler has no cold side, but its plan wants a number
        if (!source.Heats)
            heat = cold;
        var least = Math.Round(Math.Clamp(source.LeastPercent / 100 * (source.Cools ? cold : heat), 200, 50_000) / 10) * 10;
        return new PlantSize(cold, heat, least, double.IsFinite(source.BufferL) ? source.BufferL : BufferL(source, least), days.AltitudeM, days.WinterC);
    }

    private static double Said(double written, double found) => double.IsFinite(written) ? written : Math.Clamp(Math.Ceiling(found / 100) * 100, 500, 100_000);

    // The virtual machine's full cold falls by a percent a kelvin against 35 °C.
    private static double ColdAt(DesignDays days)
    {
        var hottest = days.Summer.File.AirC.Length == 24 ? days.Summer.File.AirC.Max() : 35;
        return Math.Clamp(1 - 0.01 * (hottest - 35), 0.6, 1.2);
    }

    // Least output for the shortest run, the store drifting by five kelvin.
    private static double BufferL(EstimateSource source, double leastW)
    {
        PhysicalWater.TryProperties(12, out var water, out _);
        WaterFlow.TryStore(leastW, source.ShortestRunS, SwingK, water, out var litres, out _);
        return Math.Clamp(Math.Ceiling(litres / 10) * 10, 30, 5000);
    }
}
