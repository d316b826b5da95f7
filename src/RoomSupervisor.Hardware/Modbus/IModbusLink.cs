// One request, one answer, one deadline: what a Modbus device needs of its wire. The link adds and checks the envelope (TCP header,
// or address and checksum on a serial line) over a channel of bytes (socket, serial descriptor, memory).
// A link must never hold its caller beyond the deadline, whatever the other side does.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>What came of a request.</summary>
/// <param name="Problem">None, a refusal, or why there is no valid answer.</param>
/// <param name="Exception">The device's reason when it refuses, else 0.</param>
/// <param name="Length">Bytes of the answer's protocol data unit; 0 without a valid answer.</param>
/// <param name="TookS">Seconds on the link's own clock, connecting included.</param>
/// <param name="NewConnection">True when the connection was made anew for it: the device may have restarted meanwhile.</param>
public readonly record struct ModbusReply(ModbusProblem Problem, byte Exception, int Length, double TookS, bool NewConnection)
{
    /// <summary>The device is there and understood: it granted or refused.</summary>
    public bool Answered => Problem is ModbusProblem.None or ModbusProblem.Refused;

    /// <summary>The fault a sample carries for it.</summary>
    public Fault Fault => ModbusWords.FaultOf(Problem, Exception);
}

/// <summary>A way to put requests to Modbus units. For one thread.</summary>
public interface IModbusLink : IDisposable
{
    /// <summary>
    /// Puts one request and waits for its answer. Connects first where needed. The deadline is one for all of it, however the bytes dribble in.
    /// </summary>
    /// <param name="unit">Unit number, 0–255.</param>
    /// <param name="request">Protocol data unit from <see cref="ModbusPdu"/>.</param>
    /// <param name="answer">Room for the answer's protocol data unit, at least <see cref="ModbusPdu.Longest"/> bytes.</param>
    /// <param name="deadlineS">Seconds this may take altogether, on the link's own clock.</param>
    ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS);

    /// <summary>Asks for silence before the next request, as long since the last answer; and as long after it. Holds until it is asked anew.</summary>
    /// <param name="seconds">The unit's turnaround time, s; 0 for no more than the line itself needs.</param>
    void KeepQuiet(double seconds);

    /// <summary>Drops the connection; the next request makes a new one.</summary>
    void Close();
}

/// <summary>A stream of bytes with a clock: all that differs between socket, serial line and memory. For one thread.</summary>
public interface IByteChannel : IDisposable
{
    /// <summary>Monotonic seconds on the channel's clock: real for a socket, virtual in memory.</summary>
    double NowS { get; }

    bool IsOpen { get; }

    /// <summary>Opens it, until <paramref name="untilS"/> at the latest.</summary>
    ModbusProblem Open(double untilS);

    /// <summary>Throws away what has come in late. False when the other side has closed.</summary>
    bool Flush();

    /// <summary>Sends all bytes, until <paramref name="untilS"/> at the latest.</summary>
    ModbusProblem Send(ReadOnlySpan<byte> bytes, double untilS);

    /// <summary>Waits until some bytes are there, <paramref name="untilS"/> at the latest, and takes at most as many as fit.</summary>
    ModbusProblem Receive(Span<byte> into, double untilS, out int count);

    void Close();
}
