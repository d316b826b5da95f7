// What one input of the converter means: volts of a transmitter, or the resistance of a thermometer in a divider; with what each value beyond
// belief says of the wires. Pure. It must never take a broken wire for a temperature.
using RoomSupervisor.Hardware.Curves;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A value, or why there is none.</summary>
/// <param name="Value">In the base unit of the channel's quantity.</param>
/// <param name="Problem">"" when the value counts.</param>
internal readonly record struct AnalogValue(double Value, string Problem);

/// <summary>One input of the converter.</summary>
internal abstract class AnalogChannel(int input, double highestChipV)
{
    /// <summary>0 to 3.</summary>
    public int Input => input;

    /// <summary>Most volts the chip may see there.</summary>
    public double HighestChipV => highestChipV;

    /// <summary>The value for volts at the chip.</summary>
    /// <param name="volts">Volts at the chip.</param>
    /// <param name="referenceV">Volts over thermometer and series resistor together.</param>
    public abstract AnalogValue Of(double volts, double referenceV);
}

/// <summary>A transmitter that gives volts, through a divider.</summary>
internal sealed class VoltageInput(int input, double divider, (double LowV, double HighV) span, (double AtLow, double AtHigh) values)
    : AnalogChannel(input, span.HighV * Over / divider)
{
    private const double Over = 1.06, UnderZeroV = -0.2;
    // A transmitter whose zero lives (2-10 V) gives less than it only when its wire is broken: NAMUR NE 43 has 3.6 of 4 mA, 0.9.
    private const double LivingZero = 0.9;

    public override AnalogValue Of(double volts, double referenceV)
    {
        var terminal = volts * divider;
        if (terminal < UnderZeroV)
            return new AnalogValue(double.NaN, "the voltage is below nought: wires are swapped");
        if (terminal < span.LowV * LivingZero)
            return new AnalogValue(double.NaN, "the voltage is below the lowest the transmitter gives: wire broken, or transmitter without power");
        if (terminal > span.HighV + (Over - 1) * 0.8 * span.HighV)
            return new AnalogValue(double.NaN, "the voltage is above the highest the transmitter gives: wrong wire, or ground missing");
        return new AnalogValue(values.AtLow + (terminal - span.LowV) / (span.HighV - span.LowV) * (values.AtHigh - values.AtLow), "");
    }
}

/// <summary>A resistance thermometer from the input to ground, a resistor from it to the reference voltage.</summary>
internal sealed class ThermometerInput(int input, IResistanceCurve curve, double seriesOhms, double leadOhms, double referenceV) : AnalogChannel(input, referenceV * 1.02)
{
    // Tolerance of resistor and reference beyond the ends of the curve.
    private const double Slack = 0.03;
    private readonly double lowestOhms = Math.Min(curve.Ohms(curve.LowestC), curve.Ohms(curve.HighestC)) * (1 - Slack);
    private readonly double highestOhms = Math.Max(curve.Ohms(curve.LowestC), curve.Ohms(curve.HighestC)) * (1 + Slack);

    public override AnalogValue Of(double volts, double reference)
    {
        var ohms = volts < reference ? seriesOhms * volts / (reference - volts) - leadOhms : double.PositiveInfinity;
        if (ohms > highestOhms)
            return new AnalogValue(double.NaN, "wire broken, or no sensor: the resistance is above any the sensor can have");
        if (ohms < lowestOhms)
            return new AnalogValue(double.NaN, "short circuit: the resistance is below any the sensor can have");
        return new AnalogValue(curve.TemperatureC(ohms), "");
    }
}
