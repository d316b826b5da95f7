// One output in a test's hand, within guard rails looked at in every sample: what protects, how far the plant may swing, how long. However it ends, the hand value is taken back and the sequence decides again.
// Must never go on a second after a rail is touched.
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>A test was ended by a rail or by somebody; the message says why. The old values are back.</summary>
public sealed class TestEndedException(string message) : Exception(message);

/// <summary>Holds one output.</summary>
/// <param name="plant">The plant.</param>
/// <param name="point">The output.</param>
/// <param name="rails">What is wrong in a scan; null: nothing.</param>
/// <param name="everyS">Time between two samples, s.</param>
public sealed class TestHand(IHandledPlant plant, string point, Func<PlantFacts, string?> rails, double everyS) : IDisposable
{
    /// <summary>A hand value lives so long: a killed test leaves nothing behind for longer, s.</summary>
    private const double LifeS = 120;

    private double value = double.NaN, setAtS = double.NegativeInfinity;

    /// <summary>Time since the first sample, s.</summary>
    public double ElapsedS { get; private set; }

    private double beganS = double.NaN;

    /// <summary>One sample with the output at a value.</summary>
    /// <param name="percent">What it is set to.</param>
    /// <exception cref="TestEndedException">A rail was touched, a protection holds the output, or somebody ended the test.</exception>
    public PlantFacts Sample(double percent)
    {
        if (percent != value || ElapsedS - setAtS > LifeS / 2)
        {
            if (!plant.Set(point, percent, LifeS, out var why))
                throw new TestEndedException($"{point} does not take {percent:0} %: {why}");
            (value, setAtS) = (percent, ElapsedS);
        }
        if (!plant.Wait(everyS))
            throw new TestEndedException(plant.IsVirtual ? "the rehearsal is over" : "ended by hand");
        var facts = plant.Look();
        beganS = double.IsNaN(beganS) ? facts.ElapsedS : beganS;
        ElapsedS = facts.ElapsedS - beganS;
        return rails(facts) is { } wrong ? throw new TestEndedException(wrong) : facts;
    }

    /// <summary>Gives the output back.</summary>
    public void Dispose() => plant.End(point);
}
