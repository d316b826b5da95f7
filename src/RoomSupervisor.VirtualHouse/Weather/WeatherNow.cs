// The weather at one moment, as the building feels it.
// Must never hold a value nobody gave: a source of weather fills every field or says why it cannot.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Weather at one moment.</summary>
public struct WeatherNow
{
    /// <summary>Air temperature, °C.</summary>
    public double AirC;

    /// <summary>Humidity ratio, kg/kg dry air.</summary>
    public double HumidityRatio;

    /// <summary>Air pressure, Pa.</summary>
    public double PressurePa;

    /// <summary>Temperature of a black sky that sends what this one sends, °C.</summary>
    public double SkyC;

    /// <summary>Direct normal irradiance, W/m².</summary>
    public double BeamWPerM2;

    /// <summary>Diffuse horizontal irradiance, W/m².</summary>
    public double DiffuseWPerM2;

    /// <summary>Wind at 10 m in the open, m/s.</summary>
    public double WindMPerS;

    /// <summary>Where the wind comes from, degrees from north through east.</summary>
    public double WindFromDegrees;

    /// <summary>Sun above the horizon, degrees.</summary>
    public double SunElevationDegrees;

    /// <summary>Sun's direction, degrees from north through east.</summary>
    public double SunAzimuthDegrees;
}
