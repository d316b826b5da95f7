// A Modbus unit with its wired points: writes before reads, safe values before any other, growing pauses while it does not answer.
// It must never sleep or read a clock, and one register it refuses must never make the others missing.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Times of a Modbus device, seconds.</summary>
/// <param name="TimeoutS">Longest time for a whole request.</param>
/// <param name="IntervalS">How often inputs are read.</param>
/// <param name="RetryAtMostS">Longest pause between attempts.</param>
/// <param name="RefreshS">Every output is written this often even when unchanged, so that a module that restarted gets its values.</param>
/// <param name="RetryAtFirstS">First pause; each following one is twice as long.</param>
public sealed record ModbusTimes(double TimeoutS = 1, double IntervalS = 1, double RetryAtMostS = 30, double RefreshS = 10, double RetryAtFirstS = 1);

/// <summary>One unit on a Modbus link. For one thread, except for the snapshots.</summary>
public sealed class ModbusDevice : IBusDevice
{
    private const int FailuresUntilDeclared = 2;
    private readonly ModbusUnit unit;
    private readonly ModbusTimes times;
    private readonly InputImage inputs;
    private readonly OutputLeases leases;
    private readonly HealthBook book;
    private readonly WiredInput[] allInputs;
    private readonly WiredOutput[] outputs;
    private readonly ReadBlock[] wholeBlocks;
    private ReadBlock[] blocks;

    // The pass goes over all outputs, then all blocks; a pass cut short goes on at the job after the one that cut it, so that no
    // register that stays silent can keep the rest waiting.
    private int next;
    private int failures;
    private double lastContactS = double.NegativeInfinity, retryAtS = double.NegativeInfinity, faultAgainAtS, polledAtS = double.NegativeInfinity, forgottenAtS = double.NegativeInfinity;
    private Fault outage;

    internal ModbusDevice(
        string name, ModbusUnit unit, ModbusTimes times, IReadOnlyList<(RegisterChannel Channel, OutputChannel Point)> wired, InputImage inputs, OutputLeases leases)
    {
        (Name, this.unit, this.times, this.inputs, this.leases) = (name, unit, times, inputs, leases);
        book = new HealthBook([.. wired.Select(one => one.Point.Wiring)]);
        allInputs = [.. wired.Index().Where(one => !one.Item.Point.Wiring.IsOutput).Select(one => new WiredInput(one.Item.Channel, one.Item.Point.Wiring, one.Index))];
        outputs = [.. wired.Index().Where(one => one.Item.Point.Wiring.IsOutput).Select(one => new WiredOutput(one.Item.Channel, one.Item.Point, one.Index))];
        foreach (var output in outputs)
            output.Exclude(outputs);
        blocks = wholeBlocks = ReadBlock.Group(allInputs);
    }

    public string Name { get; }

    public DeviceHealth Health => book.Device;

    public int ChannelCount => book.Count;

    public ChannelHealth Channel(int index) => book.Channel(index);

    private bool NotAnswering => book.Device.State == DeviceState.NotAnswering;

    /// <inheritdoc/>
    public double NextDueS
    {
        get
        {
            if (failures > 0)
                return NotAnswering ? Math.Min(retryAtS, faultAgainAtS) : retryAtS;
            var due = next > 0 ? polledAtS : double.PositiveInfinity;
            foreach (var output in outputs)
                due = Math.Min(due, output.NextDueS(leases, polledAtS));
            foreach (var block in blocks)
                due = Math.Min(due, block.DueS);
            return due;
        }
    }

    /// <inheritdoc/>
    public double LongestPollS => 2 * times.TimeoutS;

