// Every number of the sequence of operation that a site may set, with its unit, limits and help. The section numbers are those of
// shared/reference/sequence.md. Filled by the site reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>The <c>sequence:</c> section of site.yaml: waiting times, distances and rates. Defaults are the documented ones.</summary>
public sealed partial class SequenceSettings
{
    public SequenceSettings()
    {
        foreach (var parameter in Parameters)
            parameter.SetNumber!(this, parameter.Default);
    }

    // Readings (section 1).
    /// <summary>How often the controller looks at its inputs and decides.</summary>
    public double ScanPeriodS { get; private set; }

    /// <summary>How long a reading is kept beyond its device's own interval before it counts as missing.</summary>
    public double KeepLastGoodS { get; private set; }

    /// <summary>How long a room waits at start for its first readings before it goes on without them.</summary>
    public double DeclaredMissingAfterS { get; private set; }

    /// <summary>After a start one room after another begins, so far apart.</summary>
    public double StartApartS { get; private set; }

    /// <summary>Closer where needed, so that all have begun within this.</summary>
    public double AllStartedWithinS { get; private set; }

    /// <summary>Largest believable step of an air temperature between two scans.</summary>
    public double TemperatureJumpK { get; private set; }

    /// <summary>Largest believable step of relative humidity between two scans.</summary>
    public double HumidityJumpPercent { get; private set; }

    /// <summary>Fastest believable change of an air temperature.</summary>
    public double TemperatureRateKPerMin { get; private set; }

    /// <summary>Fastest believable change of relative humidity.</summary>
    public double HumidityRatePercentPerMin { get; private set; }

    /// <summary>How long the fastest believable change may last.</summary>
    public double RateForS { get; private set; }

    /// <summary>How long readings after a jump must agree among themselves before the new level is believed.</summary>
    public double AcceptNewLevelAfterS { get; private set; }

    /// <summary>Time constant of the filter on air temperature and humidity.</summary>
    public double AirFilterS { get; private set; }

    /// <summary>Time constant of the filter on water temperature.</summary>
    public double WaterFilterS { get; private set; }

    /// <summary>Time constant of the filter on rates of change.</summary>
    public double SlopeFilterS { get; private set; }

    /// <summary>How far the estimate of the true air may run ahead of the sensor.</summary>
    public double LeadAtMostK { get; private set; }

    /// <summary>Fastest change of the true air that the estimate believes.</summary>
    public double LeadRateKPerMin { get; private set; }

    /// <summary>Added to the dew point of other rooms and outdoors where a room's own humidity is missing.</summary>
    public double MissingHumidityAddsK { get; private set; }

    /// <summary>Relative humidity assumed where no humidity is known at all.</summary>
    public double MissingHumidityAssumesPercent { get; private set; }

    /// <summary>How fast the worst-case dew point rises while a reading is older than its device's interval.</summary>
    public double AgeingAddsKPerMin { get; private set; }

    // Stages (section 2).
    /// <summary>How far over its set point a room must be to be pulled down with the coil.</summary>
    public double PullDownAboveK { get; private set; }

    /// <summary>For how long.</summary>
    public double PullDownWaitS { get; private set; }

    /// <summary>The same just after an opening has shut, without waiting.</summary>
    public double PullDownAfterOpeningK { get; private set; }

    /// <summary>How long the coil pulls a room down alone before the surface may help.</summary>
    public double PullDownAloneS { get; private set; }

    /// <summary>The surface helps when at its present rate the room would take longer than this.</summary>
    public double PullDownHorizonS { get; private set; }

    /// <summary>How far under its set point a room without demand must be to count as satisfied.</summary>
    public double SatisfiedBelowK { get; private set; }

    /// <summary>For how long.</summary>
    public double SatisfiedWaitS { get; private set; }

    /// <summary>Error at which the surface starts from satisfied.</summary>
    public double SurfaceFromK { get; private set; }

    /// <summary>For how long.</summary>
    public double SurfaceWaitS { get; private set; }

