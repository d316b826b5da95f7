// What is heard of a room's fans: starts, stops, changes of direction of 3 dB; a steady fade counts once. Must never count a pull-down or an open door.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>Audible changes by section 4, rule 6 of the sequence of operation, worked out from the true speed.</summary>
public sealed class HeardFan
{
    /// <summary>A kick (section 4, rule 5) and the run-down from it belong to the start: who hears the fan start does not hear it start and slow down. Ten seconds (project choice).</summary>
    private const double HeardDb = 3, StandsPercent = 3, HourS = 3600, StartForS = 10;

    private readonly Queue<double> recent = new();
    private double extremeDb = double.NaN, startedAtS = double.NegativeInfinity;
    private int direction;
    private bool ran;

    /// <summary>All so far.</summary>
    public int Count { get; private set; }

    /// <summary>Most within any hour.</summary>
    public int MostInAnHour { get; private set; }

    /// <summary>One step.</summary>
    /// <param name="room">The room.</param>
    /// <param name="atS">Second of the run.</param>
    public void Add(in RoomMoment room, double atS)
    {
        var counts = room.Stage is not (Stage.PullDown or Stage.EasingOff or Stage.Opening or Stage.WarmUp) && !room.Open;
        var runs = room.FanPercent > StandsPercent;
        if (runs != ran)
        {
            (ran, extremeDb, direction, startedAtS) = (runs, double.NaN, 0, atS);
            if (counts)
                Heard(atS);
        }
        if (!runs)
            return;
        var level = 50 * Math.Log10(room.FanPercent);
        if (!counts || double.IsNaN(extremeDb) || atS < startedAtS + StartForS)
            (extremeDb, direction) = (level, 0);
        else
            Turn(level, atS);
    }

    private void Turn(double level, double atS)
    {
        var goesOn = direction == 0 || (direction > 0 ? level >= extremeDb : level <= extremeDb);
        if (Math.Abs(level - extremeDb) < HeardDb)
        {
            if (goesOn && direction != 0)
                extremeDb = level;
            return;
        }
        // A first departure by 3 dB, or a turn by as much; going on in the same direction is one fade.
        if (direction == 0 || !goesOn)
            Heard(atS);
        (direction, extremeDb) = (goesOn && direction != 0 ? direction : Math.Sign(level - extremeDb), level);
    }

    private void Heard(double atS)
    {
        Count++;
        recent.Enqueue(atS);
        while (recent.Peek() <= atS - HourS)
            recent.Dequeue();
        MostInAnHour = Math.Max(MostInAnHour, recent.Count);
    }
}
