// A relay in the place of a controller (Åström and Hägglund, Automatica 20, 1984, from memory): the plant swings by itself at its ultimate period, and what comes back says its ultimate gain. Pure; must never swing
// wider than its two positions, and never call a swing steady that is not.
namespace RoomSupervisor.Desk.Tuning;

/// <summary>What a relay test found.</summary>
/// <param name="PeriodS">Period of the swing, s: that of the ultimate gain within a few percent.</param>
/// <param name="UltimateGain">Gain at which a proportional control would just swing, unit of input a unit of output: the first harmonics' ratio.</param>
/// <param name="ByPeaks">The same by the peaks, 4d/(π·√(a² − e²)): the textbook's describing function.</param>
/// <param name="Amplitude">Half of the swing from peak to peak, unit of output.</param>
/// <param name="MeanInput">Mean of the input over whole periods.</param>
/// <param name="MeanOutput">Mean of the output over whole periods.</param>
/// <param name="Swings">Whole periods that agreed.</param>
public readonly record struct RelayFound(double PeriodS, double UltimateGain, double ByPeaks, double Amplitude, double MeanInput, double MeanOutput, int Swings);

/// <summary>A relay with hysteresis.</summary>
/// <param name="middle">Output around which it swings.</param>
/// <param name="step">Half of the relay's step, unit of input, over 0.</param>
/// <param name="hysteresis">Output must pass the middle by so much; over the sensor's noise.</param>
/// <param name="risesWith">True where more input makes more output.</param>
public sealed class Relay(double middle, double step, double hysteresis, bool risesWith)
{
    /// <summary>Periods that must agree: enough to see that the swing has settled, few enough for a house.</summary>
    private const int Wanted = 3;

    /// <summary>Two periods agree within this share.</summary>
    private const double AgreesWithin = 0.08;

    private readonly List<(double AtS, double Output, double Input)> samples = [];
    private readonly List<double> rises = [];
    private bool isHigh = true;

    /// <summary>Input beside its middle now: plus or minus the step.</summary>
    public double Beside => isHigh ? step : -step;

    /// <summary>True once enough periods agree.</summary>
    public bool IsDone => Agreeing() >= Wanted;

    /// <summary>One sample; the answer is the input beside its middle from now on.</summary>
    /// <param name="atS">Time, s, rising.</param>
    /// <param name="output">Measured.</param>
    public double Step(double atS, double output)
    {
        var over = risesWith ? output - middle : middle - output;
        if (isHigh && over > hysteresis)
            isHigh = false;
        else if (!isHigh && over < -hysteresis)
        {
            isHigh = true;
            rises.Add(atS);
        }
        samples.Add((atS, output, Beside));
        return Beside;
    }

    /// <summary>What was found; null: too few periods agree.</summary>
    public RelayFound? Found()
    {
        var swings = Agreeing();
        if (swings < 2)
            return null;
        var (from, to) = (rises[^(swings + 1)], rises[^1]);
        var period = (to - from) / swings;
        var within = samples.Where(sample => sample.AtS >= from && sample.AtS < to).ToArray();
        var (low, high) = (within.Min(sample => sample.Output), within.Max(sample => sample.Output));
        var amplitude = (high - low) / 2;
        var omega = 2 * Math.PI / period;
        var ratio = Harmonic(within, omega, sample => sample.Input) / Harmonic(within, omega, sample => sample.Output);
        var under = amplitude * amplitude - hysteresis * hysteresis;
        var byPeaks = under > 0 ? 4 * step / (Math.PI * Math.Sqrt(under)) : double.NaN;
        return new RelayFound(period, ratio, byPeaks, amplitude, within.Average(sample => sample.Input), within.Average(sample => sample.Output), swings);
    }

    /// <summary>Amplitude of the first harmonic over whole periods.</summary>
    private static double Harmonic((double AtS, double Output, double Input)[] within, double omega, Func<(double AtS, double Output, double Input), double> of)
    {
        double sine = 0, cosine = 0;
        foreach (var sample in within)
        {
            sine += of(sample) * Math.Sin(omega * sample.AtS);
            cosine += of(sample) * Math.Cos(omega * sample.AtS);
        }
        return 2 * Math.Sqrt(sine * sine + cosine * cosine) / within.Length;
    }

    /// <summary>How many of the last periods agree with the last one.</summary>
    private int Agreeing()
    {
        if (rises.Count < 2)
            return 0;
        var last = rises[^1] - rises[^2];
        var count = 0;
        for (var i = rises.Count - 1; i > 0 && Math.Abs(rises[i] - rises[i - 1] - last) <= AgreesWithin * last; i--)
            count++;
        return count;
    }
}
