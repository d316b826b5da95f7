// What all polled devices share: writes before reads, safe values before any other, leases, counts, growing pauses while it does not answer.
// It must never sleep or read a clock, and one channel that is refused must never make the others missing.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>A device with its wired points; a driver adds its bytes. For one thread, except for the snapshots.</summary>
internal abstract class PolledDevice : IBusDevice
{
    private const int FailuresUntilDeclared = 2;
    private readonly PollTimes times;
    private readonly InputImage inputs;
    private readonly OutputLeases leases;
    private readonly HealthBook book;
    private readonly WiredPoint[] allInputs;
    private readonly WiredOutput[] outputs;
    private ReadJob[] jobs = [];

    // The pass goes over all outputs, then all jobs; a pass cut short goes on at the job after the one that cut it, so that no
    // register that stays silent can keep the rest waiting.
    private int next;
    private int failures;
    private double lastContactS = double.NegativeInfinity, retryAtS = double.NegativeInfinity, faultAgainAtS, polledAtS = double.NegativeInfinity, forgottenAtS = double.NegativeInfinity;
    private Fault outage;
    private volatile bool isLost;

    /// <param name="name">Name in the site file.</param>
    /// <param name="times">Its times.</param>
    /// <param name="wired">All wired points, with the channel of each output; the driver makes its reading jobs of the others.</param>
    /// <param name="parts">Where samples go and values come from.</param>
    protected PolledDevice(string name, PollTimes times, IReadOnlyList<(IOutputChannel? Channel, OutputChannel Point)> wired, DeviceParts parts)
    {
        (Name, this.times, inputs, leases) = (name, times, parts.Inputs, parts.Leases);
        book = new HealthBook([.. wired.Select(one => one.Point.Wiring)]);
        allInputs = [.. wired.Index().Where(one => !one.Item.Point.Wiring.IsOutput).Select(one => new WiredPoint(one.Item.Point.Wiring, one.Index))];
        outputs = [.. wired.Index().Where(one => one.Item.Point.Wiring.IsOutput).Select(one => new WiredOutput(one.Item.Channel!, one.Item.Point, one.Index))];
        foreach (var output in outputs)
            output.Exclude(outputs);
    }

    public string Name { get; }

    public DeviceHealth Health => book.Device;

    public int ChannelCount => book.Count;

    public ChannelHealth Channel(int index) => book.Channel(index);

    protected PollTimes Times => times;

