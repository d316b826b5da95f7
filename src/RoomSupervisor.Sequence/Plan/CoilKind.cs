// A kind of fan coil: described once in site.yaml, named many times. Filled by the site reader; never changed once a House holds it.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A kind of fan coil (<c>type: fan-coil</c>).</summary>
public sealed class CoilKind
{
    /// <summary>Words of <c>fan_signal</c>.</summary>
    public const string Voltage = "voltage", Steps = "steps", Pwm = "pwm", OnOff = "on-off";

    private readonly double[] steps = [double.NaN, double.NaN, double.NaN, double.NaN, double.NaN];

    private double[] stepsSaid = [];

    /// <summary>Sensible output at full speed with water of <see cref="RatedWaterC"/> and a room of <see cref="RatedRoomC"/>, W.</summary>
    public double OutputW { get; private set; } = 2000;

    public double RatedWaterC { get; private set; } = 7;

    public double RatedRoomC { get; private set; } = 27;

    /// <summary>Heating output at full speed with water of <see cref="RatedHeatingWaterC"/> and a room of 20 °C, W; NaN: by the cooling output, a kelvin for a kelvin.</summary>
    public double HeatingOutputW { get; private set; } = double.NaN;

    public double RatedHeatingWaterC { get; private set; } = 45;

    /// <summary>How the fan is told its speed: voltage, steps, pwm or on-off.</summary>
    public string FanSignal { get; private set; } = Voltage;

    public double StartVoltageV { get; private set; } = 1.8;

    private double startSpeed = 20;

    /// <summary>Slowest speed at which the fan turns, percent of full speed: of a stepped fan its first step, of an on-off fan 100.</summary>
    public double StartSpeedPercent => FanSignal switch
    {
        Steps when StepsPercent.Count > 0 => StepsPercent[0],
        OnOff => 100,
        _ => startSpeed,
    };

    public double FullVoltageV { get; private set; } = 10;

    /// <summary>Speeds of a stepped fan, percent of full speed, as written; empty for other fans.</summary>
    public IReadOnlyList<double> StepsPercent => FanSignal == Steps ? stepsSaid : [];

    private double soundAtPercent = 100;
    private double soundLevel = double.NaN;

    /// <summary>Sound at the ear at full speed, dB(A), from the level at any speed by 50·log10 of the speed ratio; NaN: not known.</summary>
    public double SoundLevelDb { get; private set; } = double.NaN;

    /// <summary>True when the coil has a switch that says its drip tray is full.</summary>
    public bool DripTraySwitch { get; private set; }

    /// <summary>Time after which the coil's valve counts as open enough for the pump, s.</summary>
    public double ValveOpeningTimeS { get; private set; } = 30;

    /// <summary>Volts for a speed.</summary>
    public VoltageLine Line => new(StartVoltageV, StartSpeedPercent, FullVoltageV);

    /// <summary>Sensible watts as typed in, at a speed and with such water; what control reckons with. 0 when the water is not colder (warmer) than the room.</summary>
    /// <param name="speedPercent">0 to 100.</param>
    /// <param name="roomC">Room air, °C.</param>
    /// <param name="waterC">Entering water, °C.</param>
    /// <param name="heats">True in heating.</param>
    public double WattsAt(double speedPercent, double roomC, double waterC, bool heats) => Rooms.Emitters.CoilShare(speedPercent) * Rooms.Emitters.CoilFullOutput(this, roomC, waterC, heats);

    private void Step(int index, double percent)
    {
        steps[index] = percent;
        stepsSaid = [.. steps.Where(step => !double.IsNaN(step))];   // once: a scan asks for the first of them often, and allocates nothing
    }

    private void Sound(double atPercent, double level)
    {
        (soundAtPercent, soundLevel) = (atPercent, level);
        SoundLevelDb = FanSound.TryLevelChange(100 / atPercent, out var louder, out _) ? level + louder : double.NaN;   // once: a step asks for it often
    }

