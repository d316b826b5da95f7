// One bus and the devices on it. Somebody calls Poll in real or virtual time; the worker has no thread, no clock and never sleeps.
// After WriteSafe it must never write again, or a late poll would undo the safe values.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Polls the devices of one bus. One owner calls <see cref="Poll"/>; <see cref="WriteSafe"/> and the snapshots may be called from elsewhere.</summary>
public sealed class BusWorker : IDisposable
{
    private readonly Lock gate = new();
    private readonly IBusDevice[] devices;
    private readonly Func<bool> isStopped;
    private volatile bool stopped, replaced;

    /// <param name="name">Name of the bus for people: a device's name or a path.</param>
    /// <param name="devices">The devices on it, polled in this order.</param>
    public BusWorker(string name, IReadOnlyList<IBusDevice> devices)
    {
        Name = name;
        this.devices = [.. devices];
        isStopped = () => stopped;
    }

    public string Name { get; }

    public IReadOnlyList<IBusDevice> Devices => devices;

    /// <summary>True after <see cref="WriteSafe"/> and <see cref="Lose"/> for good: nothing is polled any more.</summary>
    public bool Stopped => stopped;

    /// <summary>True when another worker took the place of this one: whoever polled it disposes of it as soon as its request has ended.</summary>
    public bool IsReplaced => replaced;

    /// <summary>Longest time a poll may take, s. One that lasts much longer hangs.</summary>
    public double LongestPollS => devices.Sum(device => device.LongestPollS);

    /// <summary>
    /// Monotonic seconds at which <see cref="Poll"/> has something to do; infinity when stopped. A command put afterwards moves it to
    /// "at once", so look again at least as often as a command may wait. Only for the owner of the worker.
    /// </summary>
    public double NextDueS
    {
        get
        {
            var next = double.PositiveInfinity;
            foreach (var device in devices)
                next = stopped ? next : Math.Min(next, device.NextDueS);
            return next;
        }
    }

    /// <summary>
    /// Does what is due at <paramref name="nowS"/>: writes before reads, safe values before any other. Returns after at most about two
    /// time-outs a device; what is left over is due at once.
    /// </summary>
    /// <returns>Seconds it took on the links' own clock (real on sockets, virtual in memory).</returns>
    public double Poll(double nowS)
    {
        lock (gate)
        {
            var spent = 0.0;
            foreach (var device in devices)
            {
                if (!stopped && device.NextDueS <= nowS + spent)
                    spent += device.Poll(nowS + spent, isStopped);
            }
            return spent;
        }
    }

    /// <summary>
    /// Writes every output its safe value (what follows the last lease, else the wiring's safe value), once, best effort, and stops the worker
    /// for good. Waits for a poll in progress for as long as one may take.
    /// </summary>
    public SafeWriteResult WriteSafe(double nowS)
    {
        stopped = true;
        var notWritten = new List<PointWiring>();
        if (!gate.TryEnter(TimeSpan.FromSeconds(1 + LongestPollS)))
            return new SafeWriteResult(0, [.. devices.SelectMany(OutputsOf)]);
        try
        {
            var written = 0;
            List<string> errors = [];
            foreach (var device in devices)
                written += WriteSafe(device, nowS, notWritten, errors);
            return new SafeWriteResult(written, notWritten) { Errors = errors };
        }
        finally
        {
            gate.Exit();
        }
    }

    /// <summary>The bus hangs: all inputs of its devices count as missing. Never waits; any thread.</summary>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="forGood">True: another worker takes its place; this one polls and puts nothing any more.</param>
    public void Lose(double nowS, bool forGood)
    {
        (stopped, replaced) = (stopped || forGood, replaced || forGood);
        foreach (var device in devices)
            device.Lose(nowS, forGood);
    }

    public void Dispose()
    {
        stopped = true;
        foreach (var device in devices)
            device.Dispose();
    }

    /// <summary>A driver that throws now must not keep the other devices of its bus from their safe values.</summary>
    private static int WriteSafe(IBusDevice device, double nowS, List<PointWiring> notWritten, List<string> errors)
    {
        try
        {
            return device.WriteSafe(nowS, notWritten);
        }
#pragma warning disable CA1031 // Whatever it is: what cannot be confirmed is named as not written, and the next device has its turn.
        catch (Exception e)
#pragma warning restore CA1031
        {
            errors.Add($"{device.Name}: driver error while writing safe values: {e.GetType().Name}: {e.Message}");
            notWritten.AddRange(OutputsOf(device).Where(output => !notWritten.Contains(output)));
            return 0;
        }
    }

    private static IEnumerable<PointWiring> OutputsOf(IBusDevice device)
        => Enumerable.Range(0, device.ChannelCount).Select(i => device.Channel(i).Wiring).Where(wiring => wiring.IsOutput);
}
