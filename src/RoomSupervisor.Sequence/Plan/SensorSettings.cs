// What may be said of an input where it is wired, or of a kind of sensor. Filled by the site reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Calibration and character of a sensor.</summary>
public sealed class SensorSettings
{
    /// <summary>Added to every sample before anything else, K or %.</summary>
    public double Offset { get; internal set; }

    /// <summary>Time constant with which the sensor follows the air, s.</summary>
    public double LagS { get; internal set; } = 120;

    /// <summary>The device's own interval, s.</summary>
    public double IntervalS { get; internal set; } = 5;

    /// <summary>Accuracy of a temperature sensor, K.</summary>
    public double AccuracyK { get; internal set; } = 0.3;

    /// <summary>Accuracy of a humidity sensor, %.</summary>
    public double AccuracyPercent { get; internal set; } = 2;

    /// <summary>Smallest step a temperature sensor can show, K.</summary>
    public double ResolutionK { get; internal set; } = 0.01;

    /// <summary>Smallest step a humidity sensor can show, %.</summary>
    public double ResolutionPercent { get; internal set; } = 0.01;

    /// <summary>A copy for a point of its own.</summary>
    public SensorSettings Copy() => (SensorSettings)MemberwiseClone();

    /// <summary>Keys of a temperature input.</summary>
    public static IReadOnlyList<Parameter<SensorSettings>> TemperatureParameters { get; } =
    [
        OffsetOf(Quantity.TemperatureDifference, 5, 0.1),
        Declare.Number<SensorSettings>("accuracy", Quantity.TemperatureDifference, 0.3, 0.05, 2, "accuracy of the sensor, as its data sheet says", s => s.AccuracyK, (s, v) => s.AccuracyK = v, step: 0.05),
        Declare.Number<SensorSettings>("lag", Quantity.Duration, 120, 0, 900, "time constant with which the sensor follows the air, found at checkout", s => s.LagS, (s, v) => s.LagS = v, step: 5),
        Interval,
        Declare.Number<SensorSettings>("resolution", Quantity.TemperatureDifference, 0.01, 0.001, 1, ResolutionHelp, s => s.ResolutionK, (s, v) => s.ResolutionK = v, more: ResolutionMore),
    ];

    /// <summary>Keys of a humidity input.</summary>
    public static IReadOnlyList<Parameter<SensorSettings>> HumidityParameters { get; } =
    [
        OffsetOf(Quantity.Percent, 15, 0.5),
        Declare.Number<SensorSettings>("accuracy", Quantity.Percent, 2, 0.5, 10, "accuracy of the sensor, as its data sheet says", s => s.AccuracyPercent, (s, v) => s.AccuracyPercent = v, step: 0.5),
        Interval,
        Declare.Number<SensorSettings>("resolution", Quantity.Percent, 0.01, 0.001, 5, ResolutionHelp, s => s.ResolutionPercent, (s, v) => s.ResolutionPercent = v, more: ResolutionMore),
    ];

    private const string ResolutionHelp = "smallest step the sensor can show; one that shows none for hours although the plant worked counts as stuck";

    /// <summary>Why 0.01: chips of 14 to 16 bits step by 0.003 to 0.04; whatever moves by a hundredth is alive. A coarser one that nobody described is judged by the same hours.</summary>
    private const string ResolutionMore = "Write it for sensors that show whole or half units: they may rightly stand still for hours.";

    private static Parameter<SensorSettings> Interval => Declare.Number<SensorSettings>(
        "interval", Quantity.Duration, 5, 0.2, 600, "how often the device itself has a new value", s => s.IntervalS, (s, v) => s.IntervalS = v, step: 0.1);

    private static Parameter<SensorSettings> OffsetOf(Quantity quantity, double limit, double step) => Declare.Number<SensorSettings>(
        "offset", quantity, 0, -limit, limit, "calibration: added to every sample", s => s.Offset, (s, v) => s.Offset = v, step: step);
}
