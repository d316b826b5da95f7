// The plant of a walk in the virtual house: the real loop, drivers and bytes in virtual time, read through the same answer that a running controller gives. Must never look behind the devices: what the controller
// cannot know, the walk cannot know.
using System.Buffers;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Virtual;

/// <summary>A controller in the virtual house.</summary>
public sealed class VirtualPlant : IWalkPlant
{
    private readonly Rehearsal.Rehearsal run;
    private readonly ArrayBufferWriter<byte> text = new(64 * 1024);
    private readonly CancellationToken stop;
    private PointsRequest? request;
    private ControlParts? parts;
    private Rehearsal.Controller? of;
    private PointsNow? now;
    private double askedS = double.NegativeInfinity;

    /// <param name="run">The rehearsal; it is stepped by the walk.</param>
    /// <param name="fromS">Walk begins this long after the scenario's first midnight, s.</param>
    /// <param name="stop">Ends the walk.</param>
    public VirtualPlant(Rehearsal.Rehearsal run, double fromS = 0, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(run);
        (this.run, this.stop) = (run, stop);
        while (run.ElapsedS < Math.Max(fromS, 60) && !stop.IsCancellationRequested)
            run.Step();
    }

    /// <inheritdoc/>
    public House House => run.House;

    /// <inheritdoc/>
    public double ElapsedS => run.ElapsedS;

    /// <inheritdoc/>
    public DateTime Utc => run.BoardUtc;

    /// <inheritdoc/>
    public bool IsVirtual => true;

    /// <inheritdoc/>
    public InputNow Input(int index) => Points().Input(index);

    /// <inheritdoc/>
    public OutputNow Output(int index) => Points().Output(index);

    /// <inheritdoc/>
    public bool Set(int output, double value, double forS, bool below = false)
    {
        var id = House.OutputTable[output].Id;
        if (HandOutputs.WhyNever(House, output) is { } never)
            throw new SkipStepException($"{id} is never set by hand: {never}");
        if (!run.Plan.Files.Wiring.Any(wire => wire.IsOutput && wire.Index == output))
            throw new SkipStepException($"{id} is not wired");
        if (!HandValues.IsAllowed(House, output, value, forS, out var why, below))
            throw new SkipStepException($"{id}: {why}");
        if (run.Controller is not { } controller)
            return false;
        new HandRequest(output, value, forS).ApplyTo(controller.Memory);
        Step(1);
        if (run.Controller is not { } after)
            return false;
        ref readonly var command = ref after.Loop.Image.Commands[output];
        return command.Binding.Cause == Cause.HandValue || Math.Abs(command.Value - value) < 1e-9;
    }

    /// <inheritdoc/>
    public void End(int output)
    {
        if (run.Controller is not { } controller)
            return;
        HandValues.End(controller.Memory, output);
        Step(1);
    }

    /// <inheritdoc/>
    public void Wait(double seconds) => Step((int)Math.Max(1, Math.Ceiling(seconds / run.ScanS)));

    /// <inheritdoc/>
    public bool Reconnect(double withinS)
    {
        for (var s = 0.0; s <= withinS; s += 10)
        {
            if (run.Controller is not null)
            {
                Step(2);
                return true;
            }
            Wait(10);
        }
        return false;
    }

    private void Step(int scans)
    {
        for (var i = 0; i < scans; i++)
            run.Step();
        if (stop.IsCancellationRequested)
            throw new StopWalkException("ended as told");
    }

    private PointsNow Points()
    {
        if (now is not null && askedS == run.ElapsedS)
            return now;
        askedS = run.ElapsedS;
        if (run.Controller is not { } controller)
            return now = PointsNow.Nothing(House);
        if (!ReferenceEquals(of, controller))
        {
            of = controller;
            parts = new ControlParts(run.Plan.Files, run.Plan.Files.Wiring, controller.Board, controller.Leases, controller.Clock) { Workers = () => controller.Workers };
            request = new PointsRequest(parts);
        }
        var snapshot = new HouseSnapshot(House);
        if (!controller.Board.TryRead(snapshot))
            return now = PointsNow.Nothing(House);
        text.Clear();
        using (var json = new Utf8JsonWriter(text))
        {
            json.WriteStartObject();
            request!.Write(snapshot, null, false, json);
            json.WriteEndObject();
        }
        using var answer = JsonDocument.Parse(text.WrittenMemory);
        return now = PointsNow.Of(House, answer.RootElement);
    }
}
