// Platinum resistance thermometers, such as the PT1000. Pure.
// It must never be used outside -200 to 850 °C.
// Source: IEC 60751, the Callendar-Van Dusen equation: R = R0 (1 + A t + B t²), below 0 °C + C (t - 100) t³, with A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12.
namespace RoomSupervisor.Hardware.Curves;

/// <summary>A thermometer of platinum.</summary>
/// <param name="ohmsAtZero">Resistance at 0 °C: 1000 for a PT1000, 100 for a PT100.</param>
public sealed class PlatinumThermometer(double ohmsAtZero) : IResistanceCurve
{
    private const double A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12;
    // The step of Newton's way is under a millionth of a kelvin after the third, from the quadratic as the first guess.
    private const int Steps = 4;

    public static PlatinumThermometer Pt1000 { get; } = new(1000);

    /// <inheritdoc/>
    public double LowestC => -60;

    /// <inheritdoc/>
    public double HighestC => 180;

    /// <inheritdoc/>
    public double Ohms(double temperatureC) => ohmsAtZero * Ratio(temperatureC);

    /// <inheritdoc/>
    public double TemperatureC(double ohms)
    {
        var ratio = ohms / ohmsAtZero;
        var t = (-A + Math.Sqrt(A * A - 4 * B * (1 - ratio))) / (2 * B);
        for (var step = 0; ratio < 1 && step < Steps; step++)
            t -= (Ratio(t) - ratio) / (A + 2 * B * t + C * t * t * (4 * t - 300));
        return t;
    }

    private static double Ratio(double t) => 1 + t * (A + B * t) + (t < 0 ? C * (t - 100) * t * t * t : 0);
}
