// Changes of direction of a curve that are larger than an amplitude, with their times. Never counts noise: a turn counts once it has gone back by the amplitude.
namespace RoomSupervisor.Parts.Tests.Days;

internal sealed class Swings(double amplitude)
{
    private readonly List<double> turns = [];
    private double extreme = double.NaN;
    private int direction;

    public int Count => turns.Count;

    public void Add(double second, double value)
    {
        if (double.IsNaN(extreme) || (direction == 0 && Math.Abs(value - extreme) < amplitude))
        {
            extreme = double.IsNaN(extreme) ? value : extreme;
            return;
        }
        if (direction == 0)
            (direction, extreme) = (Math.Sign(value - extreme), value);
        else if (direction * (value - extreme) > 0)
            extreme = value;
        else if (Math.Abs(value - extreme) >= amplitude)
        {
            (direction, extreme) = (-direction, value);
            turns.Add(second);
        }
    }

    /// <summary>What follows is another stretch: the water that starts to flow turns nothing.</summary>
    public void Break() => (direction, extreme) = (0, double.NaN);

    /// <summary>Turns within the hour that ends here.</summary>
    public int Within(double second, double hourS = 3600)
    {
        var count = 0;
        for (var i = turns.Count - 1; i >= 0 && turns[i] > second - hourS; i--)
            count += turns[i] <= second ? 1 : 0;
        return count;
    }

    /// <summary>The hour before this second has the most turns.</summary>
    public double WorstAt => turns.Count == 0 ? double.NaN : turns.MaxBy(turn => Within(turn));

    public int MostInAnHour() => DayMath.MostInAnHour(turns);
}

internal static class DayMath
{
    /// <summary>Most of these times, in order, within any hour.</summary>
    public static int MostInAnHour(List<double> times)
    {
        var (most, first) = (0, 0);
        for (var last = 0; last < times.Count; last++)
        {
            while (times[last] - times[first] >= 3600)
                first++;
            most = Math.Max(most, last - first + 1);
        }
        return most;
    }
}