    /// <inheritdoc/>
    public double Poll(double nowS, Func<bool> isStopped)
    {
        polledAtS = nowS;
        if (NotAnswering && nowS >= faultAgainAtS)
            DeliverFault(nowS);
        if (failures > 0 && nowS < retryAtS)
            return 0;
        BeforeAttempt(nowS);
        var spent = 0.0;
        var first = next;
        var isThrough = Pass(nowS, isStopped, ref spent);
        // Still not answering after a whole pass: nothing was asked, as the attempt began past the relays that others wait for. From the top,
        // or a module with relays only would never be asked again.
        if (isThrough && NotAnswering && first > 0)
            Pass(nowS, isStopped, ref spent);
        return spent;
    }

    /// <summary>Goes on with the pass; false when it was cut short.</summary>
    private bool Pass(double nowS, Func<bool> isStopped, ref double spent)
    {
        while (next < outputs.Length + blocks.Length)
        {
            var job = next++;
            if (!(job < outputs.Length ? WriteIfDue(outputs[job], nowS, ref spent) : ReadIfDue(blocks[job - outputs.Length], nowS, ref spent)))
                return false;
            if (spent >= times.TimeoutS || isStopped())
                return false;
        }
        next = 0;
        return true;
    }

    /// <inheritdoc/>
    public int WriteSafe(double nowS, List<PointWiring> notWritten)
    {
        var (spent, written) = (0.0, 0);
        var silent = false;
        // Relays that wait for another to be off come last.
        Queue<WiredOutput> waiting = new(outputs);
        for (var turns = 2 * outputs.Length; turns > 0 && waiting.TryDequeue(out var output); turns--)
        {
            if (!output.TrySafe(leases, nowS, out var raw))
            {
                waiting.Enqueue(output);
                continue;
            }
            // A slow gateway gets the time it needs for all of them; a dead device gets one time-out and no more.
            var left = silent ? 0 : Math.Min(times.TimeoutS, 3 * times.TimeoutS - spent);
            var reply = left > 0 ? unit.Write(output.Channel, raw, left) : default;
            spent += reply.TookS;
            silent |= left > 0 && !reply.Answered;
            if (left > 0 && reply.Problem == ModbusProblem.None)
            {
                written++;
                output.Written(leases, raw, nowS + spent, times.RefreshS);
            }
            else
            {
                output.Forget(double.NegativeInfinity);
                notWritten.Add(output.Wiring);
            }
        }
        notWritten.AddRange(waiting.Select(output => output.Wiring));
        return written;
    }

    public void Dispose() => unit.Dispose();

    private void BeforeAttempt(double nowS)
    {
        if (failures == 0 && !double.IsNegativeInfinity(lastContactS))
            return;
        foreach (var output in outputs)
            output.OutOfReach(leases, nowS, lastContactS);
        // Attempts on a dead device begin with each output in turn, then with a read: whichever is answered brings it back.
        if (NotAnswering)
            next = Math.Min((failures - 1) % (outputs.Length + 1), outputs.Length + blocks.Length - 1);
    }

    private bool WriteIfDue(WiredOutput output, double nowS, ref double spent)
    {
        if (!output.Due(leases, nowS + spent, out var raw))
            return true;
        var reply = unit.Write(output.Channel, raw, times.TimeoutS);
        spent += reply.TookS;
        var at = nowS + spent;
        if (reply.Answered)
            Answered(reply, at);
        book.Set(output.Health, at, reply.Fault, ModbusWords.Of(reply.Problem, reply.Exception), reply.Problem == ModbusProblem.Refused);
        if (reply.Problem == ModbusProblem.None)
            output.Written(leases, raw, at, times.RefreshS);
        else
            output.Forget(reply.Problem == ModbusProblem.Refused ? at + RefusalPause(reply.Exception) : double.NegativeInfinity);
        return reply.Answered || Failed(reply, at);
    }

