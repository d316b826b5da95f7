// What the guard may assume of rooms that share a loop, of openings and of surface temperatures: numbers of section 5 with their keys.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

public sealed partial class SequenceSettings
{
    /// <summary>A room that alone holds its loop's water up by more than this is shut for the others' sake.</summary>
    public double IsolateAboveK { get; private set; }

    /// <summary>It comes back when it would hold the water up by this much less.</summary>
    public double IsolateBackK { get; private set; }

    /// <summary>Longest wait of a room without a coil for warmer water while others use colder.</summary>
    public double SharedWaterWaitS { get; private set; }

    /// <summary>For how long the loop is then warmed for it.</summary>
    public double SharedWaterTurnS { get; private set; }

    /// <summary>A contact open for longer than this is ignored while temperature and dew point look shut.</summary>
    public double ContactBelievedS { get; private set; }

    /// <summary>How far temperature and dew point must be from outdoors to look shut.</summary>
    public double ContactApartK { get; private set; }

    /// <summary>How far under the outdoor dew point a slab may come while openings are likely.</summary>
    public double OutdoorReserveUnderK { get; private set; }

    /// <summary>The outdoor reserve holds while the dew point outdoors is this much over the room's.</summary>
    public double OutdoorReserveFromK { get; private set; }

    /// <summary>For how long after an opening another one is likely.</summary>
    public double OpeningsLastS { get; private set; }

    /// <summary>Coldest cooled floor.</summary>
    public double FloorAtLeastC { get; private set; }

    /// <summary>Warmest heated floor where people stay.</summary>
    public double FloorAtMostC { get; private set; }

    /// <summary>Warmest heated floor of a bathroom.</summary>
    public double BathFloorAtMostC { get; private set; }

    /// <summary>Warmest heated floor of an edge zone.</summary>
    public double EdgeFloorAtMostC { get; private set; }

    /// <summary>Largest radiant asymmetry under a heated ceiling.</summary>
    public double CeilingAsymmetryK { get; private set; }

    /// <summary>Largest radiant asymmetry beside a heated wall.</summary>
    public double WallAsymmetryK { get; private set; }

    private static Parameter<SequenceSettings>[] GuardParameters() =>
    [
        New("isolate_above", Quantity.TemperatureDifference, 1.5, 0.5, 5, "a room that alone holds its loop's water up by more than this is shut for the others' sake, if it has a coil or carries less", s => s.IsolateAboveK, (s, v) => s.IsolateAboveK = v),
        New("isolate_back", Quantity.TemperatureDifference, 0.5, 0.1, 2, "it comes back when it would hold the water up by this much less", s => s.IsolateBackK, (s, v) => s.IsolateBackK = v),
        New("shared_water_wait", Quantity.Duration, 3600, 600, 14400, "longest wait of a room without a coil for warmer water while others on its loop use colder; then the loop is warmed for it", s => s.SharedWaterWaitS, (s, v) => s.SharedWaterWaitS = v),
        New("shared_water_turn", Quantity.Duration, 1800, 600, 14400, "for how long the loop is warmed for it", s => s.SharedWaterTurnS, (s, v) => s.SharedWaterTurnS = v),
        New("contact_believed", Quantity.Duration, 14400, 600, 86400, "a contact open for longer than this is ignored while temperature and dew point look shut", s => s.ContactBelievedS, (s, v) => s.ContactBelievedS = v),
        New("contact_apart", Quantity.TemperatureDifference, 2, 0.5, 10, "how far temperature and dew point must be from outdoors to look shut", s => s.ContactApartK, (s, v) => s.ContactApartK = v),
        New("reserve_under", Quantity.TemperatureDifference, 1.5, 0, 5, "how far under the outdoor dew point a slab may come while openings are likely", s => s.OutdoorReserveUnderK, (s, v) => s.OutdoorReserveUnderK = v),
        New("reserve_from", Quantity.TemperatureDifference, 3, 0.5, 10, "this reserve holds while the dew point outdoors is this much over the room's", s => s.OutdoorReserveFromK, (s, v) => s.OutdoorReserveFromK = v),
        New("openings_last", Quantity.Duration, 86400, 3600, 604800, "for how long after an opening another one is likely", s => s.OpeningsLastS, (s, v) => s.OpeningsLastS = v),
        New("floor_at_least", Quantity.Temperature, 19.5, 17, 24, "coldest cooled floor", s => s.FloorAtLeastC, (s, v) => s.FloorAtLeastC = v),
        New("floor_at_most", Quantity.Temperature, SurfaceLimits.HeatedFloorOccupiedC, 24, 33, "warmest heated floor where people stay", s => s.FloorAtMostC, (s, v) => s.FloorAtMostC = v),
        New("bath_floor_at_most", Quantity.Temperature, SurfaceLimits.HeatedFloorBathroomC, 24, 35, "warmest heated floor of a bathroom", s => s.BathFloorAtMostC, (s, v) => s.BathFloorAtMostC = v),
        New("edge_floor_at_most", Quantity.Temperature, SurfaceLimits.HeatedFloorEdgeC, 24, 37, "warmest heated floor of an edge zone", s => s.EdgeFloorAtMostC, (s, v) => s.EdgeFloorAtMostC = v),
        New("ceiling_asymmetry", Quantity.TemperatureDifference, 5, 2, 10, "largest radiant asymmetry under a heated ceiling", s => s.CeilingAsymmetryK, (s, v) => s.CeilingAsymmetryK = v),
        New("wall_asymmetry", Quantity.TemperatureDifference, 23, 5, 35, "largest radiant asymmetry beside a heated wall", s => s.WallAsymmetryK, (s, v) => s.WallAsymmetryK = v),
    ];
}
