// The plant behind the control socket of a running controller: points are asked for, hand values are set with an end. Must never speak to a device itself, nor keep a hand value alive that nobody renews.
using System.Globalization;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>A running controller.</summary>
/// <param name="house">Its house, as its files say.</param>
/// <param name="client">The connection.</param>
/// <param name="time">Clock.</param>
/// <param name="again">Finds the run again after a cut; null when it is not there yet.</param>
/// <param name="stop">Ends the walk.</param>
public sealed class SocketPlant(House house, ControlClient client, TimeProvider time, Func<ControlClient?> again, CancellationToken stop) : IWalkPlant
{
    /// <summary>An answer counts this long, s.</summary>
    private const double FreshS = 0.4;

    private readonly long began = time.GetTimestamp();
    private ControlClient run = client;
    private PointsNow? now;
    private double askedS = double.NegativeInfinity;

    /// <inheritdoc/>
    public House House => house;

    /// <inheritdoc/>
    public double ElapsedS => time.GetElapsedTime(began).TotalSeconds;

    /// <inheritdoc/>
    public DateTime Utc => time.GetUtcNow().UtcDateTime;

    /// <inheritdoc/>
    public bool IsVirtual => false;

    /// <inheritdoc/>
    public InputNow Input(int index) => Points().Input(index);

    /// <inheritdoc/>
    public OutputNow Output(int index) => Points().Output(index);

    /// <inheritdoc/>
    public bool Set(int output, double value, double forS, bool below = false)
    {
        var point = house.OutputTable[output];
        var text = point.IsSwitch ? value > 0.5 ? "on" : "off" : string.Create(CultureInfo.InvariantCulture, $"{value:0.######} %");
        List<(string, string)> keys = [("point", point.Id), ("value", text), ("for", string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(forS)} s"))];
        if (below)
            keys.Add(("below_start", "yes"));
        askedS = double.NegativeInfinity;
        try
        {
            using var answer = run.Ask("set", keys);
            return answer.RootElement.GetProperty("holds").GetBoolean();
        }
        catch (ControlException e)
        {
            throw new SkipStepException(e.Message);
        }
    }

    /// <inheritdoc/>
    public void End(int output)
    {
        askedS = double.NegativeInfinity;
        using var answer = run.Ask("end", ("point", house.OutputTable[output].Id));
    }

    /// <inheritdoc/>
    public void Wait(double seconds)
    {
        if (stop.WaitHandle.WaitOne(TimeSpan.FromSeconds(seconds)))
            throw new StopWalkException("ended as told");
    }

    /// <inheritdoc/>
    public bool Reconnect(double withinS)
    {
        for (var waitedS = 0.0; waitedS <= withinS; waitedS += 5)
        {
            askedS = double.NegativeInfinity;
            try
            {
                Points();
                return true;
            }
            catch (Exception e) when (e is ControlLostException or ControlException)
            {
                Wait(5);
                if (again() is { } found)
                {
                    run.Dispose();
                    run = found;
                }
            }
        }
        return false;
    }

    private PointsNow Points()
    {
        if (now is not null && ElapsedS - askedS < FreshS)
            return now;
        using var answer = run.Ask("points");
        askedS = ElapsedS;
        return now = PointsNow.Of(house, answer.RootElement);
    }
}
