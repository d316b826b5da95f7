// The transfers of one turn with a chip, within one deadline: after the first that fails the others are left out.
// It must never pass on bytes of a transfer that failed.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A chip as its driver talks to it. For one thread; allocates nothing once it is built.</summary>
/// <param name="place">Where it is.</param>
internal sealed class ChipTalk(I2cAddress place) : IDisposable
{
    private readonly byte[] pointer = new byte[1], pair = new byte[2];
    private double fromS, deadlineS, tookS;
    private I2cProblem problem;

    /// <summary>Monotonic seconds, with what the turn has taken so far.</summary>
    public double NowS => fromS + tookS;

    /// <summary>True while every transfer went well.</summary>
    public bool IsWell => problem == I2cProblem.None;

    /// <summary>How the turn went so far.</summary>
    public DeviceReply Reply => I2cPlace.ReplyOf(new I2cReply(problem, tookS));

    /// <summary>A turn begins.</summary>
    public void Begin(double nowS, double deadline) => (fromS, deadlineS, tookS, problem) = (nowS, deadline, 0, I2cProblem.None);

    /// <summary>The turn went well; the chip needs time until the next.</summary>
    public DeviceReply Again(double afterS) => Reply with { ReadyAtS = NowS + afterS };

    /// <summary>The bytes came, but they cannot be.</summary>
    public DeviceReply Wrong(Fault fault, string words) => IsWell ? new DeviceReply(fault, words, tookS) : Reply;

    /// <summary>False when it failed, or something before it in this turn.</summary>
    public bool Write(ReadOnlySpan<byte> bytes) => Goes() && Went(place.Bus.Write(place.Address, bytes, NowS, deadlineS - tookS));

    /// <summary>Writes one byte to a register.</summary>
    public bool Write(byte register, byte value)
    {
        (pair[0], pair[1]) = (register, value);
        return Write(pair);
    }

    /// <summary>False when it failed, or something before it in this turn.</summary>
    public bool Read(Span<byte> into) => Goes() && Went(place.Bus.Read(place.Address, into, NowS, deadlineS - tookS));

    /// <summary>Reads from a register on.</summary>
    public bool ReadAt(byte register, Span<byte> into)
    {
        pointer[0] = register;
        return Write(pointer) && Read(into);
    }

    public void Dispose() => place.Bus.Dispose();

    private bool Goes()
    {
        if (IsWell && tookS >= deadlineS)
            problem = I2cProblem.TimedOut;
        return IsWell;
    }

    private bool Went(in I2cReply reply)
    {
        tookS += reply.TookS;
        problem = reply.Problem;
        return IsWell;
    }
}
