// Several transfers with one chip under one deadline: written, read register by register, stopped at the first that fails.
// It must never go on after a failure, nor let a chain of transfers take longer than one may.
using RoomSupervisor.Hardware.Devices;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A chip and what came of the transfers so far. For one thread; allocates nothing after construction.</summary>
/// <param name="bus">Its bus.</param>
/// <param name="address">Its address, seven bits.</param>
internal sealed class I2cTalk(II2cBus bus, byte address) : IDisposable
{
    private readonly byte[] pointer = new byte[1];
    private double nowS, deadlineS, tookS;
    private I2cProblem problem;

    /// <summary>True while every transfer went well.</summary>
    public bool IsWell => problem == I2cProblem.None;

    /// <summary>Monotonic seconds after the transfers so far.</summary>
    public double AtS => nowS + tookS;

    /// <summary>What came of all of them.</summary>
    public DeviceReply Reply => I2cPlace.ReplyOf(new I2cReply(problem, tookS));

    /// <summary>Begins anew.</summary>
    /// <param name="fromS">Monotonic seconds.</param>
    /// <param name="withinS">Seconds all transfers may take together.</param>
    public void Begin(double fromS, double withinS) => (nowS, deadlineS, tookS, problem) = (fromS, withinS, 0, I2cProblem.None);

    /// <summary>Writes bytes; nothing after a failure.</summary>
    public bool Write(ReadOnlySpan<byte> bytes) => IsWell && Count(HasTime ? bus.Write(address, bytes, AtS, deadlineS - tookS) : Late);

    /// <summary>Reads bytes; nothing after a failure.</summary>
    public bool Read(Span<byte> into) => IsWell && Count(HasTime ? bus.Read(address, into, AtS, deadlineS - tookS) : Late);

    /// <summary>Reads from a register on: the register's number is written, then read. The chip keeps the number in between.</summary>
    public bool Read(byte register, Span<byte> into)
    {
        pointer[0] = register;
        return Write(pointer) && Read(into);
    }

    public void Dispose() => bus.Dispose();

    private bool HasTime => tookS < deadlineS;

    private static I2cReply Late => new(I2cProblem.TimedOut, 0);

    private bool Count(in I2cReply reply)
    {
        tookS += reply.TookS;
        problem = reply.Problem;
        return IsWell;
    }
}
