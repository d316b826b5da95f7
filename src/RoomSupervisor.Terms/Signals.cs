// From percent to volts: what an output's percent means on the wire. Percent of a fan is percent of full SPEED, never of volts.
namespace RoomSupervisor.Terms;

/// <summary>
/// A straight line between a command in percent and a control voltage. A fan starts turning at its start voltage with its start speed;
/// a valve starts at 0 V with 0 %. Zero percent is the rest voltage: 0 V, except for an actuator whose signal begins above it.
/// </summary>
/// <param name="StartVoltageV">Volts at <paramref name="StartPercent"/>, 0–10 V.</param>
/// <param name="StartPercent">Percent reached there, 0–100 %.</param>
/// <param name="FullVoltageV">Volts at 100 %, above the start voltage.</param>
/// <param name="RestVoltageV">Volts at 0 %, up to the start voltage: 2 V for a 2–10 V actuator, for which 0 V is a broken wire.</param>
public readonly record struct VoltageLine(double StartVoltageV, double StartPercent, double FullVoltageV, double RestVoltageV = 0)
{
    /// <summary>0 V = 0 %, 10 V = 100 %.</summary>
    public static VoltageLine ZeroToTen { get; } = new(0, 0, 10);

    /// <summary>2 V = 0 %, 10 V = 100 %, never below 2 V.</summary>
    public static VoltageLine TwoToTen { get; } = new(2, 0, 10, 2);

    /// <summary>Volts for a command; the rest voltage at or below 0 %, never above the full voltage. NaN counts as 0 %.</summary>
    public double VoltsFor(double percent)
    {
        if (!(percent > 0))
            return RestVoltageV;
        var share = StartPercent >= 100 ? 1 : (percent - StartPercent) / (100 - StartPercent);
        return Math.Clamp(StartVoltageV + share * (FullVoltageV - StartVoltageV), RestVoltageV, FullVoltageV);
    }
}
