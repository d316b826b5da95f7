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
public sealed record SourceEstimate(double CoolingPeakW, double HeatingPeakW, PlantSize Size, double CoolingPerformance, double HeatingPerformance, double HeatingWaterC, string BufferWhy)
{
    /// <summary>Hot water; null: none is made.</summary>
    public HotWaterEstimate? HotWater { get; init; }

    /// <summary>Heat for work while it charges the tank at the winter design temperature; NaN for a boiler.</summary>
    public double HotWaterPerformance { get; init; } = double.NaN;

    /// <summary>Heat it makes at the winter design temperature, W; NaN where it makes none.</summary>
    public double WinterOutputW { get; init; } = double.NaN;
}

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

    /// <summary>No buffer is smaller, l (project choice).</summary>
    public const double LeastBufferL = 30;

    /// <summary>Water for the tank is this much warmer than the tank, K (common practice, no published source).</summary>
    public const double OverTankK = 5;

    /// <summary>Heat of a size at an outdoor temperature, W: the virtual machine's.</summary>
    public static double HeatAt(EstimateSource source, PlantSize size, double outdoorC) => source.HeatsByPump ? new MachinePlan(1000, size.HeatingW, 0.3).HeatingAtW(outdoorC) : size.HeatingW;

    /// <summary>Sizes for a cold and a heat; what the file says of the machine goes before.</summary>
    public static PlantSize Of(EstimateFile file, DesignDays days, double coldW, double heatW)
    {
        var source = file.Source;
        var cold = source.Cools ? coldW * ColdMargin / ColdAt(days) : 0;
        // Hot water goes before heat, so its share of the day is missing to the rooms unless the source makes up for it: both together over the day.
        var heatAll = heatW + (HotWaterEstimate.Of(source)?.MeanW ?? 0);
        var heat = !source.Heats ? 0 : source.HeatsByPump ? heatAll * DefrostMargin / new MachinePlan(1000, 1000, 0.3).HeatingAtW(days.WinterC) * 1000 : heatAll * ColdMargin;
        // One machine for both has one compressor; two machines are sized each for itself.
        if (source.Type == "heat-pump")
            (cold, heat) = (Math.Max(cold, heat / HeatOverCold), Math.Max(heat, cold * LeastHeatOverCold));
        cold = Said(file.Building.CoolingOutputW, cold);
        heat = Said(file.Building.HeatingOutputW, heat);
        if (!source.Cools)
            cold = heat;   // the virtual boiler has no cold side, but its plan wants a number
        if (!source.Heats)
            heat = cold;
        var least = Math.Round(Math.Clamp(source.LeastPercent / 100 * (source.Cools ? cold : heat), 200, 50_000) / 10) * 10;
        var warmLeast = source.IsFourPipe ? Math.Round(Math.Clamp(source.LeastPercent / 100 * heat, 200, 50_000) / 10) * 10 : 0;
        return new PlantSize(cold, heat, least, double.IsFinite(source.BufferL) ? source.BufferL : BufferL(source, least), days.AltitudeM, days.WinterC)
        {
            WarmLeastW = warmLeast,
            WarmBufferL = warmLeast > 0 ? BufferL(source, warmLeast) : 0,
        };
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
        return Math.Clamp(Math.Ceiling(litres / 10) * 10, LeastBufferL, 5000);
    }
}
