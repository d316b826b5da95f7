// From what a mixing valve does to its water to the two gains of rule 6.3, and how the loop would answer with any two gains: the model's response is played, not guessed. Must never propose what the sequence would
// not do: gains are shared by all mixed loops and lessened over 7 K of difference.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>Gains of a mixing valve as site.yaml has them.</summary>
/// <param name="PercentPerK"><c>mixing_gain</c>, %/K.</param>
/// <param name="PercentPerKS"><c>mixing_integral</c>, %/(K·s).</param>
public readonly record struct MixingGains(double PercentPerK, double PercentPerKS)
{
    /// <summary>Those of a house.</summary>
    public static MixingGains Of(SequenceSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return new MixingGains(settings.MixingGainPercentPerK, settings.MixingIntegralPercentPerKS);
    }
}

/// <summary>How a loop answers.</summary>
/// <param name="TimesS">Times, s.</param>
/// <param name="Values">Water's error, K: 1 K of disturbance at time 0.</param>
/// <param name="SettlesS">Time after which it stays within a tenth, s; infinite: it does not.</param>
/// <param name="OvershootK">How far it passes to the other side, K.</param>
/// <param name="SquareKKs">Sum of squared error over time, K²·s.</param>
public sealed record LoopAnswer(IReadOnlyList<double> TimesS, IReadOnlyList<double> Values, double SettlesS, double OvershootK, double SquareKKs);

/// <summary>Tuning of a mixing valve.</summary>
public static class MixingRule
{
    /// <summary>Difference between source and return for which the sequence's gains are meant, K (rule 6.3).</summary>
    public const double MeantForK = 7;

    /// <summary>A water sensor's pocket and filter, s, which the sequence lets pass as well (rule 6.3).</summary>
    private const double SensorS = 15;

    /// <summary>More proportional gain than this only moves the valve with the noise of its sensor, %/K (project choice: 0.05 K then moves it by a tenth of a percent, far under its dead band).</summary>
    private const double MostPercentPerK = 2;

    /// <summary>Share of the gains that the sequence uses at a difference.</summary>
    public static double ShareAt(double differenceK) => Math.Min(1, MeantForK / Math.Max(differenceK, 1e-6));

    /// <summary>
    /// Gains for a model, by internal model control as Skogestad simplified it (J. Process Control 13, 2003, from memory): gain lag/(K·(c + dead)), integral time the lag, so that the integral gain is 1/(K·(c + dead)). c is
    /// chosen so that integral gain × dead time is 1/e of the plant's: a dead time with an integrator then just does not overshoot, which is what the shipped numbers are made for.
    /// </summary>
    /// <param name="model">First order with dead time, K of water a % of stroke; the sign does not count.</param>
    /// <param name="differenceK">Between source and return during the test, K. A percent moves the water by a hundredth of it: the gain is taken to the 7 K from which on the sequence lessens its own.</param>
    /// <param name="why">Why there is no proposal.</param>
    public static MixingGains? Propose(in ProcessModel model, double differenceK, out string why)
    {
        why = "";
        var gain = Math.Abs(model.Gain) * MeantForK / Math.Max(differenceK, 1e-6);
        if (!(gain > 1e-4) || model.Integrates)
        {
            why = "the water did not follow the valve";
            return null;
        }
        var dead = Math.Max(model.DeadS, 1);
        var integral = 1 / (Math.E * gain * dead);
        // A pipe that only delays has next to no lag: no proportional part then, as a step of the error would come back a dead time later.
        var proportional = integral * Math.Min(model.LagS, 4 * Math.E * dead);
        var (p, i) = (Math.Min(MostPercentPerK, Limit("mixing_gain", proportional)), Limit("mixing_integral", integral));
        return new MixingGains(Math.Round(p, 2), Round(i));
    }

    /// <summary>How the loop answers a kelvin of disturbance at the valve: model, dead band, stroke and the sequence's law.</summary>
    /// <param name="model">The model.</param>
    /// <param name="gains">The gains.</param>
    /// <param name="differenceK">Between source and return, K.</param>
    /// <param name="strokeS">Time of a full stroke, s.</param>
    /// <param name="deadBandPercent">Smallest move, %.</param>
    /// <param name="forS">Length, s.</param>
    public static LoopAnswer Answer(in ProcessModel model, MixingGains gains, double differenceK, double strokeS, double deadBandPercent, double forS)
    {
        var share = ShareAt(differenceK);
        var gain = Math.Abs(model.Gain);
        var line = new double[Math.Max(1, (int)Math.Round(model.DeadS))];
        var (valve, integral, water, square) = (0.0, 0.0, 0.0, 0.0);
        List<double> times = [], values = [];
        for (var s = 0; s <= forS; s++)
        {
            var late = line[s % line.Length];
            line[s % line.Length] = valve;
            // The disturbance comes the same way as the valve's water.
            water += (1 - gain * late - water) * (model.LagS > 0.5 ? 1 - Math.Exp(-1 / model.LagS) : 1);
            integral += share * gains.PercentPerKS * water;
            var wish = share * gains.PercentPerK * water + integral;
            if (Math.Abs(wish - valve) >= deadBandPercent)
                valve += Math.Clamp(wish - valve, -100 / strokeS, 100 / strokeS);
            square += water * water;
            times.Add(s);
            values.Add(water);
        }
        var last = values.FindLastIndex(value => Math.Abs(value) > 0.1 + deadBandPercent * gain);
        return new LoopAnswer(times, values, last >= values.Count - 1 ? double.PositiveInfinity : times[Math.Max(0, last)], Math.Max(0, -values.Min()), square);
    }

    /// <summary>Time the water takes to the supply sensor, s: dead time and lag less what is the sensor's own and what the valve took to move. <c>lag</c> of the loop must not be less, for the surfaces lie behind the sensor.</summary>
    /// <param name="model">The model.</param>
    /// <param name="movedForS">Time the valve took for the step, s.</param>
    public static double WayS(in ProcessModel model, double movedForS) => Math.Max(0, model.DeadS + Math.Max(0, model.LagS - SensorS) - movedForS / 2);

    private static double Limit(string key, double value)
    {
        var parameter = SequenceSettings.Parameters.First(one => one.Key == key);
        return Math.Clamp(value, parameter.Lowest, parameter.Highest);
    }

    private static double Round(double value) => value >= 0.1 ? Math.Round(value, 2) : Math.Round(value, 3);
}
