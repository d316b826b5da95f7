// From a step of an input and what came of it to a small model: first order with dead time, or for a room, whose air goes on falling for as long as a test may last, an integrator with lag and dead time. Least
// squares over the whole record, drift before the step taken out. Must never hide how badly a model fits.
namespace RoomSupervisor.Desk.Tuning;

/// <summary>One sample of a test.</summary>
/// <param name="AtS">Time, s.</param>
/// <param name="Input">What was set.</param>
/// <param name="Output">What was measured.</param>
public readonly record struct TestSample(double AtS, double Input, double Output);

/// <summary>A model of first order with dead time: gain·(1 − e^(−(t − dead)/lag)) after a step of 1; for an integrator gain is its slope a second: gain·(t − dead − lag·(1 − e^…)).</summary>
/// <param name="Gain">Unit of output a unit of input; for an integrator that a second.</param>
/// <param name="DeadS">Dead time, s.</param>
/// <param name="LagS">Time constant, s; 0: none.</param>
/// <param name="Integrates">True for an integrator.</param>
/// <param name="ErrorShare">Root mean square of what the model leaves over, as a share of the response's range: 0 fits exactly.</param>
public readonly record struct ProcessModel(double Gain, double DeadS, double LagS, bool Integrates, double ErrorShare)
{
    /// <summary>Response to a step of 1 at time 0.</summary>
    public double StepResponse(double atS)
    {
        var t = atS - DeadS;
        if (t <= 0)
            return 0;
        var decay = LagS > 0 ? Math.Exp(-t / LagS) : 0;
        return Integrates ? Gain * (t - LagS * (1 - decay)) : Gain * (1 - decay);
    }
}

/// <summary>Fits a step.</summary>
public static class StepFit
{
    private const int Coarse = 40, Rounds = 6;

    /// <summary>Fits a model; null: there is no response to fit, or too few samples.</summary>
    /// <param name="samples">In order of time; the input changes once, from its first value to its last.</param>
    /// <param name="integrates">True to fit an integrator.</param>
    /// <param name="leastDeadS">Dead time that is surely there, s.</param>
    public static ProcessModel? Fit(IReadOnlyList<TestSample> samples, bool integrates, double leastDeadS = 0)
    {
        ArgumentNullException.ThrowIfNull(samples);
        if (samples.Count < 12)
            return null;
        var step = samples[^1].Input - samples[0].Input;
        var at = samples.First(sample => sample.Input == samples[^1].Input).AtS;
        var before = samples.Where(sample => sample.AtS <= at).ToArray();
        var after = samples.Where(sample => sample.AtS >= at).ToArray();
        if (step == 0 || before.Length < 2 || after.Length < 10)
            return null;
        var span = after[^1].AtS - at;
        var (start, drift) = Line(before, at);
        var data = after.Select(sample => (T: sample.AtS - at, Y: sample.Output - start - drift * (sample.AtS - at))).ToArray();
        return Search(data, step, span, integrates, leastDeadS);
    }

    /// <summary>A grid over dead time and lag, then finer and finer around the best.</summary>
    private static ProcessModel? Search((double T, double Y)[] data, double step, double span, bool integrates, double leastDeadS)
    {
        var range = data.Max(one => one.Y) - data.Min(one => one.Y);
        if (!(range > 0))
            return null;
        var (deadLow, deadHigh, lagLow, lagHigh) = (leastDeadS, 0.6 * span, 0.0, 0.8 * span);
        var best = default(ProcessModel);
        var bestSum = double.PositiveInfinity;
        for (var round = 0; round < Rounds; round++)
        {
            for (var i = 0; i <= Coarse; i++)
            {
                for (var j = 0; j <= Coarse; j++)
                {
                    var (dead, lag) = (deadLow + i * (deadHigh - deadLow) / Coarse, lagLow + j * (lagHigh - lagLow) / Coarse);
                    var sum = Leaves(data, dead, lag, integrates, out var slope);
                    if (sum < bestSum)
                        (bestSum, best) = (sum, new ProcessModel(slope / step, dead, lag, integrates, Math.Sqrt(sum / data.Length) / range));
                }
            }
            var (deadWidth, lagWidth) = (2 * (deadHigh - deadLow) / Coarse, 2 * (lagHigh - lagLow) / Coarse);
            (deadLow, deadHigh) = (Math.Max(leastDeadS, best.DeadS - deadWidth), best.DeadS + deadWidth);
            (lagLow, lagHigh) = (Math.Max(0, best.LagS - lagWidth), best.LagS + lagWidth);
        }
        return best.Gain == 0 ? null : best;
    }

    /// <summary>Sum of squares that the best gain for this dead time and lag leaves over.</summary>
    private static double Leaves((double T, double Y)[] data, double dead, double lag, bool integrates, out double slope)
    {
        var unit = new ProcessModel(1, dead, lag, integrates, 0);
        double xx = 0, xy = 0, yy = 0;
        foreach (var (t, y) in data)
        {
            var x = unit.StepResponse(t);
            (xx, xy, yy) = (xx + x * x, xy + x * y, yy + y * y);
        }
        slope = xx > 0 ? xy / xx : 0;
        return Math.Max(0, yy - slope * xy);
    }

    /// <summary>Straight line through what came before the step: its value at the step, and its slope.</summary>
    internal static (double AtStep, double Slope) Line(TestSample[] before, double at)
    {
        var (meanT, meanY) = (before.Average(one => one.AtS), before.Average(one => one.Output));
        double tt = 0, ty = 0;
        foreach (var one in before)
        {
            tt += (one.AtS - meanT) * (one.AtS - meanT);
            ty += (one.AtS - meanT) * (one.Output - meanY);
        }
        var slope = tt > 0 ? ty / tt : 0;
        return (meanY + slope * (at - meanT), slope);
    }
}
