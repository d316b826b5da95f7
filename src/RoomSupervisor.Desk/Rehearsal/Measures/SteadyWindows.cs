// Control accuracy in steady half hours: |mean error| + half the swing of the true air. Must never count a window with a door, a change of the wanted
// band, or a pull-down in it or in the half hour before.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>Collects half-hour windows in which a room is held.</summary>
public sealed class SteadyWindows
{
    private const double WindowS = 1800, QuietBeforeS = 1800;

    private readonly List<double> still = [], moving = [];
    private double quietForS, inWindowS, sum, lowest = double.PositiveInfinity, highest = double.NegativeInfinity, wantedC = double.NaN, heatC = double.NaN;
    private bool changed, ran;

    /// <summary>Accuracy of windows without a start or stop of a fan, K.</summary>
    public IReadOnlyList<double> Without => still;

    /// <summary>Of windows with one, K.</summary>
    public IReadOnlyList<double> With => moving;

    /// <summary>The 90th percentile (nearest rank), K; NaN: no window.</summary>
    public static double Percentile90(IReadOnlyList<double> windows) => windows.Count == 0 ? double.NaN : windows.Order().ElementAt((int)Math.Ceiling(0.9 * windows.Count) - 1);

    /// <summary>One step.</summary>
    /// <param name="room">The room.</param>
    /// <param name="stepS">Length of the step, s.</param>
    public void Add(in RoomMoment room, double stepS)
    {
        var isHeld = !room.Open && room.Stage is Stage.RadiantHold or Stage.CoilHold or Stage.CoilHelps && !room.Open;
        if (!isHeld || room.CoolAboveC != wantedC || room.HeatBelowC != heatC)
        {
            (quietForS, wantedC, heatC) = (0, room.CoolAboveC, room.HeatBelowC);
            Begin(room);
            return;
        }
        quietForS += stepS;
        if (quietForS <= QuietBeforeS)
        {
            Begin(room);
            return;
        }
        // Held means held at an end of the band: at the upper one in cooling, at the lower one in heating.
        var end = Math.Abs(room.AirC - room.CoolAboveC) < Math.Abs(room.AirC - room.HeatBelowC) ? room.CoolAboveC : room.HeatBelowC;
        var error = room.AirC - end;
        inWindowS += stepS;
        sum += error * stepS;
        (lowest, highest) = (Math.Min(lowest, error), Math.Max(highest, error));
        changed |= room.FanPercent > 1 != ran;
        ran = room.FanPercent > 1;
        if (inWindowS < WindowS)
            return;
        (changed ? moving : still).Add(Math.Abs(sum / inWindowS) + (highest - lowest) / 2);
        Begin(room);
    }

    private void Begin(in RoomMoment room)
        => (inWindowS, sum, lowest, highest, changed, ran) = (0, 0, double.PositiveInfinity, double.NegativeInfinity, false, room.FanPercent > 1);
}
