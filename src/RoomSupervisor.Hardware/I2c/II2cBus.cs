// One wire bus: writes and reads with an address, a deadline and an outcome. Our own, not a library's: there failures are exceptions with the
// reason in the text only, and nothing says how long a call may take.
// An implementation must never throw for what happens on the wire, and never retry by itself.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>Why a transfer failed.</summary>
public enum I2cProblem : byte
{
    None,

    /// <summary>Nobody answers at the address, or the chip is busy.</summary>
    NoAcknowledge,

    /// <summary>The bus did not become free in time: a line is held.</summary>
    TimedOut,

    /// <summary>Fewer bytes went over than were asked for.</summary>
    CutShort,

    /// <summary>Another master took the bus.</summary>
    ArbitrationLost,

    /// <summary>There is no such bus, or it was pulled out.</summary>
    NoBus,

    /// <summary>The bus is there, but may not be opened.</summary>
    NotAllowed,

    /// <summary>Something else the system reports.</summary>
    Failed,

    /// <summary>The multiplexer the chip hangs behind does not acknowledge.</summary>
    NoMultiplexer,
}

/// <summary>What came of a transfer.</summary>
/// <param name="Problem">None, or why it failed.</param>
/// <param name="TookS">Seconds on the bus's own clock: real, or virtual in memory.</param>
public readonly record struct I2cReply(I2cProblem Problem, double TookS);

/// <summary>A bus. For one thread.</summary>
public interface II2cBus : IDisposable
{
    /// <summary>Writes bytes to a chip.</summary>
    /// <param name="address">Seven bits.</param>
    /// <param name="bytes">What to write; none: only its address is called, to see who is there.</param>
    /// <param name="nowS">Monotonic seconds, for buses in memory.</param>
    /// <param name="deadlineS">Seconds this may take.</param>
    I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS);

    /// <summary>Reads exactly as many bytes from a chip; what is in <paramref name="into"/> counts only without a problem.</summary>
    /// <param name="address">Seven bits.</param>
    /// <param name="into">Room for the bytes, at least one.</param>
    /// <param name="nowS">Monotonic seconds, for buses in memory.</param>
    /// <param name="deadlineS">Seconds this may take.</param>
    I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS);
}

/// <summary>Words and faults for problems.</summary>
public static class I2cWords
{
    /// <summary>In words; "" for none.</summary>
    public static string Of(I2cProblem problem) => problem switch
    {
        I2cProblem.None => "",
        I2cProblem.NoAcknowledge => "no acknowledge: nobody at this address, or the chip is busy",
        I2cProblem.TimedOut => "the bus did not become free in time: a line is held low",
        I2cProblem.CutShort => "transfer cut short",
        I2cProblem.ArbitrationLost => "another master took the bus",
        I2cProblem.NoBus => "there is no such bus, or it was pulled out",
        I2cProblem.NotAllowed => "no permission to open the bus",
        I2cProblem.NoMultiplexer => "no acknowledge from the multiplexer it hangs behind",
        _ => "the system reports a failure of the bus",
    };

    /// <summary>What an error number of the Linux kernel means for a transfer. Adapters differ in whether 6 or 121 says "no acknowledge".</summary>
    public static I2cProblem OfErrorNumber(int error) => error switch
    {
        6 or 121 => I2cProblem.NoAcknowledge,           // ENXIO, EREMOTEIO
        110 => I2cProblem.TimedOut,                     // ETIMEDOUT
        11 => I2cProblem.ArbitrationLost,               // EAGAIN
        2 or 9 or 19 or 107 or 108 => I2cProblem.NoBus, // ENOENT, EBADF, ENODEV, ENOTCONN, ESHUTDOWN
        1 or 13 => I2cProblem.NotAllowed,               // EPERM, EACCES
        _ => I2cProblem.Failed,
    };

    /// <summary>The fault a sample carries for it.</summary>
    public static Fault FaultOf(I2cProblem problem) => problem switch
    {
        I2cProblem.None => Fault.None,
        I2cProblem.NoAcknowledge or I2cProblem.NoMultiplexer => Fault.NoAcknowledge,
        I2cProblem.TimedOut => Fault.Timeout,
        _ => Fault.BusError,
    };
}