    private bool ReadIfDue(ReadBlock block, double nowS, ref double spent)
    {
        var takenAt = nowS + spent;
        if (takenAt < block.DueS)
            return true;
        var reply = unit.Read(block, times.TimeoutS);
        spent += reply.TookS;
        // Keep the beat where possible; never two readings in a row to catch up.
        block.DueS = block.DueS + times.IntervalS > takenAt ? block.DueS + times.IntervalS : takenAt + times.IntervalS;
        if (reply.Answered)
            Answered(reply, nowS + spent);
        if (reply.Problem == ModbusProblem.None)
            Deliver(block, takenAt);
        else if (reply.Problem == ModbusProblem.Refused && block.Count > 1 && reply.Exception is 2 or 3 or 4)
            Split(block);
        else
            Refuse(block, reply, takenAt);
        if (reply.Answered)
            return true;
        block.DueS = double.NegativeInfinity;
        return Failed(reply, nowS + spent);
    }

    private void Deliver(ReadBlock block, double takenAt)
    {
        foreach (var input in block.Inputs)
        {
            var raw = unit.Raw(block, input.Channel.Address);
            inputs.Put(input.Wiring.Index, new Sample(input.Channel.ToPoint(raw, input.Wiring), takenAt, Fault.None));
            book.Set(input.Health, takenAt, Fault.None, "", false);
        }
    }

    private void Refuse(ReadBlock block, in ModbusReply reply, double takenAt)
    {
        var words = ModbusWords.Of(reply.Problem, reply.Exception);
        foreach (var input in block.Inputs)
        {
            inputs.Put(input.Wiring.Index, new Sample(double.NaN, takenAt, reply.Fault));
            book.Set(input.Health, takenAt, reply.Fault, words, reply.Problem == ModbusProblem.Refused);
        }
    }

    private void DeliverFault(double nowS)
    {
        faultAgainAtS = nowS + times.IntervalS;
        foreach (var input in allInputs)
        {
            inputs.Put(input.Wiring.Index, new Sample(double.NaN, nowS, outage));
            book.Set(input.Health, nowS, outage, "device does not answer", false);
        }
    }

    /// <summary>One address of the block is refused: from now on each is read by itself, so that the others stay; after an outage they are tried together again.</summary>
    private void Split(ReadBlock block)
    {
        var at = Array.IndexOf(blocks, block);
        blocks = [.. blocks[..at], .. block.Split(), .. blocks[(at + 1)..]];
        next = outputs.Length + at;
    }

    private void Answered(in ModbusReply reply, double at)
    {
        var wasAway = NotAnswering;
        (failures, lastContactS) = (0, at);
        book.Answered(at, reply.TookS);
        if (wasAway)
        {
            // After the outputs everything is read anew, neighbours together.
            blocks = wholeBlocks;
            AllDueAgain();
        }
        else if (reply.NewConnection && at >= forgottenAtS + Math.Max(times.IntervalS, times.RetryAtFirstS))
        {
            // It may have restarted. Not at every new connection: some devices close theirs after each answer.
            ForgetOutputs(at);
        }
    }

    private bool Failed(in ModbusReply reply, double at)
    {
        failures++;
        outage = reply.Fault;
        var declared = outage == Fault.NoAcknowledge || failures >= FailuresUntilDeclared;
        book.Failed(at, outage, ModbusWords.Of(reply.Problem, reply.Exception), declared);
        retryAtS = at + Math.Min(times.RetryAtMostS, times.RetryAtFirstS * Math.Pow(2, Math.Min(failures - 1, 16)));
        if (declared)
        {
            DeliverFault(at);
            AllDueAgain();
            ForgetOutputs(at);
        }
        return false;
    }

    private void AllDueAgain()
    {
        foreach (var block in blocks)
            block.DueS = double.NegativeInfinity;
        next = 0;
    }

    private void ForgetOutputs(double at)
    {
        forgottenAtS = at;
        foreach (var output in outputs)
            output.Forget(double.NegativeInfinity);
    }

    private double RefusalPause(byte exception) => exception is 5 or 6 ? times.RetryAtFirstS : times.RefreshS;
}
