// Numbers of section 7: source, change-over, hot water, buffer. Declared like all others of the sequence: section; never changed once a House holds them.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

public sealed partial class SequenceSettings
{
    /// <summary>Shortest run of the source, s.</summary>
    public double SourceMinimumRunS { get; private set; }

    /// <summary>Shortest rest of the source, s.</summary>
    public double SourceMinimumOffS { get; private set; }

    /// <summary>Most starts of the source within any hour.</summary>
    public int SourceStarts { get; private set; }

    /// <summary>How long a request must stand before the source is called; a pull-down calls it at once, s.</summary>
    public double SourceWaitS { get; private set; }

    /// <summary>How long a room with an open door keeps the source ready, s.</summary>
    public double OpeningAsksForS { get; private set; }

    /// <summary>Share of its minimum output with which drying alone starts a source, %.</summary>
    public double DryBatchSharePercent { get; private set; }

    /// <summary>Longest wait of a room for others that want to be dried too, s.</summary>
    public double DryBatchAtMostS { get; private set; }

    /// <summary>Longest wait of drying for cold water once the source is called, s.</summary>
    public double DryWaterAtMostS { get; private set; }

    /// <summary>Swing of a buffer between charging and carrying, K.</summary>
    public double BufferHysteresisK { get; private set; }

    /// <summary>Longest time a buffer may seem to carry rooms that ask, s.</summary>
    public double BufferCarriesAtMostS { get; private set; }

    /// <summary>How long wishes must stand before the source changes over, s.</summary>
    public double ChangeOverWaitS { get; private set; }

    /// <summary>Outdoor temperature under which the source does not change to cooling, °C.</summary>
    public double NoCoolingUnderC { get; private set; }

    /// <summary>Outdoor temperature over which the source does not change to heating, °C.</summary>
    public double NoHeatingOverC { get; private set; }

    /// <summary>Coldest water with which a source changes over, °C.</summary>
    public double NeutralFromC { get; private set; }

    /// <summary>Warmest water with which a source changes over, °C.</summary>
    public double NeutralToC { get; private set; }

    /// <summary>Longest wait of a change-over for still pumps and neutral water, s.</summary>
    public double NeutralAtMostS { get; private set; }

    /// <summary>Time the change-over valve takes to move, s.</summary>
    public double ChangeOverValveS { get; private set; }

    /// <summary>The smaller part of the floor gets its turn at most this often, s.</summary>
    public double MinorityEveryS { get; private set; }

    /// <summary>Longest turn of it, s.</summary>
    public double MinorityTurnS { get; private set; }

    /// <summary>Rest of a slab between cooling and heating, s.</summary>
    public double SlabOppositeRestS { get; private set; }

    /// <summary>Rest of coils and thin panels between cooling and heating, s.</summary>
    public double CoilOppositeRestS { get; private set; }

    /// <summary>A room this much too cold ends rests and takes the source from the hot water, K.</summary>
    public double TooColdK { get; private set; }

    /// <summary>A coil on a loop for both seasons cools only with water this much colder than the room, K.</summary>
    public double TwoPipeCoolerByK { get; private set; }

    /// <summary>How far under its set point the tank takes the source, K.</summary>
    public double HotWaterUnderK { get; private set; }

    /// <summary>Longest wait of the tank for a pull-down, s.</summary>
    public double HotWaterWaitS { get; private set; }

    /// <summary>Longest charge of the tank at a time, s.</summary>
    public double HotWaterAtMostS { get; private set; }

    /// <summary>How long the rooms have the source after a charge that was broken off, s.</summary>
    public double RoomsAfterHotWaterS { get; private set; }

    /// <summary>How much warmer than the tank's set point the source's water is while it is charged, K.</summary>
    public double HotWaterAboveK { get; private set; }

    /// <summary>After hot water a source that cools serves its rooms again with water under this, °C.</summary>
    public double ReopenUnderC { get; private set; }

    /// <summary>Longest wait for that, s.</summary>
    public double SlugAtMostS { get; private set; }

