// The system calls for a device file of Linux that several buses need: open, control, close.
// They must never be used on a file that somebody else opened.
// Source: POSIX.1-2017 (open, close); Linux manual page ioctl(2); numbers of Linux on x64 and arm64.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Hardware;

/// <summary>A device file by its number. Failures are below 0, and the error number is kept (<see cref="Marshal.GetLastPInvokeError"/>); closing tells none.</summary>
internal static partial class LinuxFile
{
    public const int ReadWrite = 2, CloseOnExec = 0x80000;

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    public static partial int Open(string path, int flags = ReadWrite | CloseOnExec);

    [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
    public static partial int Control(int file, nuint request, nint argument);

    [LibraryImport("libc", EntryPoint = "close")]
    public static partial int Close(int file);
}
