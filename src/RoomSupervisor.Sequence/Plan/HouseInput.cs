// One input of a house: its point, how it is judged, its sensor. Immutable; holds no reading.
using RoomSupervisor.Sequence.Readings;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What kind of quantity an input is judged as.</summary>
public enum InputKind : byte
{
    RoomAirTemperature, RoomHumidity, OutdoorTemperature, OutdoorHumidity, WaterTemperature, SurfaceTemperature, Contact,

    /// <summary>Carbon dioxide, ppm.</summary>
    CarbonDioxide,

    /// <summary>The dial of a room unit, K.</summary>
    Dial,

    /// <summary>Water flow, l/min.</summary>
    Flow,

    /// <summary>Water pressure, gauge, kPa.</summary>
    Pressure,
}

/// <summary>One input of the house.</summary>
/// <param name="Point">Its id and quantity.</param>
/// <param name="Kind">How it is judged.</param>
/// <param name="Sensor">Offset, lag, interval, accuracy.</param>
/// <param name="Wired">True when a device carries it; an unwired contact that never delivers is taken as absent, not as failed.</param>
public sealed record HouseInput(Point Point, InputKind Kind, SensorSettings Sensor, bool Wired)
{
    internal InputRules Rules { get; } = InputRules.Of(Kind, Sensor);
}
