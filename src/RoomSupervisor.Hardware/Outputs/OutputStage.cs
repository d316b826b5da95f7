// The stage between the commands of a scan and what channels get: one output may drive several, through an actuator that has a way of its own.
// One thread owns it. Pure state and arithmetic: no clock, no bus, no allocation after construction.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Outputs;

/// <summary>Makes leases of channels out of commands of outputs.</summary>
public sealed class OutputStage
{
    private readonly OutputLeases leases;
    private readonly ShapedOutput[] outputs;
    private double heldUntilS = double.PositiveInfinity;

    /// <param name="wiring">The wiring the bus workers were built from.</param>
    /// <param name="leases">Where they take values; at least <see cref="OutputChannels.CountOf"/>.</param>
    /// <exception cref="ArgumentException">There are fewer leases than channels.</exception>
    public OutputStage(IReadOnlyList<PointWiring> wiring, OutputLeases leases)
    {
        if (leases.Count < OutputChannels.CountOf(wiring))
            throw new ArgumentException("a channel would have no lease", nameof(leases));
        this.leases = leases;
        var raw = wiring.Where(one => one.IsOutput);
        outputs = [.. raw.Zip(OutputChannels.Of(wiring)).GroupBy(pair => pair.First.Index)
            .Select(group => ShapedOutput.Of(group.First().First, [.. group.Select(pair => pair.Second)]))];
    }

    /// <summary>Gives the channels of every wired output what they carry until the next scan.</summary>
    /// <param name="commands">One an output, in the order of the house's output points.</param>
    /// <param name="nowS">Monotonic seconds, the clock of <see cref="ScanTime.ElapsedS"/>.</param>
    /// <param name="lifeS">Seconds for which the commands hold: after them every channel takes the value that is safe for its kind.</param>
    public void Put(ReadOnlySpan<Command> commands, double nowS, double lifeS)
    {
        var isLate = nowS >= heldUntilS;
        heldUntilS = nowS + lifeS;
        foreach (var output in outputs)
        {
            if (isLate)
                output.Restart();
            output.Put(commands[output.Index], nowS, lifeS, leases);
        }
    }
}