    public static IReadOnlyList<Parameter<CoilKind>> Parameters { get; } =
    [
        Declare.Number<CoilKind>("output", Quantity.Power, 2000, 100, 20000, "sensible cooling output at full speed, with rated_water and rated_room",
            k => k.OutputW, (k, v) => k.OutputW = v, required: true, step: 10, more: "Take the sensible figure, not the total: the rest dries the air and does not cool it."),
        Declare.Number<CoilKind>("rated_water", Quantity.Temperature, 7, 4, 16, "entering water at which the output was rated", k => k.RatedWaterC, (k, v) => k.RatedWaterC = v, step: 0.5),
        Declare.Number<CoilKind>("rated_room", Quantity.Temperature, 27, 20, 35, "room temperature at which the output was rated", k => k.RatedRoomC, (k, v) => k.RatedRoomC = v, step: 0.5),
        Declare.Number<CoilKind>("heating_output", Quantity.Power, double.NaN, 100, 40000, "heating output at full speed, with rated_heating_water and a room of 20 °C",
            k => k.HeatingOutputW, (k, v) => k.HeatingOutputW = v, step: 10, example: "2.5 kW", more: "Without it a kelvin between water and room heats as much as it cools."),
        Declare.Number<CoilKind>("rated_heating_water", Quantity.Temperature, 45, 30, 80, "entering water at which the heating output was rated",
            k => k.RatedHeatingWaterC, (k, v) => k.RatedHeatingWaterC = v, step: 0.5),
        Declare.Choice<CoilKind>("fan_signal", Voltage, [Voltage, Steps, Pwm, OnOff], "how the fan is told its speed", k => k.FanSignal, (k, v) => k.FanSignal = v,
            "voltage: 0–10 V by start_voltage, start_speed and full_voltage. steps: a relay a speed, listed under speeds. pwm: a share made by the device. on-off: one speed, one relay."),
        Declare.Number<CoilKind>("start_voltage", Quantity.Voltage, 1.8, 0, 5, "control voltage at which the fan just turns", k => k.StartVoltageV, (k, v) => k.StartVoltageV = v, step: 0.1,
            more: "Find it at the fan: raise the voltage slowly until the wheel turns from rest."),
        Declare.Number<CoilKind>("start_speed", Quantity.Percent, 20, 5, 60, "its speed there, as a share of full speed", k => k.startSpeed, (k, v) => k.startSpeed = v, step: 1),
        Declare.Number<CoilKind>("full_voltage", Quantity.Voltage, 10, 6, 10, "control voltage of full speed", k => k.FullVoltageV, (k, v) => k.FullVoltageV = v, step: 0.1),
        Declare.Number<CoilKind>("valve_opening_time", Quantity.Duration, 30, 0, 600, "time after which the coil's valve is open enough for the loop's pump",
            k => k.ValveOpeningTimeS, (k, v) => k.ValveOpeningTimeS = v, step: 1),
        Declare.Switch<CoilKind>("drip_tray_switch", false, "the coil has a switch that says its drip tray is full", k => k.DripTraySwitch, (k, v) => k.DripTraySwitch = v,
            "A coil that dries the air fills its tray in hours when the drain is blocked; without a switch nobody notices until the ceiling below is wet."),
    ];

    /// <summary>Keys of the <c>sound</c> group inside it.</summary>
    public static IReadOnlyList<Parameter<CoilKind>> SoundParameters { get; } =
    [
        Declare.Number<CoilKind>("at", Quantity.Percent, 100, 20, 100, "speed at which the level was measured", k => k.soundAtPercent, (k, v) => k.Sound(v, k.soundLevel), step: 1),
        Declare.Number<CoilKind>("level", Quantity.Level, double.NaN, 15, 80, "sound at the ear at that speed", k => k.soundLevel, (k, v) => k.Sound(k.soundAtPercent, v), required: true, step: 0.5, example: "47 dB"),
    ];

    /// <summary>Keys of the <c>speeds</c> group of a stepped fan.</summary>
    public static IReadOnlyList<Parameter<CoilKind>> StepParameters { get; } = [.. Enumerable.Range(0, 5).Select(StepOf)];

    private static Parameter<CoilKind> StepOf(int index) => Declare.Number<CoilKind>(
        FormattableString.Invariant($"step_{index + 1}"), Quantity.Percent, double.NaN, 5, 100, FormattableString.Invariant($"speed of step {index + 1}, as a share of full speed"),
        k => k.steps[index], (k, v) => k.Step(index, v), step: 1, required: index == 0, example: FormattableString.Invariant($"{20 * (index + 1)} %"));
}