    /// <summary>Water over this, while the source cools, is its own hot water, °C.</summary>
    public double TooHotToCoolC { get; private set; }

    /// <summary>Longest time that a source's word is taken for it that its water is not for the rooms, s.</summary>
    public double NotForRoomsAtMostS { get; private set; }

    /// <summary>How much warmer the tank is charged with surplus power, K.</summary>
    public double SurplusTankK { get; private set; }

    /// <summary>How much further a buffer is charged with surplus power while somebody asks, K.</summary>
    public double SurplusBufferK { get; private set; }

    /// <summary>Their declarations; made where they are asked for, since static parts of one class are filled in no certain order.</summary>
    private static Parameter<SequenceSettings>[] SourceParameters() =>
    [
        New("source_minimum_run", Quantity.Duration, 600, 0, 3600, "shortest run of the source", s => s.SourceMinimumRunS, (s, v) => s.SourceMinimumRunS = v),
        New("source_minimum_off", Quantity.Duration, 600, 0, 3600, "shortest rest of the source", s => s.SourceMinimumOffS, (s, v) => s.SourceMinimumOffS = v),
        New("source_starts", Quantity.Number, 3, 1, 12, "most starts of the source within any hour", s => s.SourceStarts, (s, v) => s.SourceStarts = (int)Math.Round(v)),
        New("source_wait", Quantity.Duration, 300, 0, 3600, "how long a request must stand before the source is called; a pull-down calls it at once", s => s.SourceWaitS, (s, v) => s.SourceWaitS = v),
        New("opening_asks_for", Quantity.Duration, 3600, 0, 14400, "how long a room with an open door, that will want the source when it shuts, keeps it ready", s => s.OpeningAsksForS, (s, v) => s.OpeningAsksForS = v),
        New("dry_batch_share", Quantity.Percent, 40, 0, 100, "drying alone starts the source when together it takes this share of the source's minimum output", s => s.DryBatchSharePercent, (s, v) => s.DryBatchSharePercent = v),
        New("dry_batch_at_most", Quantity.Duration, 3600, 0, 21600, "longest wait of a room for others that want to be dried too", s => s.DryBatchAtMostS, (s, v) => s.DryBatchAtMostS = v),
        New("dry_water_at_most", Quantity.Duration, 900, 0, 3600, "longest wait of drying for cold water once the source is called", s => s.DryWaterAtMostS, (s, v) => s.DryWaterAtMostS = v),
        New("buffer_hysteresis", Quantity.TemperatureDifference, 4, 1, 12, "swing of a buffer between charging and carrying", s => s.BufferHysteresisK, (s, v) => s.BufferHysteresisK = v),
        New("buffer_carries_at_most", Quantity.Duration, 14400, 600, 86400, "a buffer that seems to carry rooms that ask for longer than this is charged all the same", s => s.BufferCarriesAtMostS, (s, v) => s.BufferCarriesAtMostS = v),
        New("change_over_wait", Quantity.Duration, 1800, 60, 14400, "how long nobody may ask for what the source makes and somebody for the opposite, or more floor ask for the opposite, before it changes over", s => s.ChangeOverWaitS, (s, v) => s.ChangeOverWaitS = v),
        New("no_cooling_under", Quantity.Temperature, 16, 0, 25, "outdoor temperature under which the source does not change to cooling", s => s.NoCoolingUnderC, (s, v) => s.NoCoolingUnderC = v),
        New("no_heating_over", Quantity.Temperature, 20, 10, 30, "outdoor temperature over which the source does not change to heating", s => s.NoHeatingOverC, (s, v) => s.NoHeatingOverC = v),
        New("neutral_from", Quantity.Temperature, 18, 5, 30, "change-over waits until the water is at least this warm", s => s.NeutralFromC, (s, v) => s.NeutralFromC = v),
        New("neutral_to", Quantity.Temperature, 26, 20, 45, "and at most this warm", s => s.NeutralToC, (s, v) => s.NeutralToC = v),
        New("neutral_at_most", Quantity.Duration, 3600, 0, 14400, "longest wait of a change-over for still pumps and neutral water", s => s.NeutralAtMostS, (s, v) => s.NeutralAtMostS = v),
        New("change_over_valve_time", Quantity.Duration, 120, 0, 600, "time the change-over valve takes to move", s => s.ChangeOverValveS, (s, v) => s.ChangeOverValveS = v),
        New("minority_every", Quantity.Duration, 21600, 3600, 172800, "the smaller part of the floor that wants the opposite gets its turn at most this often, and waits at most this long", s => s.MinorityEveryS, (s, v) => s.MinorityEveryS = v),
        New("minority_turn", Quantity.Duration, 3600, 600, 14400, "longest turn of it", s => s.MinorityTurnS, (s, v) => s.MinorityTurnS = v),
        New("slab_opposite_rest", Quantity.Duration, 86400, 0, 172800, "rest of a slab between cooling and heating: what it stores would be thrown away", s => s.SlabOppositeRestS, (s, v) => s.SlabOppositeRestS = v),
        New("coil_opposite_rest", Quantity.Duration, 3600, 0, 86400, "the same of coils and thin panels", s => s.CoilOppositeRestS, (s, v) => s.CoilOppositeRestS = v),
        New("too_cold", Quantity.TemperatureDifference, 2, 0.5, 6, "a room this much too cold ends the rest of its emitters and takes the source from the hot water", s => s.TooColdK, (s, v) => s.TooColdK = v),
        New("two_pipe_cooler_by", Quantity.TemperatureDifference, 4, 0.5, 8, "a coil on a loop for both seasons cools only with water at least this much colder than the room", s => s.TwoPipeCoolerByK, (s, v) => s.TwoPipeCoolerByK = v),
        New("hot_water_under", Quantity.TemperatureDifference, 5, 1, 20, "the tank takes the source when it is this far under its set point", s => s.HotWaterUnderK, (s, v) => s.HotWaterUnderK = v),
        New("hot_water_wait", Quantity.Duration, 1200, 0, 7200, "longest wait of the tank for a pull-down", s => s.HotWaterWaitS, (s, v) => s.HotWaterWaitS = v),
        New("hot_water_at_most", Quantity.Duration, 2700, 300, 14400, "longest charge of the tank at a time", s => s.HotWaterAtMostS, (s, v) => s.HotWaterAtMostS = v),
        New("rooms_after_hot_water", Quantity.Duration, 1800, 0, 14400, "how long the rooms have the source after a charge that was broken off", s => s.RoomsAfterHotWaterS, (s, v) => s.RoomsAfterHotWaterS = v),
        New("hot_water_above", Quantity.TemperatureDifference, 5, 0, 15, "source water this much warmer than the tank's set point while it is charged", s => s.HotWaterAboveK, (s, v) => s.HotWaterAboveK = v),
        New("reopen_under", Quantity.Temperature, 16, 8, 25, "after hot water a source that cools serves its rooms again with water under this", s => s.ReopenUnderC, (s, v) => s.ReopenUnderC = v),
        New("slug_at_most", Quantity.Duration, 1200, 0, 7200, "longest wait for that", s => s.SlugAtMostS, (s, v) => s.SlugAtMostS = v),
        New("too_hot_to_cool", Quantity.Temperature, 40, 26, 70, "water over this, while the source cools, is its own hot water", s => s.TooHotToCoolC, (s, v) => s.TooHotToCoolC = v),
        New("not_for_rooms_at_most", Quantity.Duration, 5400, 600, 14400, "longest time that a source's word is taken for it that its water is not for the rooms", s => s.NotForRoomsAtMostS, (s, v) => s.NotForRoomsAtMostS = v),
        New("surplus_tank", Quantity.TemperatureDifference, 5, 0, 15, "how much warmer the tank is charged with surplus power, never over 60 °C", s => s.SurplusTankK, (s, v) => s.SurplusTankK = v),
        New("surplus_buffer", Quantity.TemperatureDifference, 2, 0, 10, "how much further a buffer is charged with surplus power while somebody asks", s => s.SurplusBufferK, (s, v) => s.SurplusBufferK = v),
    ];
}
