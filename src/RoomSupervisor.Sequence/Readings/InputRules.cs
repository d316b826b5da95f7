// Section 1, rule 2, what a kind of input can mean: its range, whether it can jump or stand still, how it is filtered. Worked out once for each input of a
// house, because every sample is held against it. Knows no values and no memory.
namespace RoomSupervisor.Sequence.Readings;

/// <summary>What a sample of one input is held against.</summary>
internal sealed class InputRules
{
    private InputRules(InputKind kind, SensorSettings sensor)
    {
        (Lowest, Highest) = Range(kind);
        IsContact = kind == InputKind.Contact;
        IsHumidity = kind is InputKind.RoomHumidity or InputKind.OutdoorHumidity;
        MayJump = IsHumidity || kind is InputKind.RoomAirTemperature or InputKind.OutdoorTemperature;
        IsOutdoorTemperature = kind == InputKind.OutdoorTemperature;
        IsWater = kind is InputKind.WaterTemperature or InputKind.SurfaceTemperature;
        StepOfSensor = kind switch
        {
            InputKind.RoomAirTemperature or InputKind.WaterTemperature => sensor.ResolutionK,
            InputKind.RoomHumidity => sensor.ResolutionPercent,
            _ => 0,
        };
        Offset = sensor.Offset;
        IntervalS = sensor.IntervalS;
    }

    /// <summary>Range of what such a sensor can mean, in the input's own unit.</summary>
    public readonly double Lowest, Highest;

    /// <summary>Smallest step it can show; 0: it may stand still for as long as it likes.</summary>
    public readonly double StepOfSensor;

    /// <summary>Of its sensor: added to every sample; how often the device has a new value, s.</summary>
    public readonly double Offset, IntervalS;

    public readonly bool IsContact, IsHumidity, MayJump, IsOutdoorTemperature, IsWater;

    public static InputRules Of(InputKind kind, SensorSettings sensor) => new(kind, sensor);

    /// <summary>What such a sensor can mean: air indoors 0–50 °C, outdoors −40–60 °C, humidity 3–103 %, water −10–95 °C.</summary>
    private static (double Lowest, double Highest) Range(InputKind kind) => kind switch
    {
        InputKind.RoomAirTemperature => (0, 50),
        InputKind.OutdoorTemperature => (-40, 60),
        InputKind.RoomHumidity or InputKind.OutdoorHumidity => (3, 103),
        InputKind.SurfaceTemperature => (-10, 60),
        InputKind.CarbonDioxide => (200, 20000),
        InputKind.Dial => (-10, 10),
        InputKind.Flow => (0, 1000),
        InputKind.Pressure => (0, 1000),
        _ => (-10, 95),
    };
}
