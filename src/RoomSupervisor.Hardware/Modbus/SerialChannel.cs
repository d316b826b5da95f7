// A serial port as a channel of bytes, by the system's own calls (termios): never blocks beyond the moment it is given, and never throws.
// An adapter that was pulled may look like an open port on which nobody answers: who uses the channel closes it after silence.
// Source: POSIX.1-2017, "General Terminal Interface"; numbers of Linux on x64 and arm64 (asm-generic/termbits.h, from memory).
using System.Diagnostics;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>A serial port. Real time (the machine's monotonic clock). For one thread.</summary>
/// <param name="line">Port and settings.</param>
public sealed partial class SerialChannel(SerialLine line) : IByteChannel
{
    private const int OpenFlags = LinuxFile.ReadWrite | LinuxFile.CloseOnExec | 0x100 | 0x800;   // not our controlling terminal, never blocks
    private const int SettingsSize = 256, FlagsAt = 8;
    private const uint Stop2 = 0x40, CanRead = 0x80, HasParity = 0x100, IsOdd = 0x200, NoModem = 0x800, HardwareFlow = 0x80000000, EightBits = 0x30;
    private const int Now = 0, FlushBoth = 2, LockAlone = 2 | 4;
    private const int NotAllowed = 13, NotPermitted = 1, Again = 11, Interrupted = 4, Busy = 16;
    private const short Readable = 1, Writable = 4;

    /// <summary>A peer that never stops talking must not hold us in the flush.</summary>
    private const int MostFlushed = 64;
    private readonly byte[] bin = new byte[256];
    private int file = -1;

    public double NowS => Stopwatch.GetTimestamp() / (double)Stopwatch.Frequency;

    public bool IsOpen => file >= 0;

    /// <inheritdoc/>
    public ModbusProblem Open(double untilS)
    {
        Close();
        file = LinuxFile.Open(line.Port, OpenFlags);
        if (file < 0)
            return Marshal.GetLastPInvokeError() switch
            {
                NotAllowed or NotPermitted => ModbusProblem.PortNotAllowed,
                Busy => ModbusProblem.PortTaken,
                _ => ModbusProblem.NoPort,
            };
        var problem = Lock(file, LockAlone) != 0 ? ModbusProblem.PortTaken : Set() ? ModbusProblem.None : ModbusProblem.PortNotSet;
        if (problem != ModbusProblem.None)
            Close();
        return problem;
    }

    /// <inheritdoc/>
    public bool Flush()
    {
        for (var taken = 0; file >= 0 && taken < MostFlushed; taken++)
        {
            var problem = Receive(bin, NowS, out _);
            if (problem == ModbusProblem.NoAnswerInTime)
                return true;
            if (problem != ModbusProblem.None)
                Close();
        }
        return file >= 0;
    }

    /// <inheritdoc/>
    public unsafe ModbusProblem Send(ReadOnlySpan<byte> bytes, double untilS)
    {
        while (file >= 0)
        {
            nint count;
            fixed (byte* from = bytes)
                count = WriteFile(file, from, bytes.Length);
            if (count >= 0)
                bytes = bytes[(int)count..];
            else if (Marshal.GetLastPInvokeError() is not (Again or Interrupted))
                return ModbusProblem.PortLost;
            if (bytes.IsEmpty)
                return ModbusProblem.None;
            if (Wait(Writable, untilS) is var waited && waited != ModbusProblem.None)
                return waited == ModbusProblem.NoAnswerInTime ? ModbusProblem.CutShort : waited;
        }
        return ModbusProblem.PortLost;
    }

    /// <inheritdoc/>
    public unsafe ModbusProblem Receive(Span<byte> into, double untilS, out int count)
    {
        count = 0;
        while (file >= 0)
        {
            nint got;
            fixed (byte* to = into)
                got = ReadFile(file, to, into.Length);
            if (got > 0)
            {
                count = (int)got;
                return ModbusProblem.None;
            }
            // In this mode a port gives nothing only when it has been hung up.
            if (got == 0 || Marshal.GetLastPInvokeError() is not (Again or Interrupted))
                return ModbusProblem.PortLost;
            if (Wait(Readable, untilS) is var waited && waited != ModbusProblem.None)
                return waited;
        }
        return ModbusProblem.PortLost;
    }

    /// <inheritdoc/>
    public void Close()
    {
        if (file >= 0)
            _ = LinuxFile.Close(file);
        file = -1;
    }

    public void Dispose() => Close();

    private ModbusProblem Wait(short what, double untilS)
    {
        // The system waits in whole milliseconds and may come back early: only the clock says that time is up.
        for (var left = untilS - NowS; left > 0; left = untilS - NowS)
        {
            var one = new Polled { File = file, Wanted = what };
            if (Poll(ref one, 1, (int)Math.Clamp(Math.Ceiling(left * 1000), 1, int.MaxValue)) <= 0)
                continue;
            return (one.Seen & what) != 0 ? ModbusProblem.None : ModbusProblem.PortLost;
        }
        return ModbusProblem.NoAnswerInTime;
    }

    private unsafe bool Set()
    {
        var settings = stackalloc byte[SettingsSize];
        if (GetSettings(file, settings) != 0)
            return false;
        MakeRaw(settings);
        ref var flags = ref *(uint*)(settings + FlagsAt);
        flags = flags & ~(Stop2 | HasParity | IsOdd | HardwareFlow) | CanRead | NoModem | EightBits
            | (line.StopBits == 2 ? Stop2 : 0) | (line.Parity == SerialParity.None ? 0 : HasParity) | (line.Parity == SerialParity.Odd ? IsOdd : 0);
        var code = CodeOf(line.Baud);
        if (SetInputSpeed(settings, code) != 0 || SetOutputSpeed(settings, code) != 0 || SetSettings(file, Now, settings) != 0)
            return false;
        // The call is content when it could change anything at all: what the port says now is what counts.
        var isSet = GetSettings(file, settings) == 0 && OutputSpeed(settings) == code;
        return isSet && DropBytes(file, FlushBoth) == 0;
    }

    private static uint CodeOf(int baud) => baud switch
    {
        1200 => 0x9,
        2400 => 0xB,
        4800 => 0xC,
        9600 => 0xD,
        19200 => 0xE,
        38400 => 0xF,
        57600 => 0x1001,
        115200 => 0x1002,
        _ => throw new ArgumentOutOfRangeException(nameof(baud), baud, "not one of SerialLine.Speeds"),
    };

    [StructLayout(LayoutKind.Sequential)]
    private struct Polled
    {
        public int File;
        public short Wanted, Seen;
    }

    [LibraryImport("libc", EntryPoint = "flock")]
    private static partial int Lock(int file, int operation);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static unsafe partial nint ReadFile(int file, byte* into, nint count);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    private static unsafe partial nint WriteFile(int file, byte* from, nint count);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    private static partial int Poll(ref Polled files, nuint count, int milliseconds);

    [LibraryImport("libc", EntryPoint = "tcgetattr")]
    private static unsafe partial int GetSettings(int file, byte* settings);

    [LibraryImport("libc", EntryPoint = "tcsetattr")]
    private static unsafe partial int SetSettings(int file, int when, byte* settings);

    [LibraryImport("libc", EntryPoint = "cfmakeraw")]
    private static unsafe partial void MakeRaw(byte* settings);

    [LibraryImport("libc", EntryPoint = "cfsetispeed")]
    private static unsafe partial int SetInputSpeed(byte* settings, uint code);

    [LibraryImport("libc", EntryPoint = "cfsetospeed")]
    private static unsafe partial int SetOutputSpeed(byte* settings, uint code);

    [LibraryImport("libc", EntryPoint = "cfgetospeed")]
    private static unsafe partial uint OutputSpeed(byte* settings);

    [LibraryImport("libc", EntryPoint = "tcflush")]
    private static partial int DropBytes(int file, int queue);
}
