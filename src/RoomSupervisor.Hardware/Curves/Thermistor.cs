// Thermistors whose resistance falls with temperature (NTC). Pure.
// It must never be trusted far from the temperatures its numbers were taken at: a beta is good to some tenths of a kelvin from 0 to 60 °C.
// Source: beta: IEC 60539-1, B = ln(R1/R2) / (1/T1 - 1/T2); three numbers: Steinhart and Hart, Deep-Sea Research 15 (1968) 497: 1/T = a + b ln R + c (ln R)³.
namespace RoomSupervisor.Hardware.Curves;

/// <summary>A thermistor by Steinhart and Hart's equation; a beta is the case c = 0.</summary>
public sealed class Thermistor : IResistanceCurve
{
    private const double ZeroC = 273.15;
    private readonly double a, b, c;

    /// <param name="a">Of 1/T = a + b ln R + c (ln R)³, 1/K with R in Ω.</param>
    /// <param name="b">Above 0.</param>
    /// <param name="c">0 or above.</param>
    public Thermistor(double a, double b, double c) => (this.a, this.b, this.c) = (a, b, c);

    /// <inheritdoc/>
    public double LowestC => -30;

    /// <inheritdoc/>
    public double HighestC => 120;

    /// <summary>By resistance at 25 °C and beta.</summary>
    /// <param name="ohmsAt25">Ω, above 0.</param>
    /// <param name="beta">K, 2,000 to 6,000.</param>
    public static Thermistor OfBeta(double ohmsAt25, double beta) => new(1 / (25 + ZeroC) - Math.Log(ohmsAt25) / beta, 1 / beta, 0);

    /// <summary>Through three points of its table, at temperatures that differ.</summary>
    /// <exception cref="ArgumentException">No curve that falls goes through them.</exception>
    public static Thermistor Through((double TemperatureC, double Ohms) first, (double TemperatureC, double Ohms) second, (double TemperatureC, double Ohms) third)
    {
        double l1 = Math.Log(first.Ohms), l2 = Math.Log(second.Ohms), l3 = Math.Log(third.Ohms);
        double y1 = 1 / (first.TemperatureC + ZeroC), y2 = 1 / (second.TemperatureC + ZeroC), y3 = 1 / (third.TemperatureC + ZeroC);
        double g2 = (y2 - y1) / (l2 - l1), g3 = (y3 - y1) / (l3 - l1);
        var c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3);
        var b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
        if (!(b > 0 && c >= 0))
            throw new ArgumentException("no thermistor has such a table: resistance falls evenly with temperature");
        return new Thermistor(y1 - (b + l1 * l1 * c) * l1, b, c);
    }

    /// <inheritdoc/>
    public double TemperatureC(double ohms)
    {
        var l = Math.Log(ohms);
        return 1 / (a + l * (b + c * l * l)) - ZeroC;
    }

    /// <inheritdoc/>
    public double Ohms(double temperatureC)
    {
        var wanted = 1 / (temperatureC + ZeroC) - a;
        var l = wanted / b;
        // Newton's way on a line with a small cube: to the last digit in a few steps.
        for (var step = 0; c > 0 && step < 20; step++)
            l -= (l * (b + c * l * l) - wanted) / (b + 3 * c * l * l);
        return Math.Exp(l);
    }
}
