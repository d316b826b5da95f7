// Memory of a run in small pages: where the kernel gives huge ones unasked (2 MiB; "always" in Debian's kernels for arm64), each thread's stack and each part of the heap that is hardly used takes
// a whole one. Measured on such a kernel: 44 MB resident, of them some 10 never used. Asks the kernel once, at the start of a run; must never keep a run from starting.
// Source: prctl(2), PR_SET_THP_DISABLE (since Linux 3.15; no privilege needed).
using System.Runtime.InteropServices;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Huge pages of this process.</summary>
internal static partial class HugePages
{
    private const int ThpDisable = 41;

    /// <summary>From here on this process gets small pages only. A kernel that knows nothing of it changes nothing.</summary>
    public static void Refuse()
    {
        if (OperatingSystem.IsLinux())
            _ = Control(ThpDisable, 1, 0, 0, 0);
    }

    [LibraryImport("libc", EntryPoint = "prctl")]
    private static partial int Control(int option, nuint a, nuint b, nuint c, nuint d);
}