    /// <summary>Error at which the coil comes to the surface's help.</summary>
    public double CoilHelpsAboveK { get; private set; }

    /// <summary>The same while the surface is at its limit.</summary>
    public double CoilHelpsAtLimitK { get; private set; }

    /// <summary>For how long.</summary>
    public double CoilHelpsWaitS { get; private set; }

    /// <summary>Error at which the coil helps without waiting.</summary>
    public double CoilHelpsAtOnceK { get; private set; }

    /// <summary>Shortest time between two changes that raise the output.</summary>
    public double DwellS { get; private set; }

    /// <summary>How long a door or window must be open before the room stops cooling.</summary>
    public double OpeningWaitS { get; private set; }

    /// <summary>The coil hands over when demand is under this share of what the surface may give.</summary>
    public double HandOverSharePercent { get; private set; }

    /// <summary>For how long.</summary>
    public double HandOverWaitS { get; private set; }

    /// <summary>Share of the coil's minimum asked of the surface on top while it proves itself.</summary>
    public double HandOverExtraPercent { get; private set; }

    /// <summary>How far under set point the room must come for the coil to stop.</summary>
    public double HandOverProvenBelowK { get; private set; }

    /// <summary>Longest hand-over; then the coil stops anyway.</summary>
    public double HandOverAtMostS { get; private set; }

    /// <summary>A room that comes back by more than this after a hand-over bounces.</summary>
    public double BounceOverK { get; private set; }

    /// <summary>Rest of the coil after a hand-over.</summary>
    public double CoilRestS { get; private set; }

    /// <summary>Shortest time a surface stays shut after little was asked of it, s.</summary>
    public double SurfaceRestS { get; private set; }

    /// <summary>Gain of the demand is the room's air capacity over this time.</summary>
    public double DemandTimeS { get; private set; }

    /// <summary>Integral time of the demand while the coil runs.</summary>
    public double DemandIntegralS { get; private set; }

    /// <summary>Integral time of the demand while the surface works alone.</summary>
    public double SurfaceIntegralS { get; private set; }

    /// <summary>Watts a kelvin and square metre of surface while the surface works alone.</summary>
    public double SurfaceGainWPerKM2 { get; private set; }

    /// <summary>Watts a kelvin and square metre of slab while it works alone.</summary>
    public double SlabGainWPerKM2 { get; private set; }

    /// <summary>Integral time of the demand while a slab works alone.</summary>
    public double SlabIntegralS { get; private set; }

    /// <summary>A room whose air temperature was missing for less than this goes on where it was.</summary>
    public double PauseS { get; private set; }

    /// <summary>Watts a kelvin and square metre of floor that walls and furniture still give after the air has come down.</summary>
    public double WallsWPerKM2 { get; private set; }

    /// <summary>Time the coil goes on cooling after its fan has slowed.</summary>
    public double StopLagS { get; private set; }

    /// <summary>Longest distance before set point at which easing off starts.</summary>
    public double StopDistanceAtMostK { get; private set; }

    /// <summary>Share of the coil's minimum output counted on when the surface is asked for the rest.</summary>
    public double CoilSharePercent { get; private set; }

    // Moisture (section 3).
    /// <summary>Dew point to which rooms are dried.</summary>
    public double DryTargetC { get; private set; }

    /// <summary>Drying starts this far over the target and stops this far under it.</summary>
    public double DryBandK { get; private set; }

    /// <summary>Relative humidity over which a room is dried whatever its dew point.</summary>
    public double DryOverPercent { get; private set; }

    /// <summary>Error over which a guard that limits the surface is a reason to dry.</summary>
    public double DryWhenGuardLimitsAboveK { get; private set; }

    /// <summary>For how long.</summary>
    public double DryWhenGuardLimitsS { get; private set; }

    /// <summary>How long the air must be too humid before drying begins.</summary>
    public double DryWaitS { get; private set; }

    /// <summary>Drying begins with coil water this far under the dew point.</summary>
    public double DryColderByK { get; private set; }

