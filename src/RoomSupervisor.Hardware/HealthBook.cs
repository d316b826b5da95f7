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

    public void Answered(double nowS, double latencyS)
    {
        lock (gate)
        {
            device = device with
            {
                Requests = device.Requests + 1,
                LastLatencyS = latencyS,
                SinceS = device.State == DeviceState.Answering ? device.SinceS : nowS,
                State = DeviceState.Answering,
            };
        }
    }

    public void Failed(double nowS, Fault fault, string problem, bool notAnswering)
    {
        lock (gate)
        {
            var changes = notAnswering && device.State != DeviceState.NotAnswering;
            device = device with
            {
                Requests = device.Requests + 1,
                Failures = device.Failures + 1,
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
