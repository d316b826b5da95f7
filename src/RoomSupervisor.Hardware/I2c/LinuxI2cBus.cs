// A bus of the Linux kernel, /dev/i2c-N, by its own system calls: the error number is kept, and each transfer has a limit of time.
// It must never throw for what happens on the wire. One owner a bus; after an error of the bus itself it is opened anew at the next transfer.
// Source: Linux kernel documentation, "Implementing I2C device drivers in userspace" and "I2C/SMBUS Fault Codes"; linux/i2c-dev.h, linux/i2c.h.
using System.Diagnostics;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A real bus. Real time (the machine's monotonic clock).</summary>
/// <param name="path">Path of the bus, such as /dev/i2c-1.</param>
public sealed class LinuxI2cBus(string path) : II2cBus
{
    private const uint SetRetries = 0x0701, SetTimeout = 0x0702, Transfer = 0x0707;
    private const ushort ReadFlag = 1;
    /// <summary>The kernel counts its limit in hundredths of a second.</summary>
    private const double TickS = 0.01;

    private int file = -1;
    private int ticks;

    /// <inheritdoc/>
    public unsafe I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
    {
        fixed (byte* at = bytes)
            return Move(address, 0, at, bytes.Length, deadlineS);
    }

    /// <inheritdoc/>
    public unsafe I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
    {
        fixed (byte* at = into)
            return Move(address, ReadFlag, at, into.Length, deadlineS);
    }

    public void Dispose()
    {
        if (file >= 0)
            _ = LinuxFile.Close(file);
        file = -1;
    }

    private unsafe I2cReply Move(byte address, ushort flags, byte* bytes, int count, double deadlineS)
    {
        var from = Stopwatch.GetTimestamp();
        var problem = Open(deadlineS);
        if (problem == I2cProblem.None)
        {
            var message = new Message { Address = address, Flags = flags, Length = (ushort)count, Bytes = bytes };
            var all = new Messages { First = &message, Count = 1 };
            var moved = LinuxFile.Control(file, Transfer, (nint)(&all));
            problem = moved == 1 ? I2cProblem.None : moved >= 0 ? I2cProblem.CutShort : I2cWords.OfErrorNumber(Marshal.GetLastPInvokeError());
            if (problem is I2cProblem.NoBus or I2cProblem.Failed)
                Dispose();
        }
        return new I2cReply(problem, Stopwatch.GetElapsedTime(from).TotalSeconds);
    }

    private I2cProblem Open(double deadlineS)
    {
        if (file < 0)
        {
            file = LinuxFile.Open(path);
            if (file < 0)
                return I2cWords.OfErrorNumber(Marshal.GetLastPInvokeError());
            ticks = 0;
            _ = LinuxFile.Control(file, SetRetries, 0);
        }
        var wanted = Math.Max(1, (int)Math.Ceiling(deadlineS / TickS));
        if (wanted != ticks && LinuxFile.Control(file, SetTimeout, wanted) >= 0)
            ticks = wanted;
        return I2cProblem.None;
    }

    [StructLayout(LayoutKind.Sequential)]
    private unsafe struct Message
    {
        public ushort Address, Flags, Length;
        public byte* Bytes;
    }

    [StructLayout(LayoutKind.Sequential)]
    private unsafe struct Messages
    {
        public Message* First;
        public uint Count;
    }
}
