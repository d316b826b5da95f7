// A relay a speed out of a fan speed in percent. Must never run faster than asked: a cap on noise is a cap.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>Chooses the step at or under the asked speed; breaks before it makes, with a pause.</summary>
/// <param name="stepsPercent">Speeds, percent of full speed, rising; step 1 is the first.</param>
/// <param name="pauseS">All steps off for this long between two, s.</param>
public sealed class SpeedSteps(IReadOnlyList<double> stepsPercent, double pauseS)
{
    // 33.3 % asked as a third is that step.
    private const double Tiny = 1e-6;

    // An array: enumerating a list behind an interface would allocate each scan.
    private readonly double[] steps = [.. stepsPercent];
    private double offSinceS = double.NaN;

    /// <summary>The step that is on from the last call until the next; 0: none.</summary>
    public int Now { get; private set; }

    /// <summary>Decides the step from now until the next call.</summary>
    /// <param name="percent">Speed asked for; no number counts as 0.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    public int Step(double percent, double nowS)
    {
        // At start nobody knows which step a module has on.
        if (double.IsNaN(offSinceS))
            offSinceS = nowS;
        var wanted = AtOrUnder(steps, percent);
        if (Now != 0 && wanted != Now)
            (Now, offSinceS) = (0, nowS);
        if (Now == 0 && nowS - offSinceS >= pauseS - Tiny)
            Now = wanted;
        return Now;
    }

    /// <summary>The highest step at or under a speed, from 1; 0 where all are above it.</summary>
    public static int AtOrUnder(IReadOnlyList<double> stepsPercent, double percent)
    {
        var step = 0;
        for (var i = 0; i < stepsPercent.Count; i++)
        {
            if (stepsPercent[i] <= percent + Tiny)
                step = i + 1;
        }
        return step;
    }
}
