// Section 4, rule 5: a stepped fan. The step is decided here and not by the relays' driver, so that reasons, limits and what people hear are those of the real
// step. Must never take a step over a limit.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>From a speed to the step of a stepped fan.</summary>
internal static class FanSteps
{
    /// <summary>
    /// The step for a speed that every limit allows. A step is left for the next one when the wish comes within the hysteresis of it, or within a third of the
    /// gap where steps lie close: a wish that wanders between two steps changes nothing. A lower limit is met at once.
    /// </summary>
    public static Command Of(in Scan scan, Coil coil, in Command wish, ref CoilMemory m)
    {
        var steps = coil.Kind.StepsPercent;
        m.StepForS += scan.Dt;
        if (wish.Value <= 0)
        {
            m.FanStep = 0;
            return wish;
        }
        var step = Math.Min((int)m.FanStep, HighestUnder(steps, m.CapPercent));
        if (step == 0)
            step = 1;   // a wish over 0 is at least the first step
        else if (step == m.FanStep && m.StepForS >= scan.Settings.StepWaitS)
            step = Next(scan, steps, step, wish.Value, m.CapPercent);
        if (step != m.FanStep)
            m.StepForS = 0;
        m.FanStep = (byte)step;
        var speed = steps[step - 1];
        return Math.Abs(speed - wish.Value) < Tiny ? wish with { Value = speed } : new Command(speed, Reason.Of(Cause.NearestStep, speed, wish.Value), wish.Binding, 0);
    }

    /// <summary>33.3 % asked as a third is that step.</summary>
    private const double Tiny = 1e-6;

    private static int Next(in Scan scan, IReadOnlyList<double> steps, int step, double wish, double cap)
    {
        var now = steps[step - 1];
        if (step < steps.Count && steps[step] <= cap + Tiny && wish >= steps[step] - Band(scan, steps[step] - now))
            return step + 1;
        return step > 1 && wish <= steps[step - 2] + Band(scan, now - steps[step - 2]) ? step - 1 : step;
    }

    private static double Band(in Scan scan, double gap) => Math.Min(scan.Settings.StartHysteresisPercent, gap / 3);

    private static int HighestUnder(IReadOnlyList<double> steps, double percent)
    {
        var highest = 0;
        for (var i = 0; i < steps.Count; i++)
        {
            if (steps[i] <= percent + Tiny)
                highest = i + 1;
        }
        return highest;
    }
}
