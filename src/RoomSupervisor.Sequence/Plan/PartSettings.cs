// What the installer says of rooms, coils, surfaces, loops and sensors in site.yaml, beyond their names and kinds.
// Filled by the site reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A room's own keys.</summary>
public sealed class RoomSettings
{
    /// <summary>Stable number: wire labels hang on it.</summary>
    public int Number { get; private set; }

    /// <summary>Floor area, m².</summary>
    public double FloorAreaM2 { get; private set; }

    private double airCapacity = double.NaN;

    /// <summary>Effective heat capacity of air and light furniture, kJ/K. Until measured: 15 kJ/K a square metre of floor (project choice:
    /// 2.6 m of air give 3.1 kJ/K, light furniture and surfaces several times that within minutes).</summary>
    public double AirCapacityKJPerK => double.IsNaN(airCapacity) ? 15 * FloorAreaM2 : airCapacity;

    public static IReadOnlyList<Parameter<RoomSettings>> Parameters { get; } =
    [
        new()
        {
            Key = "number", Quantity = Quantity.Number, Whole = true, Lowest = 1, Highest = 999, Required = true, NeedsRestart = true,
            Help = "stable number of the room; wire labels hang on it",
            GetNumber = r => r.Number, SetNumber = (r, v) => r.Number = (int)v,
        },
        new()
        {
            Key = "floor_area", Quantity = Quantity.Area, Lowest = 2, Highest = 2000, Required = true,
            Help = "floor area",
            GetNumber = r => r.FloorAreaM2, SetNumber = (r, v) => r.FloorAreaM2 = v,
        },
        new()
        {
            Key = "air_capacity", Quantity = Quantity.HeatCapacity, Lowest = 20, Highest = 100000,
            Help = "effective heat capacity of air and light furniture; without it 15 kJ/K a square metre of floor",
            GetNumber = r => r.AirCapacityKJPerK, SetNumber = (r, v) => r.airCapacity = v,
        },
    ];
}

/// <summary>A coil's own keys in its room.</summary>
public sealed class CoilSettings
{
    /// <summary>Speed above which people at the usual seat feel a draught, % of full speed; 100: none found.</summary>
    public double DraughtAtMostPercent { get; private set; } = 100;

    public static IReadOnlyList<Parameter<CoilSettings>> Parameters { get; } =
    [
        new()
        {
            Key = "draught_fan_at_most", Quantity = Quantity.Percent, Default = 100, Lowest = 10, Highest = 100,
            Help = "speed above which people at the usual seat feel a draught, found at checkout",
            GetNumber = c => c.DraughtAtMostPercent, SetNumber = (c, v) => c.DraughtAtMostPercent = v,
        },
    ];
}

/// <summary>A ceiling's own keys in its room.</summary>
public sealed class SurfaceSettings
{
    /// <summary>Active area, m².</summary>
    public double AreaM2 { get; private set; }

    public static IReadOnlyList<Parameter<SurfaceSettings>> Parameters { get; } =
    [
        new()
        {
            Key = "area", Quantity = Quantity.Area, Lowest = 1, Highest = 2000, Required = true,
            Help = "active area of the surface",
            GetNumber = s => s.AreaM2, SetNumber = (s, v) => s.AreaM2 = v,
        },
    ];
}

/// <summary>A loop's own keys.</summary>
public sealed class LoopSettings
{
    /// <summary>Time from full recirculation to full supply of the mixing valve, s.</summary>
    public double StrokeS { get; private set; } = 90;

    /// <summary>Time water takes from the mixing valve to the surfaces, s.</summary>
    public double LagS { get; private set; } = 45;

    /// <summary>Coldest supply set point, °C; NaN: by what the loop serves.</summary>
    public double ColdestC { get; private set; } = double.NaN;

    /// <summary>Warmest supply set point in cooling, °C; NaN: by what the loop serves.</summary>
    public double WarmestC { get; private set; } = double.NaN;

    /// <summary>True when water can run past the surfaces while every circuit is shut.</summary>
    public bool Bypass { get; private set; }

