// What goes into a coil and what comes out of it.
// Must never carry state: a coil's retained water is CoilWater's business, its wear nobody's here.
namespace RoomSupervisor.Physics;

/// <summary>The two conductances of a coil at one air flow and one water flow.</summary>
/// <param name="AirWPerK">Between air and surface, sensible, 1…1e5 W/K.</param>
/// <param name="WaterWPerK">Between surface and water, 1…1e6 W/K.</param>
public readonly record struct CoilConductances(double AirWPerK, double WaterWPerK);

/// <summary>What enters a coil.</summary>
/// <param name="Air">Entering air; must be a known state.</param>
/// <param name="DryAirKgPerS">Flow of dry air, 1e-5…100 kg/s.</param>
/// <param name="WaterC">Entering water, 0.5…95 °C.</param>
/// <param name="WaterKgPerS">Flow of water, 1e-5…100 kg/s.</param>
/// <param name="WaterKJPerKgK">Specific heat of the water, 2…5 kJ/(kg·K).</param>
public readonly record struct CoilInput(AirState Air, double DryAirKgPerS, double WaterC, double WaterKgPerS, double WaterKJPerKgK);

/// <summary>What a coil does. Heat is counted positive where it leaves the air (cooling), negative in heating.</summary>
/// <param name="TotalW">Heat taken from the air and given to the water, W.</param>
/// <param name="SensibleW">Part that changes the dry bulb, W.</param>
/// <param name="LatentW">Part in the condensed vapour, W; exactly 0 on a dry coil.</param>
/// <param name="CondensateKgPerH">kg/h; exactly 0 on a dry coil.</param>
/// <param name="LeavingAirC">Dry bulb, °C.</param>
/// <param name="LeavingHumidityRatio">kg/kg.</param>
/// <param name="LeavingWaterC">°C.</param>
/// <param name="ColdestSurfaceC">Surface temperature, °C, where the water enters (the coldest in cooling).</param>
/// <param name="MeanWetSurfaceC">Effective temperature of the wet part, °C; NaN on a dry coil.</param>
/// <param name="WetShare">Share of the coil that is wet, 0…1.</param>
public readonly record struct CoilResult(
    double TotalW, double SensibleW, double LatentW, double CondensateKgPerH, double LeavingAirC, double LeavingHumidityRatio,
    double LeavingWaterC, double ColdestSurfaceC, double MeanWetSurfaceC, double WetShare)
{
    /// <summary>No result: NaN throughout.</summary>
    public static readonly CoilResult Unknown = new(
        double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN);

    /// <summary>Sensible part of the total; 1 on a dry coil, NaN where nothing is exchanged.</summary>
    public double SensibleHeatRatio => SensibleW / TotalW;
}
