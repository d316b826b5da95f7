// How a device and its channels are doing, as a snapshot anybody may take at any time. Runtime turns changes into events.
// It must never touch a bus.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Whether a device answers.</summary>
public enum DeviceState : byte
{
    /// <summary>Not yet asked.</summary>
    Unknown,
    Answering,
    NotAnswering,
}

/// <summary>How one device is doing.</summary>
/// <param name="State">Answering or not. One lost answer does not change it; a refused connection or two failures in a row do.</param>
/// <param name="SinceS">Monotonic seconds since which it is so.</param>
/// <param name="LastFault">Fault of the latest failed request; stays after the device is back.</param>
/// <param name="LastProblem">The same in a sentence for people, "" if there never was one.</param>
/// <param name="Requests">Requests made so far.</param>
/// <param name="Failures">Requests that brought no valid answer (a refusal by the device is an answer).</param>
/// <param name="LastLatencyS">Seconds from request to answer, the latest that was answered; NaN before.</param>
public readonly record struct DeviceHealth(
    DeviceState State, double SinceS, Fault LastFault, string LastProblem, long Requests, long Failures, double LastLatencyS)
{
    internal static DeviceHealth Unknown { get; } = new(DeviceState.Unknown, double.NegativeInfinity, Fault.None, "", 0, 0, double.NaN);
}

/// <summary>How one wired channel is doing.</summary>
/// <param name="Wiring">Which point on which channel.</param>
/// <param name="Fault">Fault of its latest read or write; <see cref="Fault.NotRead"/> before the first.</param>
/// <param name="Problem">The same in a sentence, "" when there is none.</param>
/// <param name="RefusedByDevice">True when the device answered that it will not (wrong address, value not allowed …).</param>
/// <param name="SinceS">Monotonic seconds since which it is so.</param>
public readonly record struct ChannelHealth(PointWiring Wiring, Fault Fault, string Problem, bool RefusedByDevice, double SinceS);

/// <summary>What came of writing every output its safe value.</summary>
/// <param name="Written">How many were written.</param>
/// <param name="NotWritten">Those that could not be.</param>
public sealed record SafeWriteResult(int Written, IReadOnlyList<PointWiring> NotWritten)
{
    /// <summary>What drivers threw meanwhile, in a sentence each.</summary>
    public IReadOnlyList<string> Errors { get; init; } = [];
}
