// Section 4, rule 6: what people hear of a fan. Counts a start, a stop and a change of direction of 3 dB and more; a steady fade counts once. Only counts,
// never changes a fan.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Audible changes of a coil's fan.</summary>
internal static class Audible
{
    /// <summary>Ratio of speeds that makes 3 dB: 10^(3/50).</summary>
    private const double HeardRatio = 1.1481536214968828;

    /// <summary>Looks at a fan after its speed is decided.</summary>
    /// <param name="dt">Time since the last scan, s.</param>
    /// <param name="stage">Stage of the room that leads it: in pull-down, warm-up, easing-off and opening nothing counts.</param>
    /// <param name="before">Speed of the scan before, percent.</param>
    /// <param name="kicks">True during the start kick, which belongs to the start.</param>
    /// <param name="m">Its memory with the new speed.</param>
    public static void Step(double dt, Stage stage, double before, bool kicks, ref CoilMemory m)
    {
        m.Heard.Pass(dt);
        var counts = stage is not (Stage.PullDown or Stage.WarmUp or Stage.EasingOff or Stage.Opening);
        var now = m.FanPercent;
        if (now > 0 != before > 0)
        {
            (m.HeardPercent, m.HeardDirection) = (0, 1);   // a rise that goes on from a start is the same change
            if (counts)
                m.Heard.Add();
        }
        if (now <= 0)
            return;
        if (!counts)
            (m.HeardPercent, m.HeardDirection) = (now, 0);
        else if (kicks || m.HeardPercent <= 0)
            m.HeardPercent = now;
        else
            Follow(now, ref m);
    }

    /// <summary>The extreme goes with a steady fade; 3 dB back from it, or away from a steady speed, is heard.</summary>
    private static void Follow(double now, ref CoilMemory m)
    {
        var direction = now >= m.HeardPercent * HeardRatio ? 1 : now * HeardRatio <= m.HeardPercent ? -1 : 0;
        var goesOn = m.HeardDirection > 0 ? now > m.HeardPercent : m.HeardDirection < 0 && now < m.HeardPercent;
        if (!goesOn && direction == 0)
            return;
        if (!goesOn && direction != m.HeardDirection)
        {
            m.HeardDirection = (sbyte)direction;
            m.Heard.Add();
        }
        m.HeardPercent = now;
    }
}
