// Hot water of an estimate: energy of a day, tank, and how long the source is away from the rooms for it. A charge goes before heating and cooling.
// Must never say what is safe: hygiene and scalds are matters of local code, and the cautions stand beside every figure.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Hot water as estimated.</summary>
/// <param name="DayJ">Energy of a day, J: drawn as water of 60 °C from 10 °C, nothing lost.</param>
/// <param name="TankL">Tank that holds a day's draw at its wanted temperature, l.</param>
/// <param name="TankC">Wanted temperature, °C.</param>
public sealed record HotWaterEstimate(double DayJ, double TankL, double TankC)
{
    // Drawn and cold water, °C (EN 12831-3:2017 reckons with such a rise, from memory; the standard was not read), and heat of a litre.
    private const double DrawnC = 60, ColdC = 10, JPerLK = 4180, StepL = 50;

    /// <summary>Mean over the day, W: what the source is larger for.</summary>
    public double MeanW => DayJ / 86_400;

    /// <summary>Heats a whole tank from cold with an output, min: the longest that rooms wait.</summary>
    /// <param name="outputW">Heat the source makes, W.</param>
    public double ChargeMin(double outputW) => TankL * JPerLK * (TankC - ColdC) / outputW / 60;

    /// <summary>Hours a day that the source is away from the rooms with an output.</summary>
    /// <param name="outputW">Heat the source makes, W.</param>
    public double AwayH(double outputW) => DayJ / outputW / 3600;

    /// <summary>Of a source; null where it makes none.</summary>
    public static HotWaterEstimate? Of(EstimateSource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (!source.HasHotWater)
            return null;
        var litres = source.HotWaterPeople * source.HotWaterL;
        var tank = litres * (DrawnC - ColdC) / (source.HotWaterC - ColdC);
        return new HotWaterEstimate(litres * JPerLK * (DrawnC - ColdC), Math.Clamp(Math.Ceiling(tank / StepL) * StepL, 80, 5000), source.HotWaterC);
    }

    /// <summary>What must be thought of beside the figures, one sentence each.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Scalds: at 60 °C tap water burns within seconds, above about 50 °C within minutes. A thermostatic mixing valve behind the tank, and its limit, is what local code says.",
        "Legionella: they grow between about 25 °C and 50 °C. Whether a tank under 60 °C is allowed, how hot and how often it must be heated through, is what local code says; pipes that are seldom drawn from count as well.",
    ];
}
