// A fan with a relay a speed: the nearest step at or under what is asked, never above it. One relay at a time; all off for a moment
// between two, because two windings at once burn the motor.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>Steps of one fan.</summary>
/// <param name="speedsPercent">Speeds, percent of full speed, rising.</param>
/// <param name="pauseS">All relays off between two steps, s.</param>
internal sealed class SteppedFan(IReadOnlyList<double> speedsPercent, double pauseS)
{
    /// <summary>A wish that hovers at a step must not switch to and fro: it goes up a little later, percent of full speed. Going down is at once: it is a limit.</summary>
    private const double UpLaterPercent = 2;

    private double pauseLeftS;

    /// <summary>Step whose relay is on, from 1; 0: none.</summary>
    public int On { get; private set; }

    /// <summary>How often a relay has been switched on.</summary>
    public long Starts { get; private set; }

    /// <summary>Moves on and gives the step whose relay is on.</summary>
    public int Step(double askedPercent, double stepS)
    {
        pauseLeftS = Math.Max(0, pauseLeftS - stepS);
        var wish = StepFor(askedPercent);
        if (wish > On && On > 0 && wish < speedsPercent.Count && askedPercent < speedsPercent[wish - 1] + UpLaterPercent)
            wish = On;
        if (wish == On)
            return On;
        if (On > 0)
        {
            On = 0;
            pauseLeftS = wish > 0 ? pauseS : 0;
            return 0;
        }
        if (pauseLeftS > 0)
            return 0;
        Starts++;
        return On = wish;
    }

    private int StepFor(double askedPercent)
    {
        var step = 0;
        for (var i = 0; i < speedsPercent.Count; i++)
        {
            // A step that is asked for by its own figure is that step, whatever the last bit says.
            if (askedPercent >= speedsPercent[i] - 1e-6)
                step = i + 1;
        }
        return step;
    }
}
