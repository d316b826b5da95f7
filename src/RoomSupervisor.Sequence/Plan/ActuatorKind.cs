// A kind of valve actuator, described once in site.yaml, and what it makes of a percentage. Filled by the site reader; never changed
// once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A kind of valve actuator (<c>type: modulating</c>, <c>on-off</c> or <c>three-point</c>).</summary>
public sealed class ActuatorKind
{
    private double closingTime = double.NaN;
    private bool fromTwoVolts;
    private double minimumOn, minimumOff, cycle = 900;

    public OutputKind Kind { get; private init; }

    /// <summary>Time from shut to open, s.</summary>
    public double OpeningTimeS { get; private set; } = 90;

    /// <summary>Time from open to shut, s; as long as opening unless said otherwise.</summary>
    public double ClosingTimeS => double.IsNaN(closingTime) ? OpeningTimeS : closingTime;

    /// <summary>True for one that is open without current.</summary>
    public bool NormallyOpen { get; private set; }

    /// <summary>What Hardware must know of it.</summary>
    public OutputShape Shape => new()
    {
        Kind = Kind,
        Line = fromTwoVolts ? VoltageLine.TwoToTen : VoltageLine.ZeroToTen,
        CycleS = cycle,
        MinimumOnS = minimumOn,
        MinimumOffS = minimumOff,
        NormallyOpen = NormallyOpen,
        StrokeS = OpeningTimeS,
    };

    /// <summary>Follows a control voltage.</summary>
    public static ActuatorKind Modulating() => new();

    /// <summary>Open or shut; often a wax actuator that takes minutes.</summary>
    public static ActuatorKind OnOff() => new() { Kind = OutputKind.OnOff, OpeningTimeS = 180, minimumOn = 60, minimumOff = 60 };

    /// <summary>A relay opens, another shuts.</summary>
    public static ActuatorKind ThreePoint() => new() { Kind = OutputKind.ThreePoint, OpeningTimeS = 120 };

    /// <summary>Keys of a modulating one.</summary>
    public static IReadOnlyList<Parameter<ActuatorKind>> Parameters { get; } =
    [
        Opening(90), Closing,
        Declare.Choice<ActuatorKind>("signal", "0-10 V", ["0-10 V", "2-10 V"], "its control signal", k => k.fromTwoVolts ? "2-10 V" : "0-10 V", (k, v) => k.fromTwoVolts = v == "2-10 V"),
    ];

    /// <summary>Keys of an on-off one.</summary>
    public static IReadOnlyList<Parameter<ActuatorKind>> OnOffParameters { get; } =
    [
        Opening(180), Closing,
        Declare.Choice<ActuatorKind>("normally", "closed", ["closed", "open"], "what it is without current", k => k.NormallyOpen ? "open" : "closed", (k, v) => k.NormallyOpen = v == "open",
            "For cooled surfaces take one that is shut without current: a dead board then leaves no cold water running."),
        Declare.Number<ActuatorKind>("cycle", Quantity.Duration, 900, 60, 3600, "time of one on-off cycle; the on share is the opening asked for", k => k.cycle, (k, v) => k.cycle = v, step: 60),
        Declare.Number<ActuatorKind>("minimum_on", Quantity.Duration, 60, 0, 900, "shortest time on", k => k.minimumOn, (k, v) => k.minimumOn = v, step: 5),
        Declare.Number<ActuatorKind>("minimum_off", Quantity.Duration, 60, 0, 900, "shortest time off", k => k.minimumOff, (k, v) => k.minimumOff = v, step: 5),
    ];

    /// <summary>Keys of a three-point one.</summary>
    public static IReadOnlyList<Parameter<ActuatorKind>> ThreePointParameters { get; } = [Opening(120)];

    private static Parameter<ActuatorKind> Opening(double standard) => Declare.Number<ActuatorKind>(
        "opening_time", Quantity.Duration, standard, 1, 600, "time the actuator takes from shut to open", k => k.OpeningTimeS, (k, v) => k.OpeningTimeS = v, step: 1,
        more: "The pump waits for it: nothing pushes against a shut valve.");

    private static Parameter<ActuatorKind> Closing => Declare.Number<ActuatorKind>(
        "closing_time", Quantity.Duration, double.NaN, 1, 900, "time it takes from open to shut; as long as opening unless said", k => k.ClosingTimeS, (k, v) => k.closingTime = v, step: 1, example: "4 min",
        more: "The condensation guard acts that much earlier. Wax actuators need 2 to 5 min: common practice, no published source.");
}

/// <summary>A kind of sensor (<c>type: sensor</c>): what its data sheet says, for all points that name it.</summary>
public sealed class SensorKind
{
    public SensorSettings Settings { get; } = new();

    /// <summary>Keys of a sensor.</summary>
    public static IReadOnlyList<Parameter<SensorKind>> Parameters { get; } =
    [
        Declare.Number<SensorKind>("accuracy", Quantity.TemperatureDifference, 0.3, 0.05, 2, "accuracy of its temperature", k => k.Settings.AccuracyK, (k, v) => k.Settings.AccuracyK = v, step: 0.05),
        Declare.Number<SensorKind>("humidity_accuracy", Quantity.Percent, 2, 0.5, 10, "accuracy of its relative humidity", k => k.Settings.AccuracyPercent, (k, v) => k.Settings.AccuracyPercent = v, step: 0.5),
        Declare.Number<SensorKind>("lag", Quantity.Duration, 120, 0, 900, "time constant with which it follows the air", k => k.Settings.LagS, (k, v) => k.Settings.LagS = v, step: 5),
        Declare.Number<SensorKind>("interval", Quantity.Duration, 5, 0.2, 600, "how often it has a new value of its own", k => k.Settings.IntervalS, (k, v) => k.Settings.IntervalS = v, step: 0.1),
        Declare.Number<SensorKind>("resolution", Quantity.TemperatureDifference, 0.01, 0.001, 1, "smallest step of its temperature", k => k.Settings.ResolutionK, (k, v) => k.Settings.ResolutionK = v),
        Declare.Number<SensorKind>("humidity_resolution", Quantity.Percent, 0.01, 0.001, 5, "smallest step of its relative humidity", k => k.Settings.ResolutionPercent, (k, v) => k.Settings.ResolutionPercent = v),
    ];
}
