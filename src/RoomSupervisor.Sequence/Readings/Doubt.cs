// Section 1, rules 2 and 8: one sensor against what else is known of the same quantity: how long it has differed, and agreed again. Decides nothing about
// what follows.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Readings;

/// <summary>Differing and agreeing again.</summary>
internal static class Doubt
{
    /// <summary>Agreeing means this share of the limit (project choice): what sits at the edge is told once.</summary>
    private const double AgreesAt = 0.7;

    /// <summary>
    /// Counts; true when the sensor has become odd or ceased to be. A difference that is not known (NaN) leaves everything as it is.
    /// </summary>
    public static bool Changes(ref InputMemory m, double difference, double limit, double forS, double dt)
    {
        if (double.IsNaN(difference))
            return false;
        Blocks.Hold(ref m.OddForS, difference > limit, dt);
        Blocks.Hold(ref m.AgreesForS, difference <= AgreesAt * limit, dt);
        var now = m.Odd ? m.AgreesForS < forS : m.OddForS >= forS;
        if (now == m.Odd)
            return false;
        m.Odd = now;
        m.OddForS = 0;
        m.AgreesForS = 0;
        return true;
    }

    /// <summary>
    /// What a sensor says now whether it is used or not; NaN when it says nothing that can be believed for itself.
    /// </summary>
    public static double Says(in Scan scan, int input)
    {
        if (input < 0)
            return double.NaN;
        ref readonly var m = ref scan.Memory.Inputs[input];
        return m.Has && m.Bad == Cause.None && m.AgeS <= scan.House.Inputs[input].Sensor.IntervalS + scan.Settings.KeepLastGoodS ? m.Filtered : double.NaN;
    }
}
