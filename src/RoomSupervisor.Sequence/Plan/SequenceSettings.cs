// Every number of the sequence of operation that a site may set, with its unit, limits and help. The section numbers are those of
// shared/reference/sequence.md. Filled by the site reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>The <c>sequence:</c> section of site.yaml: waiting times, distances and rates. Defaults are the documented ones.</summary>
public sealed class SequenceSettings
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

    /// <summary>Rest of the coil after a hand-over.</summary>
    public double CoilRestS { get; private set; }

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

    // Fan (section 4).
    /// <summary>How fast a fan may get louder after an opening.</summary>
    public double RiseAfterOpeningDbPerMin { get; private set; }

    /// <summary>How fast a fan may get louder otherwise.</summary>
    public double RiseDbPerMin { get; private set; }

    /// <summary>How fast a fan gets quieter in easing off.</summary>
    public double FallEasingOffDbPerMin { get; private set; }

    /// <summary>How fast a fan gets quieter otherwise.</summary>
    public double FallDbPerMin { get; private set; }

    /// <summary>Speed of the start kick.</summary>
    public double KickSpeedPercent { get; private set; }

    /// <summary>Length of the start kick.</summary>
    public double KickForS { get; private set; }

    /// <summary>Longest run of a fan after its coil valve has shut: a wet coil gives its water back.</summary>
    public double AfterValveShutS { get; private set; }

    /// <summary>How long a drip tray switch must be dry again before the coil runs.</summary>
    public double TrayDryForS { get; private set; }

    /// <summary>Smallest opening of a throttling coil valve.</summary>
    public double ValveFloorPercent { get; private set; }

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

    // Source (section 7).
    /// <summary>A coil whose flowing water is no colder than the room for this long stops, and tries again after ten minutes.</summary>
    public double WarmWaterWaitS { get; private set; }

    /// <summary>A coil cools only with water at least this much colder than the room.</summary>
    public double CoilCoolerByK { get; private set; }

    /// <summary>A coil heats only with water at least this much warmer than the room.</summary>
    public double CoilWarmerByK { get; private set; }

    /// <summary>How long nobody may ask for what the source makes before it changes over.</summary>
    public double ChangeOverWaitS { get; private set; }

    /// <summary>Outdoor temperature under which the source does not change to cooling.</summary>
    public double NoCoolingUnderC { get; private set; }

    /// <summary>Outdoor temperature over which the source does not change to heating.</summary>
    public double NoHeatingOverC { get; private set; }

    /// <summary>Shortest run of the source.</summary>
    public double SourceMinimumRunS { get; private set; }

    /// <summary>Shortest rest of the source.</summary>
    public double SourceMinimumOffS { get; private set; }

    /// <summary>How long a request must stand before the source is called; a pull-down calls it at once.</summary>
    public double SourceWaitS { get; private set; }

    /// <summary>Declarations, in the order people should read them.</summary>
    public static IReadOnlyList<Parameter<SequenceSettings>> Parameters { get; } =
    [
        New("scan_period", Quantity.Duration, 1, 0.2, 10, "how often the controller looks at its inputs and decides", s => s.ScanPeriodS, (s, v) => s.ScanPeriodS = v),
        New("keep_last_good", Quantity.Duration, 60, 5, 600, "how long a reading is kept beyond its device's own interval before it counts as missing", s => s.KeepLastGoodS, (s, v) => s.KeepLastGoodS = v),
        New("declared_missing_after", Quantity.Duration, 60, 5, 600, "how long a room waits at start for its first readings before it goes on without them", s => s.DeclaredMissingAfterS, (s, v) => s.DeclaredMissingAfterS = v),
        New("temperature_jump", Quantity.TemperatureDifference, 1, 0.2, 10, "largest believable step of an air temperature between two scans", s => s.TemperatureJumpK, (s, v) => s.TemperatureJumpK = v),
        New("humidity_jump", Quantity.Percent, 8, 1, 50, "largest believable step of relative humidity between two scans", s => s.HumidityJumpPercent, (s, v) => s.HumidityJumpPercent = v),
        New("temperature_rate", Quantity.TemperatureRate, 4, 0.5, 60, "fastest believable change of an air temperature", s => s.TemperatureRateKPerMin, (s, v) => s.TemperatureRateKPerMin = v),
        New("humidity_rate", Quantity.PercentRate, 40, 5, 600, "fastest believable change of relative humidity", s => s.HumidityRatePercentPerMin, (s, v) => s.HumidityRatePercentPerMin = v),
        New("rate_for", Quantity.Duration, 30, 5, 300, "how long the fastest believable change may last", s => s.RateForS, (s, v) => s.RateForS = v),
        New("accept_new_level_after", Quantity.Duration, 60, 5, 600, "how long readings after a jump must agree among themselves before the new level is believed", s => s.AcceptNewLevelAfterS, (s, v) => s.AcceptNewLevelAfterS = v),
        New("air_filter", Quantity.Duration, 10, 0, 120, "time constant of the filter on air temperature and humidity", s => s.AirFilterS, (s, v) => s.AirFilterS = v),
        New("water_filter", Quantity.Duration, 5, 0, 120, "time constant of the filter on water temperature", s => s.WaterFilterS, (s, v) => s.WaterFilterS = v),
        New("slope_filter", Quantity.Duration, 30, 5, 300, "time constant of the filter on rates of change", s => s.SlopeFilterS, (s, v) => s.SlopeFilterS = v),
        New("lead_at_most", Quantity.TemperatureDifference, 4, 0, 6, "how far the estimate of the true air may run ahead of the sensor", s => s.LeadAtMostK, (s, v) => s.LeadAtMostK = v),
        New("lead_rate", Quantity.TemperatureRate, 1.2, 0.1, 6, "fastest change of the true air that the estimate believes", s => s.LeadRateKPerMin, (s, v) => s.LeadRateKPerMin = v),
        New("missing_humidity_adds", Quantity.TemperatureDifference, 2, 0.5, 5, "added to the dew point of other rooms and outdoors where a room's own humidity is missing", s => s.MissingHumidityAddsK, (s, v) => s.MissingHumidityAddsK = v),
        New("missing_humidity_assumes", Quantity.Percent, 65, 40, 95, "relative humidity assumed where no humidity is known at all", s => s.MissingHumidityAssumesPercent, (s, v) => s.MissingHumidityAssumesPercent = v),
        New("ageing_adds", Quantity.TemperatureRate, 1.2, 0, 6, "how fast the worst-case dew point rises while a reading is older than its device's interval", s => s.AgeingAddsKPerMin, (s, v) => s.AgeingAddsKPerMin = v),
        New("pull_down_above", Quantity.TemperatureDifference, 1.5, 0.6, 5, "how far over its set point a room must be to be pulled down with the coil", s => s.PullDownAboveK, (s, v) => s.PullDownAboveK = v),
        New("pull_down_wait", Quantity.Duration, 120, 0, 1800, "for how long", s => s.PullDownWaitS, (s, v) => s.PullDownWaitS = v),
        New("pull_down_after_opening", Quantity.TemperatureDifference, 0.6, 0.1, 5, "the same just after an opening has shut, without waiting", s => s.PullDownAfterOpeningK, (s, v) => s.PullDownAfterOpeningK = v),
        New("pull_down_alone", Quantity.Duration, 600, 60, 3600, "how long the coil pulls a room down alone before the surface may help", s => s.PullDownAloneS, (s, v) => s.PullDownAloneS = v),
        New("pull_down_horizon", Quantity.Duration, 1200, 60, 7200, "the surface helps when at its present rate the room would take longer than this", s => s.PullDownHorizonS, (s, v) => s.PullDownHorizonS = v),
        New("satisfied_below", Quantity.TemperatureDifference, 0.3, 0.1, 2, "how far under its set point a room without demand must be to count as satisfied", s => s.SatisfiedBelowK, (s, v) => s.SatisfiedBelowK = v),
        New("satisfied_wait", Quantity.Duration, 600, 0, 3600, "for how long", s => s.SatisfiedWaitS, (s, v) => s.SatisfiedWaitS = v),
        New("surface_from", Quantity.TemperatureDifference, 0.1, 0, 1, "error at which the surface starts from satisfied", s => s.SurfaceFromK, (s, v) => s.SurfaceFromK = v),
        New("surface_wait", Quantity.Duration, 120, 0, 1800, "for how long", s => s.SurfaceWaitS, (s, v) => s.SurfaceWaitS = v),
        New("coil_helps_above", Quantity.TemperatureDifference, 0.3, 0.1, 2, "error at which the coil comes to the surface's help", s => s.CoilHelpsAboveK, (s, v) => s.CoilHelpsAboveK = v),
        New("coil_helps_at_limit", Quantity.TemperatureDifference, 0.15, 0.05, 2, "the same while the surface is at its limit", s => s.CoilHelpsAtLimitK, (s, v) => s.CoilHelpsAtLimitK = v),
        New("coil_helps_wait", Quantity.Duration, 240, 0, 1800, "for how long", s => s.CoilHelpsWaitS, (s, v) => s.CoilHelpsWaitS = v),
        New("coil_helps_at_once", Quantity.TemperatureDifference, 0.45, 0.2, 3, "error at which the coil helps without waiting", s => s.CoilHelpsAtOnceK, (s, v) => s.CoilHelpsAtOnceK = v),
        New("dwell", Quantity.Duration, 120, 0, 1800, "shortest time between two changes that raise the output", s => s.DwellS, (s, v) => s.DwellS = v),
        New("opening_wait", Quantity.Duration, 60, 0, 600, "how long a door or window must be open before the room stops cooling", s => s.OpeningWaitS, (s, v) => s.OpeningWaitS = v),
        New("hand_over_share", Quantity.Percent, 85, 40, 100, "the coil hands over when demand is under this share of what the surface may give", s => s.HandOverSharePercent, (s, v) => s.HandOverSharePercent = v),
        New("hand_over_wait", Quantity.Duration, 300, 0, 3600, "for how long", s => s.HandOverWaitS, (s, v) => s.HandOverWaitS = v),
        New("hand_over_extra", Quantity.Percent, 60, 0, 100, "share of the coil's minimum asked of the surface on top while it proves itself", s => s.HandOverExtraPercent, (s, v) => s.HandOverExtraPercent = v),
        New("hand_over_proven_below", Quantity.TemperatureDifference, 0.15, 0.05, 1, "how far under set point the room must come for the coil to stop", s => s.HandOverProvenBelowK, (s, v) => s.HandOverProvenBelowK = v),
        New("hand_over_at_most", Quantity.Duration, 1800, 60, 7200, "longest hand-over; then the coil stops anyway", s => s.HandOverAtMostS, (s, v) => s.HandOverAtMostS = v),
        New("coil_rest", Quantity.Duration, 600, 0, 3600, "rest of the coil after a hand-over", s => s.CoilRestS, (s, v) => s.CoilRestS = v),
        New("demand_time", Quantity.Duration, 300, 60, 3600, "gain of the demand is the room's air capacity over this time", s => s.DemandTimeS, (s, v) => s.DemandTimeS = v),
        New("demand_integral", Quantity.Duration, 700, 60, 7200, "integral time of the demand while the coil runs", s => s.DemandIntegralS, (s, v) => s.DemandIntegralS = v),
        New("surface_integral", Quantity.Duration, 900, 60, 14400, "integral time of the demand while the surface works alone", s => s.SurfaceIntegralS, (s, v) => s.SurfaceIntegralS = v),
        New("surface_gain", Quantity.AreaPower, 33, 5, 200, "watts a kelvin and square metre of surface while the surface works alone", s => s.SurfaceGainWPerKM2, (s, v) => s.SurfaceGainWPerKM2 = v),
        New("slab_gain", Quantity.AreaPower, 6, 1, 100, "watts a kelvin and square metre of slab while it works alone", s => s.SlabGainWPerKM2, (s, v) => s.SlabGainWPerKM2 = v),
        New("slab_integral", Quantity.Duration, 5400, 600, 36000, "integral time of the demand while a slab works alone", s => s.SlabIntegralS, (s, v) => s.SlabIntegralS = v),
        New("pause", Quantity.Duration, 60, 0, 600, "a room whose air temperature was missing for less than this goes on where it was", s => s.PauseS, (s, v) => s.PauseS = v),
        New("walls", Quantity.AreaPower, 12, 0, 60, "watts a kelvin and square metre of floor that walls and furniture still give after the air has come down", s => s.WallsWPerKM2, (s, v) => s.WallsWPerKM2 = v),
        New("stop_lag", Quantity.Duration, 25, 0, 300, "time the coil goes on cooling after its fan has slowed", s => s.StopLagS, (s, v) => s.StopLagS = v),
        New("stop_distance_at_most", Quantity.TemperatureDifference, 1.5, 0.2, 4, "longest distance before set point at which easing off starts", s => s.StopDistanceAtMostK, (s, v) => s.StopDistanceAtMostK = v),
        New("coil_share", Quantity.Percent, 90, 50, 100, "share of the coil's minimum output counted on when the surface is asked for the rest", s => s.CoilSharePercent, (s, v) => s.CoilSharePercent = v),
        New("rise_after_opening", Quantity.LevelRate, 60, 1, 300, "how fast a fan may get louder after an opening", s => s.RiseAfterOpeningDbPerMin, (s, v) => s.RiseAfterOpeningDbPerMin = v),
        New("rise", Quantity.LevelRate, 20, 1, 300, "how fast a fan may get louder otherwise", s => s.RiseDbPerMin, (s, v) => s.RiseDbPerMin = v),
        New("fall_easing_off", Quantity.LevelRate, 12, 1, 300, "how fast a fan gets quieter in easing off", s => s.FallEasingOffDbPerMin, (s, v) => s.FallEasingOffDbPerMin = v),
        New("fall", Quantity.LevelRate, 6, 1, 300, "how fast a fan gets quieter otherwise", s => s.FallDbPerMin, (s, v) => s.FallDbPerMin = v),
        New("kick_speed", Quantity.Percent, 30, 0, 60, "speed of the start kick", s => s.KickSpeedPercent, (s, v) => s.KickSpeedPercent = v),
        New("kick_for", Quantity.Duration, 3, 0, 20, "length of the start kick", s => s.KickForS, (s, v) => s.KickForS = v),
        New("after_valve_shut", Quantity.Duration, 30, 0, 300, "longest run of a fan after its coil valve has shut: a wet coil gives its water back", s => s.AfterValveShutS, (s, v) => s.AfterValveShutS = v),
        New("tray_dry_for", Quantity.Duration, 60, 0, 3600, "how long a drip tray switch must be dry again before the coil runs", s => s.TrayDryForS, (s, v) => s.TrayDryForS = v),
        New("valve_floor", Quantity.Percent, 8, 0, 50, "smallest opening of a throttling coil valve", s => s.ValveFloorPercent, (s, v) => s.ValveFloorPercent = v),
        New("margin", Quantity.TemperatureDifference, 1, 0.5, 5, "kept between supply water and the worst-case dew point", s => s.MarginK, (s, v) => s.MarginK = v),
        New("anticipation_at_most", Quantity.TemperatureDifference, 2, 0, 5, "most that a rising dew point may add beforehand", s => s.AnticipationAtMostK, (s, v) => s.AnticipationAtMostK = v),
        New("fall_rate", Quantity.TemperatureRate, 0.5, 0.05, 5, "how fast a set point may fall; it may rise at once", s => s.FallRateKPerMin, (s, v) => s.FallRateKPerMin = v),
        New("shut_under", Quantity.TemperatureDifference, 0.3, 0, 2, "supply less than this above the worst-case dew point shuts the circuit", s => s.ShutUnderK, (s, v) => s.ShutUnderK = v),
        New("shut_after", Quantity.Duration, 20, 0, 120, "after this long", s => s.ShutAfterS, (s, v) => s.ShutAfterS = v),
        New("shut_at_once_under", Quantity.TemperatureDifference, -0.2, -1, 0.3, "supply less than this above the worst-case dew point shuts the circuit at once", s => s.ShutAtOnceUnderK, (s, v) => s.ShutAtOnceUnderK = v),
        New("shut_rising", Quantity.TemperatureRate, 1, 0.2, 10, "a dew point rising faster than this shuts the circuit", s => s.ShutRisingKPerMin, (s, v) => s.ShutRisingKPerMin = v),
        New("steady_rate", Quantity.TemperatureRate, 0.3, 0.05, 2, "a dew point rising slower than this counts as steady", s => s.SteadyRateKPerMin, (s, v) => s.SteadyRateKPerMin = v),
        New("open_after_steady", Quantity.Duration, 180, 0, 1800, "how long the dew point must be steady before a shut circuit opens again", s => s.OpenAfterSteadyS, (s, v) => s.OpenAfterSteadyS = v),
        New("open_after_wet", Quantity.Duration, 600, 0, 7200, "the same after a condensation switch was wet", s => s.OpenAfterWetS, (s, v) => s.OpenAfterWetS = v),
        New("open_below", Quantity.TemperatureDifference, 0.2, 0, 1, "how far under the lowest safe supply the water may be for a circuit to open again", s => s.OpenBelowK, (s, v) => s.OpenBelowK = v),
        New("slug_above", Quantity.TemperatureDifference, 0.5, 0.1, 3, "how far above the worst-case dew point the standing water must be expected to be warmed through", s => s.SlugAboveK, (s, v) => s.SlugAboveK = v),
        New("slug_time", Quantity.Duration, 1200, 60, 14400, "time constant with which standing water takes the room's temperature", s => s.SlugTimeS, (s, v) => s.SlugTimeS = v),
        New("warm_through_at_most", Quantity.Duration, 600, 30, 3600, "longest warming through; then it rests as long", s => s.WarmThroughAtMostS, (s, v) => s.WarmThroughAtMostS = v),
        New("useful_below_room", Quantity.TemperatureDifference, 4, 1, 10, "water this much colder than the room still cools, although it is warmer than the loop's warmest", s => s.UsefulBelowRoomK, (s, v) => s.UsefulBelowRoomK = v),
        New("supply_from_return", Quantity.TemperatureDifference, 2, 0.5, 10, "spread between supply and return assumed where no return is measured", s => s.SupplyFromReturnK, (s, v) => s.SupplyFromReturnK = v),
        New("mixing_gain", Quantity.Number, 0.4, 0, 10, "percent of mixing valve a kelvin of supply error", s => s.MixingGainPercentPerK, (s, v) => s.MixingGainPercentPerK = v),
        New("mixing_integral", Quantity.Number, 0.06, 0, 1, "percent of mixing valve a kelvin and second of supply error", s => s.MixingIntegralPercentPerKS, (s, v) => s.MixingIntegralPercentPerKS = v),
        New("mixing_dead_band", Quantity.Percent, 1, 0, 10, "smallest move of a mixing valve", s => s.MixingDeadBandPercent, (s, v) => s.MixingDeadBandPercent = v),
        New("warm_water_wait", Quantity.Duration, 300, 30, 3600, "a coil whose flowing water is no colder than the room for this long stops, and tries again after ten minutes", s => s.WarmWaterWaitS, (s, v) => s.WarmWaterWaitS = v),
        New("coil_cooler_by", Quantity.TemperatureDifference, 1, 0.5, 8, "a coil cools only with water at least this much colder than the room", s => s.CoilCoolerByK, (s, v) => s.CoilCoolerByK = v),
        New("coil_warmer_by", Quantity.TemperatureDifference, 5, 1, 15, "a coil heats only with water at least this much warmer than the room: no cold blow", s => s.CoilWarmerByK, (s, v) => s.CoilWarmerByK = v),
        New("source_minimum_run", Quantity.Duration, 600, 0, 3600, "shortest run of the source", s => s.SourceMinimumRunS, (s, v) => s.SourceMinimumRunS = v),
        New("source_minimum_off", Quantity.Duration, 600, 0, 3600, "shortest rest of the source", s => s.SourceMinimumOffS, (s, v) => s.SourceMinimumOffS = v),
        New("change_over_wait", Quantity.Duration, 1800, 60, 14400, "how long nobody may ask for what the source makes, and somebody for the opposite, before it changes over", s => s.ChangeOverWaitS, (s, v) => s.ChangeOverWaitS = v),
        New("no_cooling_under", Quantity.Temperature, 16, 0, 25, "outdoor temperature under which the source does not change to cooling", s => s.NoCoolingUnderC, (s, v) => s.NoCoolingUnderC = v),
        New("no_heating_over", Quantity.Temperature, 20, 10, 30, "outdoor temperature over which the source does not change to heating", s => s.NoHeatingOverC, (s, v) => s.NoHeatingOverC = v),
        New("source_wait", Quantity.Duration, 300, 0, 3600, "how long a request must stand before the source is called; a pull-down calls it at once", s => s.SourceWaitS, (s, v) => s.SourceWaitS = v),
    ];

    private static Parameter<SequenceSettings> New(
        string key, Quantity quantity, double standard, double lowest, double highest, string help,
        Func<SequenceSettings, double> get, Action<SequenceSettings, double> set)
        => new()
        {
            Key = key,
            Quantity = quantity,
            Default = standard,
            Lowest = lowest,
            Highest = highest,
            Help = help,
            Audience = Audience.Service,
            GetNumber = get,
            SetNumber = set,
        };
}
