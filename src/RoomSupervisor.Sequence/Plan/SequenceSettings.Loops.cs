// Numbers of section 6: set points by requests, mixing valve, pumps, exercise, frost. Declared like all others of the sequence: section; never changed once a House holds them.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

public sealed partial class SequenceSettings
{
    /// <summary>How often requests move a loop's set point, s.</summary>
    public double RequestPeriodS { get; private set; }

    /// <summary>How far the set point is trimmed each time, towards water that costs less, K.</summary>
    public double RequestTrimK { get; private set; }

    /// <summary>How far each request that is not ignored moves it the other way, K.</summary>
    public double RequestRespondK { get; private set; }

    /// <summary>The most that requests move it at a time, K.</summary>
    public double RequestRespondAtMostK { get; private set; }

    /// <summary>How many requests are ignored.</summary>
    public int RequestsIgnored { get; private set; }

    /// <summary>How long a room must want more of its water before that is a request, s.</summary>
    public double RequestAfterS { get; private set; }

    /// <summary>How far requests may raise a set point over the one by outdoor temperature, K.</summary>
    public double OutdoorTrimK { get; private set; }

    /// <summary>A three-point valve goes to its end stop after so many full strokes without one.</summary>
    public double ResynchroniseAfterStrokes { get; private set; }

    /// <summary>How long a pump runs on after the last circuit where a bypass gives its water a way, s.</summary>
    public double PumpPostRunS { get; private set; }

    /// <summary>How long a pump or fan may run without proof before that is told, s.</summary>
    public double ProofWaitS { get; private set; }

    /// <summary>A pump or valve that has not moved for this long is exercised, s.</summary>
    public double ExerciseAfterS { get; private set; }

    /// <summary>How long a pump is run for exercise, s.</summary>
    public double ExerciseForS { get; private set; }

    /// <summary>Water under this is close to freezing, °C.</summary>
    public double FrostWaterC { get; private set; }

    /// <summary>The same of a loop that is meant to be this cold, while it still falls, °C.</summary>
    public double FrostColdLoopC { get; private set; }

    /// <summary>Room air under this is close to freezing pipes, °C.</summary>
    public double FrostRoomC { get; private set; }

    /// <summary>Outdoors under this, or not known, what follows the end of a command keeps warm water moving, °C.</summary>
    public double FrostOutdoorsC { get; private set; }

    /// <summary>Their declarations; made where they are asked for, since static parts of one class are filled in no certain order.</summary>
    private static Parameter<SequenceSettings>[] LoopParameters() =>
    [
        New("request_period", Quantity.Duration, 300, 60, 1800, "how often requests of its rooms move a loop's set point", s => s.RequestPeriodS, (s, v) => s.RequestPeriodS = v),
        New("request_trim", Quantity.TemperatureDifference, 0.2, 0, 1, "how far it is trimmed each time, towards water that costs less", s => s.RequestTrimK, (s, v) => s.RequestTrimK = v),
        New("request_respond", Quantity.TemperatureDifference, 0.4, 0, 2, "how far each request that is not ignored moves it the other way", s => s.RequestRespondK, (s, v) => s.RequestRespondK = v),
        New("request_respond_at_most", Quantity.TemperatureDifference, 1, 0.1, 4, "the most that requests move it at a time", s => s.RequestRespondAtMostK, (s, v) => s.RequestRespondAtMostK = v),
        New("requests_ignored", Quantity.Number, 1, 0, 10, "how many requests are ignored", s => s.RequestsIgnored, (s, v) => s.RequestsIgnored = (int)Math.Round(v)),
        New("request_after", Quantity.Duration, 120, 0, 1800, "how long a room must want more of its water before that is a request", s => s.RequestAfterS, (s, v) => s.RequestAfterS = v),
        New("outdoor_trim", Quantity.TemperatureDifference, 4, 0, 10, "how far requests of thin heated surfaces may raise a set point over the one by outdoor temperature", s => s.OutdoorTrimK, (s, v) => s.OutdoorTrimK = v),
        New("resynchronise_after", Quantity.Number, 10, 1, 1000, "a three-point mixing valve shuts once after so many full strokes without an end stop: its position is counted, and the count drifts", s => s.ResynchroniseAfterStrokes, (s, v) => s.ResynchroniseAfterStrokes = v),
        New("pump_post_run", Quantity.Duration, 180, 0, 1800, "how long a pump runs on after the last circuit has shut, where a bypass gives its water a way", s => s.PumpPostRunS, (s, v) => s.PumpPostRunS = v),
        New("proof_wait", Quantity.Duration, 15, 5, 300, "how long a pump or a fan may run without its proof before that is told", s => s.ProofWaitS, (s, v) => s.ProofWaitS = v),
        New("exercise_after", Quantity.Duration, 604800, 86400, 2592000, "a pump or valve that has not moved for this long is exercised", s => s.ExerciseAfterS, (s, v) => s.ExerciseAfterS = v),
        New("exercise_for", Quantity.Duration, 30, 5, 300, "how long a pump is run for that", s => s.ExerciseForS, (s, v) => s.ExerciseForS = v),
        New("frost_water", Quantity.Temperature, 4, 1, 10, "water under this is kept moving and heat is called", s => s.FrostWaterC, (s, v) => s.FrostWaterC = v),
        New("frost_cold_loop", Quantity.Temperature, 3, 0.5, 6, "the same for a loop of cold water for coils, while it is still falling", s => s.FrostColdLoopC, (s, v) => s.FrostColdLoopC = v),
        New("frost_room", Quantity.Temperature, 6, 3, 12, "the same for the air of a room, switched off or not", s => s.FrostRoomC, (s, v) => s.FrostRoomC = v),
        New("frost_outdoors", Quantity.Temperature, 5, -5, 12, "outdoors under this, or where it is not known, pumps and valves of loops that heat stay on when the controller stops", s => s.FrostOutdoorsC, (s, v) => s.FrostOutdoorsC = v),
    ];
}
