// The plant of a rehearsal: the real loop in the virtual house, scan by scan. Hand values go the way they go in a run. Must never tell what no device shows.
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.InHand;

/// <summary>A rehearsal in somebody's hand.</summary>
/// <param name="run">The rehearsal; the caller disposes of it.</param>
public sealed class VirtualPlant(Rehearsal.Rehearsal run) : IHandledPlant
{
    private readonly HouseSnapshot scan = new(run.House);

    public DateTime Utc => run.BoardUtc;

    public bool IsVirtual => true;

    public PlantFacts Look()
    {
        while (run.Controller is null || !run.Controller.Board.TryRead(scan))
        {
            if (!Wait(run.ScanS))
                throw new InvalidOperationException("the rehearsal is over before its controller has taken a scan");
        }
        return PlantFacts.Of(scan);
    }

    public bool Set(string point, double value, double forS, out string why)
    {
        var output = OutputOf(point);
        if (HandOutputs.WhyNever(run.House, output) is { } never)
            throw new ControlException($"{point} is never set by hand: {never}");
        if (!HandValues.IsAllowed(run.House, output, value, forS, out why))
            throw new ControlException($"{point}: {why}");
        run.Controller!.Hands.TryPut(new HandRequest(output, value, forS));
        Wait(run.ScanS);
        Look();
        var command = scan.Commands[output];
        var holds = command.Binding.Cause == Cause.HandValue || Math.Abs(command.Value - value) < 1e-9;
        why = holds ? "" : HandLimits.Why(scan, output);
        return holds;
    }

    public void End(string point)
    {
        run.Controller?.Hands.TryPut(new HandRequest(OutputOf(point), double.NaN, 0));
        Wait(run.ScanS);
    }

    public bool Wait(double seconds)
    {
        for (var until = run.ElapsedS + seconds - 1e-6; run.ElapsedS < until && !run.IsOver;)
            run.Step();
        return !run.IsOver;
    }

    private int OutputOf(string point)
        => run.House.OutputTable.IndexOf(point) is >= 0 and var output ? output : throw new ControlException($"there is no output {point}");
}
