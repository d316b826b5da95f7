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
    /// <summary>The same requests by what came of them.</summary>
    public DeviceCounts Counts { get; init; }

    /// <summary>Seconds from request to answer in the mean of all that were answered; NaN before the first.</summary>
    public double MeanLatencyS => Counts.Answers > 0 ? Counts.LatencySumS / Counts.Answers : double.NaN;

    /// <summary>The longest of them, s; NaN before the first.</summary>
    public double WorstLatencyS => Counts.Answers > 0 ? Counts.WorstLatencyS : double.NaN;

    /// <summary>Why the device could not be set up as the site file says (its own time-out), in a sentence; "" when it could, or need not be.</summary>
    public string SetUpProblem { get; init; } = "";

    internal static DeviceHealth Unknown { get; } = new(DeviceState.Unknown, double.NegativeInfinity, Fault.None, "", 0, 0, double.NaN);
}

/// <summary>Requests to one device since the start, by what came of them. Requests = Answers + TimedOut + BadChecksums + NoAcknowledges + Others.</summary>
/// <param name="Answers">Answered, refusals among them.</param>
/// <param name="Refusals">Answered with a refusal.</param>
/// <param name="TimedOut">No answer, or no whole one, in time.</param>
/// <param name="BadChecksums">An answer whose checksum is wrong.</param>
/// <param name="NoAcknowledges">Nobody there: connection refused, address not acknowledged.</param>
/// <param name="Others">Any other failure: answers of a false form, an error of the bus itself.</param>
/// <param name="Retries">How many of the requests were attempts after one that had failed.</param>
/// <param name="LatencySumS">Seconds from request to answer, all answers together.</param>
/// <param name="WorstLatencyS">The longest of them, s.</param>
public readonly record struct DeviceCounts(
    long Answers, long Refusals, long TimedOut, long BadChecksums, long NoAcknowledges, long Others, long Retries, double LatencySumS, double WorstLatencyS);

/// <summary>How the worker of a bus is doing.</summary>
/// <param name="Name">Name of the bus.</param>
/// <param name="BusyS">Seconds the poll under way has lasted; 0 when none is.</param>
/// <param name="Replacements">How often a worker that hung was replaced since the bus was last sound for an hour.</param>
/// <param name="GivenUp">True when it hangs again and is replaced no more.</param>
public readonly record struct BusHealth(string Name, double BusyS, int Replacements, bool GivenUp);

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
