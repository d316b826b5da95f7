// Between the commands of a scan and what channels get: one output may drive several channels, and what it means for each depends on
// its actuator. Every channel has a lease of its own. It never invents a command and never holds a protective one up.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Outputs;

/// <summary>The outputs of a house with their actuators.</summary>
public sealed class OutputStage
{
    private const double OnPercent = 100, OpenFromPercent = 50;

    private readonly record struct Wire(int Output, int Lease, ChannelRole Role, int Step);

    private sealed class Driven(int output, OutputShape shape, Wire[] wires)
    {
        public int Output => output;

        public OutputShape Shape => shape;

        public Wire[] Wires => wires;

        public OnOffCycle? Cycle { get; } = shape.Kind == OutputKind.OnOff ? new OnOffCycle(shape.CycleS, shape.MinimumOnS, shape.MinimumOffS) : null;

        public ThreePointDrive? Drive { get; } = shape.Kind == OutputKind.ThreePoint ? new ThreePointDrive(shape.StrokeS) : null;

        public SteppedFan? Fan { get; } = shape.Kind == OutputKind.SteppedFan ? new SteppedFan(shape.StepsPercent, shape.StepPauseS) : null;
    }

    private readonly Driven[] driven;

    private OutputStage(Driven[] driven, int leases)
    {
        this.driven = driven;
        Leases = leases;
    }

    /// <summary>How many leases the channels need.</summary>
    public int Leases { get; }

    /// <summary>Gives every channel of an output its lease.</summary>
    /// <param name="wiring">Inputs and outputs of the site.</param>
    /// <param name="wired">The same wires, each output with its lease and the value that is safe for its channel.</param>
    public static OutputStage Build(IReadOnlyList<PointWiring> wiring, out IReadOnlyList<PointWiring> wired)
    {
        var next = 0;
        List<PointWiring> all = [.. wiring.Select(wire => wire.IsOutput ? wire with { Lease = next++, SafeValue = Safe(wire) } : wire)];
        wired = all;
        var outputs = all.Where(wire => wire.IsOutput).GroupBy(wire => wire.Index)
            .Select(group => new Driven(group.Key, group.First().Shape, [.. group.Select(wire => new Wire(wire.Index, wire.Lease, wire.Role, wire.Step))]));
        return new OutputStage([.. outputs], next);
    }

    /// <summary>Puts what every channel gets for this scan's commands.</summary>
    /// <param name="commands">One command an output, by the index of the house.</param>
    /// <param name="leases">Where bus workers take values from.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="stepS">Seconds since the last scan.</param>
    /// <param name="lifeS">Life of a lease, s.</param>
    public void Put(ReadOnlySpan<Command> commands, OutputLeases leases, double nowS, double stepS, double lifeS)
    {
        foreach (var one in driven)
        {
            ref readonly var command = ref commands[one.Output];
            var asked = double.IsFinite(command.Value) ? command.Value : 0;
            var (relay, travel, step) = (one.Cycle?.Step(asked, stepS) ?? false, one.Drive?.Step(asked, stepS) ?? Travel.Rests, one.Fan?.Step(asked, stepS) ?? 0);
            foreach (var wire in one.Wires)
            {
                var value = one.Shape.Kind switch
                {
                    OutputKind.OnOff => Relay(relay != one.Shape.NormallyOpen),
                    OutputKind.ThreePoint => Relay(travel == (wire.Role == ChannelRole.Opens ? Travel.Opens : Travel.Shuts)),
                    OutputKind.SteppedFan => Relay(wire.Step == step),
                    _ => command.Value,
                };
                leases.Put(wire.Lease, command with { Value = value, ThenValue = Then(one.Shape, wire, command.ThenValue) }, nowS, lifeS);
            }
        }
    }

    /// <summary>Relays switched on since start, all outputs together.</summary>
    public long RelayStarts => driven.Sum(one => (one.Cycle?.Starts ?? 0) + (one.Drive?.Starts ?? 0) + (one.Fan?.Starts ?? 0));

    private static double Relay(bool on) => on ? OnPercent : 0;

    /// <summary>
    /// What a channel gets when the loop stands still. A three-point actuator is driven shut (or open) and its relay stays on: its own end switches stop
    /// the motor (common practice, no published source). A stepped fan stops.
    /// </summary>
    private static double Then(OutputShape shape, in Wire wire, double then) => shape.Kind switch
    {
        OutputKind.OnOff => Relay(then >= OpenFromPercent != shape.NormallyOpen),
        OutputKind.ThreePoint => Relay(then >= OpenFromPercent == (wire.Role == ChannelRole.Opens)),
        OutputKind.SteppedFan => 0,
        _ => then,
    };

    private static double Safe(PointWiring wire) => Then(wire.Shape, new Wire(wire.Index, 0, wire.Role, wire.Step), wire.SafeValue);
}
