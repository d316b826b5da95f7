// Kinds of coils, panels and actuators: described once in site.yaml, named many times. Filled by the site reader.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A kind of fan coil (<c>type: fan-coil</c>).</summary>
public sealed class CoilKind
{
    /// <summary>Sensible output at full speed with water of <see cref="RatedWaterC"/> and a room of <see cref="RatedRoomC"/>, W.</summary>
    public double OutputW { get; private set; } = 2000;

    public double RatedWaterC { get; private set; } = 7;

    public double RatedRoomC { get; private set; } = 27;

    public double StartVoltageV { get; private set; } = 1.8;

    public double StartSpeedPercent { get; private set; } = 20;

    public double FullVoltageV { get; private set; } = 10;

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

    private void Sound(double atPercent, double level)
    {
        (soundAtPercent, soundLevel) = (atPercent, level);
        SoundLevelDb = level + 50 * Math.Log10(100 / atPercent);   // worked out once: a step asks for it often
    }

    public static IReadOnlyList<Parameter<CoilKind>> Parameters { get; } =
    [
        new()
        {
            Key = "output", Quantity = Quantity.Power, Default = 2000, Lowest = 100, Highest = 20000, Required = true,
            Help = "sensible cooling output at full speed, with rated_water and rated_room",
            GetNumber = k => k.OutputW, SetNumber = (k, v) => k.OutputW = v,
        },
        new()
        {
            Key = "rated_water", Quantity = Quantity.Temperature, Default = 7, Lowest = 4, Highest = 16,
            Help = "entering water at which the output was rated",
            GetNumber = k => k.RatedWaterC, SetNumber = (k, v) => k.RatedWaterC = v,
        },
        new()
        {
            Key = "rated_room", Quantity = Quantity.Temperature, Default = 27, Lowest = 20, Highest = 35,
            Help = "room temperature at which the output was rated",
            GetNumber = k => k.RatedRoomC, SetNumber = (k, v) => k.RatedRoomC = v,
        },
        new()
        {
            Key = "start_voltage", Quantity = Quantity.Voltage, Default = 1.8, Lowest = 0, Highest = 5,
            Help = "control voltage at which the fan just turns",
            GetNumber = k => k.StartVoltageV, SetNumber = (k, v) => k.StartVoltageV = v,
        },
        new()
        {
            Key = "start_speed", Quantity = Quantity.Percent, Default = 20, Lowest = 5, Highest = 60,
            Help = "its speed there, as a share of full speed",
            GetNumber = k => k.StartSpeedPercent, SetNumber = (k, v) => k.StartSpeedPercent = v,
        },
        new()
        {
            Key = "full_voltage", Quantity = Quantity.Voltage, Default = 10, Lowest = 6, Highest = 10,
            Help = "control voltage of full speed",
            GetNumber = k => k.FullVoltageV, SetNumber = (k, v) => k.FullVoltageV = v,
        },
        new()
        {
            Key = "valve_opening_time", Quantity = Quantity.Duration, Default = 30, Lowest = 0, Highest = 600,
            Help = "time after which the coil's valve is open enough for the loop's pump",
            GetNumber = k => k.ValveOpeningTimeS, SetNumber = (k, v) => k.ValveOpeningTimeS = v,
        },
        new()
        {
            Key = "drip_tray_switch", Quantity = Quantity.Switch, Default = 0,
            Help = "the coil has a switch that says its drip tray is full",
            GetNumber = k => k.DripTraySwitch ? 1 : 0, SetNumber = (k, v) => k.DripTraySwitch = v > 0.5,
        },
    ];

    /// <summary>Keys of the <c>sound</c> group inside it.</summary>
    public static IReadOnlyList<Parameter<CoilKind>> SoundParameters { get; } =
    [
        new()
        {
            Key = "at", Quantity = Quantity.Percent, Default = 100, Lowest = 20, Highest = 100,
            Help = "speed at which the level was measured",
            GetNumber = k => k.soundAtPercent, SetNumber = (k, v) => k.Sound(v, k.soundLevel),
        },
        new()
        {
            Key = "level", Quantity = Quantity.Level, Lowest = 15, Highest = 80, Required = true,
            Help = "sound at the ear at that speed",
            GetNumber = k => k.soundLevel, SetNumber = (k, v) => k.Sound(k.soundAtPercent, v),
        },
    ];
}

/// <summary>A kind of thin radiant panel (<c>type: panel</c>): output per area = rated × (difference / 8 K)^exponent.</summary>
public sealed class PanelKind
{
    /// <summary>Cooling output at 8 K between room and mean water, W/m².</summary>
    public double OutputWPerM2 { get; private set; } = 60;

    /// <summary>Exponent of the output characteristic.</summary>
    public double Exponent { get; private set; } = 1.1;

    public static IReadOnlyList<Parameter<PanelKind>> Parameters { get; } =
    [
        new()
        {
            Key = "output", Quantity = Quantity.AreaPower, Default = 60, Lowest = 10, Highest = 150,
            Help = "cooling output at 8 K between the room and the mean water",
            GetNumber = k => k.OutputWPerM2, SetNumber = (k, v) => k.OutputWPerM2 = v,
        },
        new()
        {
            Key = "exponent", Quantity = Quantity.Number, Default = 1.1, Lowest = 1, Highest = 1.3,
            Help = "exponent of the output over the temperature difference",
            GetNumber = k => k.Exponent, SetNumber = (k, v) => k.Exponent = v,
        },
    ];
}

/// <summary>A kind of valve actuator (<c>type: modulating</c>).</summary>
public sealed class ActuatorKind
{
    /// <summary>Time from shut to open, s; closing takes as long.</summary>
    public double OpeningTimeS { get; private set; } = 90;

    public static IReadOnlyList<Parameter<ActuatorKind>> Parameters { get; } =
    [
        new()
        {
            Key = "opening_time", Quantity = Quantity.Duration, Default = 90, Lowest = 1, Highest = 600,
            Help = "time the actuator takes from shut to open",
            GetNumber = k => k.OpeningTimeS, SetNumber = (k, v) => k.OpeningTimeS = v,
        },
    ];
}
