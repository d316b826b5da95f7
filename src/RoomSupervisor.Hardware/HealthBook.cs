// Keeps a device's health under one lock, so that any thread may take a snapshot while the owner works.
// It must never call out while it holds the lock.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Written by the device's owner, read by anybody.</summary>
internal sealed class HealthBook(IReadOnlyList<PointWiring> wirings)
{
    private readonly Lock gate = new();
    private readonly ChannelHealth[] channels = [.. wirings.Select(wiring => new ChannelHealth(wiring, Fault.NotRead, "", false, double.NegativeInfinity))];
    private DeviceHealth device = DeviceHealth.Unknown;

    public int Count => channels.Length;

    public DeviceHealth Device
    {
        get
        {
            lock (gate)
                return device;
        }
    }

    /// <summary>For the owner, who alone writes: no lock.</summary>
    public DeviceState State => device.State;

    public ChannelHealth Channel(int index)
    {
        lock (gate)
            return channels[index];
    }

    /// <summary>A request was answered: granted, or refused by the device.</summary>
    public void Answered(double nowS, double latencyS, bool isRefusal, bool isRetry)
    {
        lock (gate)
        {
            var counts = device.Counts;
            device = device with
            {
                Requests = device.Requests + 1,
                Counts = counts with
                {
                    Answers = counts.Answers + 1,
                    Refusals = counts.Refusals + (isRefusal ? 1 : 0),
                    Retries = counts.Retries + (isRetry ? 1 : 0),
                    LatencySumS = counts.LatencySumS + latencyS,
                    WorstLatencyS = Math.Max(counts.WorstLatencyS, latencyS),
                },
                LastLatencyS = latencyS,
                SinceS = device.State == DeviceState.Answering ? device.SinceS : nowS,
                State = DeviceState.Answering,
            };
        }
    }

    /// <summary>Why the device could not be set up; "" when it could.</summary>
    public void SetUp(string problem)
    {
        if (device.SetUpProblem == problem)
            return;
        lock (gate)
            device = device with { SetUpProblem = problem };
    }

    public void Failed(double nowS, Fault fault, string problem, bool notAnswering, bool isRetry)
    {
        lock (gate)
        {
            var counts = device.Counts;
            var changes = notAnswering && device.State != DeviceState.NotAnswering;
            device = device with
            {
                Requests = device.Requests + 1,
                Failures = device.Failures + 1,
                Counts = counts with
                {
                    TimedOut = counts.TimedOut + (fault == Fault.Timeout ? 1 : 0),
                    BadChecksums = counts.BadChecksums + (fault == Fault.Crc ? 1 : 0),
                    NoAcknowledges = counts.NoAcknowledges + (fault == Fault.NoAcknowledge ? 1 : 0),
                    Others = counts.Others + (fault is Fault.Timeout or Fault.Crc or Fault.NoAcknowledge ? 0 : 1),
                    Retries = counts.Retries + (isRetry ? 1 : 0),
                },
                LastFault = fault,
                LastProblem = problem,
                SinceS = changes ? nowS : device.SinceS,
                State = changes ? DeviceState.NotAnswering : device.State,
            };
        }
    }

    public void Set(int channel, double nowS, Fault fault, string problem, bool refused)
    {
        // Nobody else writes, so the owner may look without the lock; most of the time nothing has changed.
        ref var health = ref channels[channel];
        if (health.Fault == fault && health.RefusedByDevice == refused && (ReferenceEquals(health.Problem, problem) || health.Problem == problem))
            return;
        lock (gate)
            health = health with { Fault = fault, Problem = problem, RefusedByDevice = refused, SinceS = nowS };
    }
}
