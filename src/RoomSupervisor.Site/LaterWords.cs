// Words of the format that this version does not act on yet. They are refused with that reason: a line that is read and ignored
// would make people believe in something that does not happen.
namespace RoomSupervisor.Site;

internal static class LaterWords
{
    /// <summary>The program's version, as in its project file; a test compares.</summary>
    public const string Version = "0.1.0";

    /// <summary>What to tell about such a word.</summary>
    public const string Message = $"this version ({Version}) does not do that yet";

    private static readonly HashSet<string> Words = new(StringComparer.Ordinal)
    {
        // Owners and parts.
        "buffer", "hot-water", "heat-source", "floor", "wall",
        // Kinds, loops, source.
        "on-off", "three-point", "stepped-fan", "pwm", "screed", "boiler", "closing_time", "normally", "water_content", "minimum_output", "manifold_in", "covering", "bath",
        // Points of rooms.
        "air.co2", "people.present", "unit.dial", "unit.button",
        // Points of loops.
        "flow.rate", "pump.proof", "high_limit.tripped", "water.pressure", "pump.speed", "standby_pump.run",
        // Points of the source, the buffer, the hot water and the site.
        "state.running", "state.defrosting", "state.making_hot_water", "state.locked_out", "state.fault", "call.cooling", "call.set_point", "change_over.valve",
        "top.temperature", "bottom.temperature", "tank.temperature", "charge.enable", "leak.detected", "surplus.available", "manual_switch.in_hand", "health.ok",
        // Drivers.
        "sht4x",
    };

    private static readonly string[] Surfaces = ["floor", "ceiling", "wall"];

    private static readonly string[] SurfacePoints = ["temperature", "condensation", "end_switch", "valve"];

    private static readonly string[] CoilPoints = ["fan_proof", "water_temperature", "return_air_temperature", "heating_valve"];

    /// <summary>True for a word that a later version will know.</summary>
    public static bool Knows(string word)
    {
        if (Words.Contains(word))
            return true;
        var dot = word.IndexOf('.', StringComparison.Ordinal);
        var part = dot < 0 ? word : word[..dot];
        var point = dot < 0 ? "" : word[(dot + 1)..];
        var isSurface = Surfaces.Contains(part) || Surfaces.Any(surface => part.StartsWith(surface + "-", StringComparison.Ordinal));
        var isCoil = part == "coil" || part.StartsWith("coil-", StringComparison.Ordinal);
        return dot < 0 ? isSurface && part.Contains('-', StringComparison.Ordinal) : (isSurface && SurfacePoints.Contains(point)) || (isCoil && CoilPoints.Contains(point));
    }
}
