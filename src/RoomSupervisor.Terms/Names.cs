// The stable spelling of stages, levels, faults and qualities in lockstep files, logs and traces.
namespace RoomSupervisor.Terms;

/// <summary>Enum values as people and files spell them, and back.</summary>
public static class Names
{
    private static readonly string[] Stages =
        ["off", "satisfied", "pull-down", "warm-up", "easing-off", "coil-helps", "radiant-hold", "coil-hold", "opening"];
    private static readonly string[] Moistures = ["resting", "dehumidifying"];
    private static readonly string[] Guards = ["clear", "raised", "shut"];
    private static readonly string[] Modes = ["cooling", "heating", "hot-water"];
    private static readonly string[] Qualities = ["missing", "last-good", "good"];
    private static readonly string[] Priorities = ["note", "warning", "alarm", "urgent"];

    public static string Of(Stage stage) => Stages[(int)stage];
    public static string Of(Moisture moisture) => Moistures[(int)moisture];
    public static string Of(GuardLevel level) => Guards[(int)level];
    public static string Of(SourceMode mode) => Modes[(int)mode];
    public static string Of(Quality quality) => Qualities[(int)quality];
    public static string Of(Priority priority) => Priorities[(int)priority];

    /// <summary>The fault a lockstep line names; false for an unknown name. Allowed: bus-error, crc, no-acknowledge, timeout, out-of-range.</summary>
    public static bool TryFault(string name, out Fault fault)
    {
        fault = name switch
        {
            "bus-error" => Fault.BusError,
            "crc" => Fault.Crc,
            "no-acknowledge" => Fault.NoAcknowledge,
            "timeout" => Fault.Timeout,
            "out-of-range" => Fault.OutOfRange,
            _ => Fault.None,
        };
        return fault != Fault.None;
    }

    /// <summary>The cause a missing reading carries for a device's fault.</summary>
    public static Cause CauseOf(Fault fault) => fault switch
    {
        Fault.None => Cause.None,
        Fault.BusError => Cause.BusError,
        Fault.Crc => Cause.Crc,
        Fault.NoAcknowledge => Cause.NoAcknowledge,
        Fault.Timeout => Cause.Timeout,
        Fault.OutOfRange => Cause.OutOfRange,
        _ => Cause.NeverRead,
    };
}