    /// <summary>And ends with coil water less than this under it.</summary>
    public double DryLostK { get; private set; }

    /// <summary>Fan speed while drying.</summary>
    public double DrySpeedPercent { get; private set; }

    /// <summary>What the coil may cool more than is asked when drying begins.</summary>
    public double DrySpareW { get; private set; }

    /// <summary>Error over which drying begins without the surface giving way first.</summary>
    public double DryAtOnceAboveK { get; private set; }

    /// <summary>How much cooler the room may be while its air is dried.</summary>
    public double DryShiftK { get; private set; }

    /// <summary>Drying stops with the room this far under its set point.</summary>
    public double DryStopsBelowK { get; private set; }

    /// <summary>For how long.</summary>
    public double DryStopsAfterS { get; private set; }

    /// <summary>Shortest drying: a dry coil drips nothing for a quarter of an hour.</summary>
    public double DryAtLeastS { get; private set; }

    /// <summary>Shortest rest between two.</summary>
    public double DryRestS { get; private set; }

    // Guard (section 5).
    /// <summary>Kept between supply water and the worst-case dew point.</summary>
    public double MarginK { get; private set; }

    /// <summary>Most that a rising dew point may add beforehand.</summary>
    public double AnticipationAtMostK { get; private set; }

    /// <summary>How fast a set point may fall; it may rise at once.</summary>
    public double FallRateKPerMin { get; private set; }

    /// <summary>Supply less than this above the worst-case dew point shuts the circuit.</summary>
    public double ShutUnderK { get; private set; }

    /// <summary>After this long.</summary>
    public double ShutAfterS { get; private set; }

    /// <summary>Supply less than this above the worst-case dew point shuts the circuit at once.</summary>
    public double ShutAtOnceUnderK { get; private set; }

    /// <summary>A dew point rising faster than this shuts the circuit.</summary>
    public double ShutRisingKPerMin { get; private set; }

    /// <summary>A dew point rising slower than this counts as steady.</summary>
    public double SteadyRateKPerMin { get; private set; }

    /// <summary>How long the dew point must be steady before a shut circuit opens again.</summary>
    public double OpenAfterSteadyS { get; private set; }

    /// <summary>The same after a condensation switch was wet.</summary>
    public double OpenAfterWetS { get; private set; }

    /// <summary>How far under the lowest safe supply the water may be for a circuit to open again.</summary>
    public double OpenBelowK { get; private set; }

    /// <summary>How far above the worst-case dew point the standing water must be expected to be warmed through.</summary>
    public double SlugAboveK { get; private set; }

    /// <summary>Time constant with which standing water takes the room's temperature.</summary>
    public double SlugTimeS { get; private set; }

    /// <summary>Longest warming through; then it rests as long.</summary>
    public double WarmThroughAtMostS { get; private set; }

    // Loops (section 6).
    /// <summary>Water this much colder than the room still cools, although it is warmer than the loop's warmest.</summary>
    public double UsefulBelowRoomK { get; private set; }

    /// <summary>Spread between supply and return assumed where no return is measured.</summary>
    public double SupplyFromReturnK { get; private set; }

    /// <summary>Percent of mixing valve a kelvin of supply error.</summary>
    public double MixingGainPercentPerK { get; private set; }

    /// <summary>Percent of mixing valve a kelvin and second of supply error.</summary>
    public double MixingIntegralPercentPerKS { get; private set; }

    /// <summary>Smallest move of a mixing valve.</summary>
    public double MixingDeadBandPercent { get; private set; }

    // Coils against their water (section 2).
    /// <summary>A coil whose flowing water is no colder than the room for this long stops, and tries again after ten minutes.</summary>
    public double WarmWaterWaitS { get; private set; }

    /// <summary>A coil cools only with water at least this much colder than the room.</summary>
    public double CoilCoolerByK { get; private set; }

    /// <summary>A coil heats only with water at least this much warmer than the room.</summary>
    public double CoilWarmerByK { get; private set; }
}
