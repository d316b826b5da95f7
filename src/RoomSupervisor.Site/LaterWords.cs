// Words of the format that this version does not act on yet. They are refused with that reason: a line that is read and ignored
// would make people believe in something that does not happen.
namespace RoomSupervisor.Site;

internal static class LaterWords
{
    private static readonly HashSet<string> Words = new(StringComparer.Ordinal)
    {
        "heat_below", "absence", "noise_allowance", "buffer", "hot-water", "heat-source", "floor", "wall", "closing_time", "normally", "water_content",
        "minimum_output", "manifold_in", "covering", "bath", "end_switch", "pump.speed", "standby_pump.run", "flow.rate", "pump.proof", "high_limit.tripped",
        "water.pressure", "call.cooling", "call.set_point", "change_over.valve", "air.co2", "people.present", "unit.dial", "unit.button", "state.running",
        "state.defrosting", "state.making_hot_water", "state.locked_out", "state.fault", "three-point", "on-off", "stepped-fan", "pwm", "boiler",
    };

    /// <summary>True for a word that a later version will know.</summary>
    public static bool Knows(string word) => Words.Contains(word);

    /// <summary>What to tell about such a word.</summary>
    public static string Message => "this version (0.1.0) does not do that yet";
}