    private bool NotAnswering => book.State == DeviceState.NotAnswering;

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
            foreach (var job in jobs)
                due = Math.Min(due, job.DueS);
            return due;
        }
    }

    /// <inheritdoc/>
    public double LongestPollS => 2 * times.TimeoutS + LongestSetUpS;

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
        if (book.State == DeviceState.Answering && failures == 0 && !isStopped())
            spent += SetUpIfNeeded(nowS + spent);
        return spent;
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
            var reply = WriteSafe(output, raw, nowS, ref spent, ref silent);
            if (reply.Granted)
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

    /// <inheritdoc/>
    public void Lose(double nowS, bool forGood)
    {
        isLost |= forGood;
        foreach (var point in allInputs)
            inputs.Put(point.Wiring.Index, new Sample(double.NaN, nowS, Fault.Timeout));
    }

    /// <summary>Gives up the way to the device. A bus may be shared: giving it up twice does no harm.</summary>
    public abstract void Dispose();

    /// <summary>Writes a raw value to a channel, within a deadline.</summary>
    protected abstract DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS);

    /// <summary>One turn of a reading, within a deadline: all of it, or its beginning (then with <see cref="DeviceReply.ReadyAtS"/>), or its collection.</summary>
    protected virtual DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS) => new(Fault.NotRead, "", 0);

    /// <summary>Puts every value of a reading that was just granted.</summary>
    protected virtual void Deliver(ReadJob job, double takenAt)
    {
    }

    /// <summary>Jobs that take the place of one that was refused, or null: the refusal stands for all its points.</summary>
    protected virtual ReadJob[]? SplitAfter(ReadJob job, in DeviceReply reply) => null;

    /// <summary>The device answers again after an outage.</summary>
    protected virtual void CameBack()
    {
    }

    /// <summary>The device may have lost what it was told: at the first contact, after an outage, at a new connection.</summary>
    protected virtual void MayHaveRestarted()
    {
    }

    /// <summary>Tells a device that answers what it must know beside its outputs, when that is due. Returns the seconds it took.</summary>
    protected virtual double SetUpIfNeeded(double nowS) => 0;

    /// <summary>Longest time that may take, s.</summary>
    protected virtual double LongestSetUpS => 0;

    /// <summary>Sets what is read. From construction, or from <see cref="CameBack"/>.</summary>
    protected void ReadFrom(ReadJob[] all) => jobs = all;

    /// <summary>Why the device could not be set up as the site file says, "" when it could: told as an event.</summary>
    protected void SetUp(string problem) => book.SetUp(problem);

    protected void Put(WiredPoint point, double value, double takenAt)
    {
        if (isLost)
            return;
        inputs.Put(point.Wiring.Index, new Sample(value, takenAt, Fault.None));
        book.Set(point.Health, takenAt, Fault.None, "", false);
    }

    protected void PutFault(WiredPoint point, Fault fault, string problem, double takenAt, bool refused = false)
    {
        if (isLost)
            return;
        inputs.Put(point.Wiring.Index, new Sample(double.NaN, takenAt, fault));
        book.Set(point.Health, takenAt, fault, problem, refused);
    }

    /// <summary>
    /// One lost answer does not mean that an output is out of reach, two in a row do: then nothing more is tried. A slow gateway gets the time it needs
    /// for all of them, three time-outs at most.
    /// </summary>
    private DeviceReply WriteSafe(WiredOutput output, ushort raw, double nowS, ref double spent, ref bool silent)
    {
        DeviceReply reply = new(Fault.NotRead, "", 0);
        for (var tries = 0; tries < FailuresUntilDeclared && !reply.Answered; tries++)
        {
            var left = silent ? 0 : Math.Min(times.TimeoutS, 3 * times.TimeoutS - spent);
            if (left <= 0)
                return reply;
            reply = Try(output.Channel, raw, nowS + spent, left, isLast: tries == FailuresUntilDeclared - 1);
            spent += reply.TookS;
        }
        silent = !reply.Answered;
        return reply;
    }

    /// <summary>A driver that throws has not answered; when it throws again whoever stops hears of it.</summary>
    private DeviceReply Try(IOutputChannel channel, ushort raw, double nowS, double deadlineS, bool isLast)
    {
        try
        {
            return Write(channel, raw, nowS, deadlineS);
        }
#pragma warning disable CA1031 // Whatever a driver throws at stop: an output that can still be reached must become safe.
        catch (Exception e) when (!isLast)
#pragma warning restore CA1031
        {
            return new DeviceReply(Fault.BusError, e.Message, 0);
        }
    }

    /// <summary>Goes on with the pass; false when it was cut short.</summary>
    private bool Pass(double nowS, Func<bool> isStopped, ref double spent)
    {
        while (next < outputs.Length + jobs.Length)
        {
            var job = next++;
            if (!(job < outputs.Length ? WriteIfDue(outputs[job], nowS, ref spent) : ReadIfDue(job - outputs.Length, nowS, ref spent)))
                return false;
            if (spent >= times.TimeoutS || isStopped())
                return false;
        }
        next = 0;
        return true;
    }

    private void BeforeAttempt(double nowS)
    {
        if (failures == 0 && !double.IsNegativeInfinity(lastContactS))
            return;
        foreach (var output in outputs)
            output.OutOfReach(leases, nowS, lastContactS);
        // Attempts on a dead device begin with each output in turn, then with a read: whichever is answered brings it back.
        if (NotAnswering)
            next = Math.Min((failures - 1) % (outputs.Length + 1), outputs.Length + jobs.Length - 1);
    }

    private bool WriteIfDue(WiredOutput output, double nowS, ref double spent)
    {
        if (!output.Due(leases, nowS + spent, out var raw))
            return true;
        var reply = Write(output.Channel, raw, nowS + spent, times.TimeoutS);
        spent += reply.TookS;
        if (isLost)
            return false;
        var at = nowS + spent;
        if (reply.Answered)
            Answered(reply, at);
        book.Set(output.Health, at, reply.Fault, reply.Problem, reply.IsRefusal);
        if (reply.Granted)
            output.Written(leases, raw, at, times.RefreshS);
        else
            output.Forget(reply.IsRefusal ? at + reply.PauseS : double.NegativeInfinity);
        return reply.Answered || Failed(reply, at);
    }

    private bool ReadIfDue(int index, double nowS, ref double spent)
    {
        var job = jobs[index];
        if (nowS + spent < job.DueS)
            return true;
        var collects = job.IsUnderWay;
        var takenAt = job.Turn(nowS + spent, times.IntervalS);
        var reply = Read(job, collects, nowS + spent, times.TimeoutS);
        spent += reply.TookS;
        if (isLost)
            return false;
        if (reply.Granted && !double.IsNaN(reply.ReadyAtS))
        {
            // To begin is no answer yet: a chip whose every result is spoilt takes commands all day. While it is away nothing else is tried meanwhile.
            job.Await(takenAt, reply.ReadyAtS);
            retryAtS = failures > 0 ? reply.ReadyAtS : retryAtS;
            return true;
        }
        if (reply.Answered)
            Answered(reply, nowS + spent);
        if (reply.Granted)
            Deliver(job, takenAt);
        else if (reply.IsRefusal && SplitAfter(job, reply) is { } parts)
            Replace(index, parts);
        else
            Refuse(job, reply, takenAt);
        if (reply.Answered)
            return true;
        job.Anew();
        return Failed(reply, nowS + spent);
    }

    private void Refuse(ReadJob job, in DeviceReply reply, double takenAt)
    {
        foreach (var point in job.Points)
            PutFault(point, reply.Fault, reply.Problem, takenAt, reply.IsRefusal);
    }

    private void DeliverFault(double nowS)
    {
        faultAgainAtS = nowS + times.IntervalS;
        foreach (var point in allInputs)
            PutFault(point, outage, "device does not answer", nowS);
    }

    /// <summary>From now on each part is read by itself, so that the others stay; after an outage they are tried together again.</summary>
    private void Replace(int index, ReadJob[] parts)
    {
        jobs = [.. jobs[..index], .. parts, .. jobs[(index + 1)..]];
        next = outputs.Length + index;
    }

    private void Answered(in DeviceReply reply, double at)
    {
        var wasAway = NotAnswering;
        book.Answered(at, reply.TookS, reply.IsRefusal, failures > 0);
        (failures, lastContactS) = (0, at);
        if (wasAway)
        {
            // After the outputs everything is read anew, neighbours together.
            CameBack();
            AllDueAgain();
        }
        else if (reply.IsNewContact && at >= forgottenAtS + Math.Max(times.IntervalS, times.RetryAtFirstS))
        {
            // It may have restarted. Not at every new connection: some devices close theirs after each answer.
            ForgetOutputs(at);
        }
    }

    private bool Failed(in DeviceReply reply, double at)
    {
        failures++;
        outage = reply.Fault;
        var declared = reply.IsCertain || failures >= FailuresUntilDeclared;
        book.Failed(at, outage, reply.Problem, declared, failures > 1);
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
        foreach (var job in jobs)
            job.Anew();
        next = 0;
    }

    private void ForgetOutputs(double at)
    {
        forgottenAtS = at;
        MayHaveRestarted();
        foreach (var output in outputs)
            output.Forget(double.NegativeInfinity);
    }
}
