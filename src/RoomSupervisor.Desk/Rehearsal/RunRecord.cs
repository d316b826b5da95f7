// What a rehearsal keeps of a run for tables and pictures: one sample a minute of everything somebody will want to look at.
// Must never be read by the controller that is rehearsed: it holds the truth of the virtual house.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>A run, sampled.</summary>
/// <param name="Site">Name of the site.</param>
/// <param name="Scenario">Name or sentence of the scenario.</param>
/// <param name="StartUtc">Moment of the first sample, universal time.</param>
/// <param name="Zone">The site's time zone.</param>
/// <param name="EveryS">Seconds from sample to sample, usually 60.</param>
/// <param name="Rooms">Rooms in the order of the site file.</param>
/// <param name="Loops">Loops in the order of the site file.</param>
/// <param name="Outdoor">The weather.</param>
/// <param name="Hours">Energy by hour from <see cref="StartUtc"/>.</param>
public sealed record RunRecord(
    string Site, string Scenario, DateTimeOffset StartUtc, TimeZoneInfo Zone, double EveryS, RoomRecord[] Rooms, LoopRecord[] Loops, OutdoorRecord Outdoor, HourOfEnergy[] Hours)
{
    /// <summary>Site units for what people read.</summary>
    public bool InUsUnits { get; init; }

    /// <summary>Height of the place above the sea, m: the psychrometric chart needs its pressure.</summary>
    public double AltitudeM { get; init; }
}

/// <summary>A room, sampled. Arrays have one value a sample; NaN where there was none.</summary>
/// <param name="Name">Name in the site file.</param>
/// <param name="Title">Name for people.</param>
/// <param name="TrueAirC">True air temperature, °C.</param>
/// <param name="HeatBelowC">Lower end of the wanted band as scheduled, °C.</param>
/// <param name="CoolAboveC">Upper end of the wanted band as scheduled, °C.</param>
/// <param name="HumidityRatioGPerKg">True humidity ratio, g/kg dry air.</param>
/// <param name="TrueDewC">True dew point, °C.</param>
/// <param name="WorstDewC">Worst-case dew point the controller worked with, °C.</param>
/// <param name="Stages">Stage the controller was in.</param>
/// <param name="Open">Stood open to the outdoors or a neighbour (door or window).</param>
/// <param name="FanPercent">Fan speed of the loudest coil, % of full; 0 when still.</param>
/// <param name="FanLevelDba">Level of all fans at the ear, dB(A), without the background; NaN when they stand still.</param>
/// <param name="Drying">Moisture removal was at work.</param>
/// <param name="SurfaceW">Heat given to the room by surfaces, W; negative cools.</param>
/// <param name="CoilW">Heat given to the room by coils, W, sensible; negative cools.</param>
public sealed record RoomRecord(
    string Name, string Title, float[] TrueAirC, float[] HeatBelowC, float[] CoolAboveC, float[] HumidityRatioGPerKg, float[] TrueDewC, float[] WorstDewC,
    Stage[] Stages, bool[] Open, float[] FanPercent, float[] FanLevelDba, bool[] Drying, float[] SurfaceW, float[] CoilW)
{
    /// <summary>Indices of the loops whose water passes surfaces of this room.</summary>
    public int[] SurfaceLoops { get; init; } = [];

    /// <summary>Water passes surfaces of this room (a valve of them is open); empty when not recorded: then whenever their loop flows.</summary>
    public bool[] SurfaceFlows { get; init; } = [];
}

/// <summary>A loop, sampled.</summary>
/// <param name="Name">Name in the site file.</param>
/// <param name="Title">Name for people.</param>
/// <param name="ServesSurfaces">Its water passes surfaces of rooms.</param>
/// <param name="SupplyC">True supply temperature, °C.</param>
/// <param name="SetPointC">Set point, °C; NaN where there was none.</param>
/// <param name="LowestSafeC">Lowest safe supply as the guard worked it out, °C.</param>
/// <param name="Flows">Its pump moved water.</param>
/// <param name="Cools">It carried cooling water; false: heating.</param>
public sealed record LoopRecord(string Name, string Title, bool ServesSurfaces, float[] SupplyC, float[] SetPointC, float[] LowestSafeC, bool[] Flows, bool[] Cools);

/// <summary>The weather, sampled.</summary>
/// <param name="AirC">°C.</param>
/// <param name="DewC">°C.</param>
/// <param name="SunWPerM2">Global on the horizontal, W/m².</param>
public sealed record OutdoorRecord(float[] AirC, float[] DewC, float[] SunWPerM2);

/// <summary>Energy of an hour, kWh, all positive.</summary>
/// <param name="SurfaceKwh">Heat moved by surfaces, in or out.</param>
/// <param name="CoilSensibleKwh">Sensible heat moved by coils.</param>
/// <param name="CoilLatentKwh">Latent heat taken by coils.</param>
/// <param name="ElectricKwh">Source, pumps and fans.</param>
public readonly record struct HourOfEnergy(double SurfaceKwh, double CoilSensibleKwh, double CoilLatentKwh, double ElectricKwh)
{
    /// <summary>Fuel of the source; 0 where it burns none.</summary>
    public double FuelKwh { get; init; }
}