    public static IReadOnlyList<Parameter<LoopSettings>> Parameters { get; } =
    [
        new()
        {
            Key = "stroke", Quantity = Quantity.Duration, Default = 90, Lowest = 1, Highest = 600,
            Help = "time the mixing valve takes for its full stroke",
            GetNumber = l => l.StrokeS, SetNumber = (l, v) => l.StrokeS = v,
        },
        new()
        {
            Key = "lag", Quantity = Quantity.Duration, Default = 45, Lowest = 0, Highest = 600,
            Help = "time the water takes from the mixing valve to the surfaces",
            GetNumber = l => l.LagS, SetNumber = (l, v) => l.LagS = v,
        },
        new()
        {
            Key = "coldest", Quantity = Quantity.Temperature, Lowest = 4, Highest = 20,
            Help = "coldest supply set point; without it 15 °C for surfaces, 7 °C for coils",
            GetNumber = l => l.ColdestC, SetNumber = (l, v) => l.ColdestC = v,
        },
        new()
        {
            Key = "warmest", Quantity = Quantity.Temperature, Lowest = 7, Highest = 24,
            Help = "warmest supply set point in cooling; without it 20 °C for surfaces, 12 °C for coils",
            GetNumber = l => l.WarmestC, SetNumber = (l, v) => l.WarmestC = v,
        },
        new()
        {
            Key = "bypass", Quantity = Quantity.Switch, Default = 0,
            Help = "water can run past the surfaces while every circuit is shut",
            GetNumber = l => l.Bypass ? 1 : 0, SetNumber = (l, v) => l.Bypass = v > 0.5,
        },
    ];
}

/// <summary>What may be said of an input where it is wired.</summary>
public sealed class SensorSettings
{
    /// <summary>Added to every sample before anything else, K or %.</summary>
    public double Offset { get; private set; }

    /// <summary>Time constant with which the sensor follows the air, s.</summary>
    public double LagS { get; private set; } = 120;

    /// <summary>The device's own interval, s.</summary>
    public double IntervalS { get; private set; } = 5;

    /// <summary>Accuracy of a temperature sensor, K.</summary>
    public double AccuracyK { get; private set; } = 0.3;

    /// <summary>Accuracy of a humidity sensor, %.</summary>
    public double AccuracyPercent { get; private set; } = 2;

    /// <summary>Keys of a temperature input.</summary>
    public static IReadOnlyList<Parameter<SensorSettings>> TemperatureParameters { get; } =
    [
        Offset_(Quantity.TemperatureDifference, 5),
        new()
        {
            Key = "accuracy", Quantity = Quantity.TemperatureDifference, Default = 0.3, Lowest = 0.05, Highest = 2,
            Help = "accuracy of the sensor, as its data sheet says",
            GetNumber = s => s.AccuracyK, SetNumber = (s, v) => s.AccuracyK = v,
        },
        new()
        {
            Key = "lag", Quantity = Quantity.Duration, Default = 120, Lowest = 0, Highest = 900,
            Help = "time constant with which the sensor follows the air, found at checkout",
            GetNumber = s => s.LagS, SetNumber = (s, v) => s.LagS = v,
        },
        Interval_(),
    ];

    /// <summary>Keys of a humidity input.</summary>
    public static IReadOnlyList<Parameter<SensorSettings>> HumidityParameters { get; } =
    [
        Offset_(Quantity.Percent, 15),
        new()
        {
            Key = "accuracy", Quantity = Quantity.Percent, Default = 2, Lowest = 0.5, Highest = 10,
            Help = "accuracy of the sensor, as its data sheet says",
            GetNumber = s => s.AccuracyPercent, SetNumber = (s, v) => s.AccuracyPercent = v,
        },
        Interval_(),
    ];

    private static Parameter<SensorSettings> Offset_(Quantity quantity, double limit) => new()
    {
        Key = "offset",
        Quantity = quantity,
        Default = 0,
        Lowest = -limit,
        Highest = limit,
        Help = "calibration: added to every sample",
        GetNumber = s => s.Offset,
        SetNumber = (s, v) => s.Offset = v,
    };

    private static Parameter<SensorSettings> Interval_() => new()
    {
        Key = "interval",
        Quantity = Quantity.Duration,
        Default = 5,
        Lowest = 0.2,
        Highest = 600,
        Help = "how often the device itself has a new value",
        GetNumber = s => s.IntervalS,
        SetNumber = (s, v) => s.IntervalS = v,
    };
}
