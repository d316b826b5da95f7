// The numbers of section 1 beyond the first checks: what makes a sensor doubtful, when an opening is inferred, which temperature counts. Filled by
// the site reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

public sealed partial class SequenceSettings
{
    /// <summary>How long a sensor may show no movement although the plant worked.</summary>
    public double FlatAfterS { get; private set; }

    /// <summary>How long outdoor temperatures must agree after a jump, for each kelvin of a jump over 10 K.</summary>
    public double OutdoorNewLevelSPerK { get; private set; }

    /// <summary>Largest difference of two sensors of one air temperature.</summary>
    public double TemperaturesDifferK { get; private set; }

    /// <summary>Largest difference of two sensors of one relative humidity, brought to one temperature.</summary>
    public double HumiditiesDifferPercent { get; private set; }

    /// <summary>How long two sensors must differ, or agree again, before it is told.</summary>
    public double DifferForS { get; private set; }

    /// <summary>Longest inferred opening.</summary>
    public double ProbablyOpenAtMostS { get; private set; }

    /// <summary>Rest after one, in which none is inferred.</summary>
    public double ProbablyOpenRestS { get; private set; }

    /// <summary>Share of the way to the outdoor dew point that a room must go within minutes.</summary>
    public double ProbablyOpenSharePercent { get; private set; }

    /// <summary>Rise of the dew point within minutes that counts as shower or cooking.</summary>
    public double ShowerRiseK { get; private set; }

    /// <summary>How long coil and openings must have rested before standing offsets are learned.</summary>
    public double LearnAfterS { get; private set; }

    /// <summary>Largest standing offset of a humidity sensor's dew point that is calibrated out.</summary>
    public double LearnAtMostK { get; private set; }

    /// <summary>Spread of the dew points of one room that is told when it stays.</summary>
    public double SpreadAboveK { get; private set; }

    /// <summary>A supply this much warmer than its return while the loop cools is doubted.</summary>
    public double SupplyAboveReturnK { get; private set; }

    /// <summary>A supply this far from what the mixing valve can make of source and return is doubted.</summary>
    public double SupplyOffMixingK { get; private set; }

    /// <summary>For how long; and how long it must agree, or its loop stand, before it is believed again.</summary>
    public double SupplyDoubtedAfterS { get; private set; }

    /// <summary>How long a fan must run before its return air tells of the room.</summary>
    public double ReturnAirAfterS { get; private set; }

    /// <summary>Return air is preferred in a pull-down where the room's own sensor lags more than this.</summary>
    public double ReturnAirOverLagS { get; private set; }

    /// <summary>How long a change of the sensor that counts is stretched.</summary>
    public double BlendS { get; private set; }

    private static IReadOnlyList<Parameter<SequenceSettings>> ReadingParameters() =>
    [
        New("flat_after", Quantity.Duration, 21600, 3600, 172800, "how long a sensor may show no movement although the plant worked, before it counts as stuck", s => s.FlatAfterS, (s, v) => s.FlatAfterS = v),
        New("outdoor_new_level", Quantity.Duration, 600, 0, 7200, "how long outdoor temperatures must agree after a jump of more than 10 K before they are believed, for every kelvin of it", s => s.OutdoorNewLevelSPerK, (s, v) => s.OutdoorNewLevelSPerK = v),
        New("temperatures_differ", Quantity.TemperatureDifference, 1.5, 0.3, 10, "difference of two sensors of one air temperature that is told", s => s.TemperaturesDifferK, (s, v) => s.TemperaturesDifferK = v),
        New("humidities_differ", Quantity.Percent, 8, 2, 40, "difference of two sensors of one humidity, brought to one temperature, that is told", s => s.HumiditiesDifferPercent, (s, v) => s.HumiditiesDifferPercent = v),
        New("differ_for", Quantity.Duration, 600, 60, 7200, "how long two sensors must differ, or agree again, before it is told", s => s.DifferForS, (s, v) => s.DifferForS = v),
        New("probably_open_at_most", Quantity.Duration, 1200, 0, 3600, "longest time for which a door or window is taken to be open by the air alone; 0 s: never", s => s.ProbablyOpenAtMostS, (s, v) => s.ProbablyOpenAtMostS = v),
        New("probably_open_rest", Quantity.Duration, 3600, 600, 86400, "rest after that, in which none is inferred", s => s.ProbablyOpenRestS, (s, v) => s.ProbablyOpenRestS = v),
        New("probably_open_share", Quantity.Percent, 15, 5, 60, "share of the way to the outdoor dew point that a room must go within minutes for a door to be inferred", s => s.ProbablyOpenSharePercent, (s, v) => s.ProbablyOpenSharePercent = v),
        New("shower_rise", Quantity.TemperatureDifference, 1.5, 0.5, 6, "rise of the dew point within minutes that is told as shower or cooking", s => s.ShowerRiseK, (s, v) => s.ShowerRiseK = v),
        New("learn_after", Quantity.Duration, 7200, 1800, 43200, "how long coils and openings must have rested before the standing offsets of several humidity sensors are learned", s => s.LearnAfterS, (s, v) => s.LearnAfterS = v),
        New("learn_at_most", Quantity.TemperatureDifference, 1, 0, 2, "largest standing offset of a humidity sensor's dew point that is calibrated out", s => s.LearnAtMostK, (s, v) => s.LearnAtMostK = v),
        New("spread_above", Quantity.TemperatureDifference, 1, 0.3, 5, "spread of the dew points in one room, offsets taken out, that is told when it stays", s => s.SpreadAboveK, (s, v) => s.SpreadAboveK = v),
        New("supply_above_return", Quantity.TemperatureDifference, 1, 0.3, 5, "a supply sensor this much warmer than its return while the loop cools is doubted", s => s.SupplyAboveReturnK, (s, v) => s.SupplyAboveReturnK = v),
        New("supply_off_mixing", Quantity.TemperatureDifference, 2, 0.5, 10, "a supply sensor this far from what its mixing valve can make of source and return is doubted", s => s.SupplyOffMixingK, (s, v) => s.SupplyOffMixingK = v),
        New("supply_doubted_after", Quantity.Duration, 600, 60, 7200, "for how long; and how long it must agree, or its pump stand, before it is believed again", s => s.SupplyDoubtedAfterS, (s, v) => s.SupplyDoubtedAfterS = v),
        New("return_air_after", Quantity.Duration, 60, 10, 600, "how long a fan must run before its return air tells of the room", s => s.ReturnAirAfterS, (s, v) => s.ReturnAirAfterS = v),
        New("return_air_over_lag", Quantity.Duration, 150, 0, 900, "return air is preferred in a pull-down where the room's own sensor lags more than this", s => s.ReturnAirOverLagS, (s, v) => s.ReturnAirOverLagS = v),
        New("blend", Quantity.Duration, 60, 0, 600, "a change from one sensor to another is stretched over this time", s => s.BlendS, (s, v) => s.BlendS = v),
    ];
}
