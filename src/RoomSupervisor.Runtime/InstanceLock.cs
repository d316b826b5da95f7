// One controller a site: two that write the same outputs fight over them. Locks the site's directory itself, so that it does not matter
// where state and logs go (a service and a tech at the keyboard use different ones), which user starts it, or whether the disk may be
// written. The kernel lets go of the lock with the process, however it ends. It must never leave anything behind.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Runtime;

/// <summary>The lock of a running site.</summary>
public sealed partial class InstanceLock : IDisposable
{
    // Linux, the same numbers on x64 and arm64: open(2), flock(2), errno(3).
    private const int ReadOnly = 0, CloseOnExec = 0x80000, Shared = 1, Exclusive = 2, DoNotWait = 4, Unlock = 8, WouldBlock = 11;

    /// <summary>How long a start waits for somebody who only reads the devices once, s.</summary>
    private const double ReaderS = 30;

    /// <summary>How the reason begins when a run has the lock.</summary>
    private const string Another = "another run controls ";

    private int descriptor;

    private InstanceLock(int descriptor) => this.descriptor = descriptor;

    /// <summary>Takes the lock of a site's directory; false with the reason when another run has it or the directory cannot be read.</summary>
    public static bool TryTake(string siteDirectory, out InstanceLock? taken, out string why) => TryTake(siteDirectory, Exclusive, out taken, out why);

    /// <summary>The same for somebody who reads the devices once and writes nothing: a start waits for him, other readers do not.</summary>
    public static bool TryTakeToRead(string siteDirectory, out InstanceLock? taken, out string why) => TryTake(siteDirectory, Shared, out taken, out why);

    /// <summary>True for a reason that names a run, not a directory that cannot be opened or locked.</summary>
    public static bool IsAnotherRun(string why) => why.StartsWith(Another, StringComparison.Ordinal);

    private static bool TryTake(string siteDirectory, int operation, out InstanceLock? taken, out string why)
    {
        taken = null;
        var directory = Path.GetFullPath(siteDirectory);
        var descriptor = Open(directory, ReadOnly | CloseOnExec);
        if (descriptor < 0)
        {
            why = $"{directory} cannot be opened: {Marshal.GetLastPInvokeErrorMessage()}";
            return false;
        }
        if (Lock(descriptor, operation | DoNotWait) == 0 || (operation == Exclusive && Marshal.GetLastPInvokeError() == WouldBlock && AfterReaders(descriptor)))
        {
            taken = new InstanceLock(descriptor);
            why = "";
            return true;
        }
        why = Marshal.GetLastPInvokeError() == WouldBlock
            ? $"{Another}{directory}: two controllers would fight over the outputs; stop that one first"
            : $"{directory} cannot be locked against a second controller: {Marshal.GetLastPInvokeErrorMessage()}";
        _ = Close(descriptor);
        return false;
    }

    /// <summary>Waits for readers; false at once when a run has it. Readers let each other in, a run lets nobody in: that tells them apart.</summary>
    private static bool AfterReaders(int descriptor)
    {
        using var pause = new ManualResetEventSlim();
        for (var waitedS = 0.0; waitedS < ReaderS; waitedS += 0.1)
        {
            if (Lock(descriptor, Shared | DoNotWait) != 0)
                return false;
            _ = Lock(descriptor, Unlock);
            pause.Wait(TimeSpan.FromSeconds(0.1));
            if (Lock(descriptor, Exclusive | DoNotWait) == 0)
                return true;
        }
        return false;
    }

    public void Dispose()
    {
        var held = Interlocked.Exchange(ref descriptor, -1);
        if (held >= 0)
            _ = Close(held);
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "flock", SetLastError = true)]
    private static partial int Lock(int descriptor, int operation);

    [LibraryImport("libc", EntryPoint = "close")]
    private static partial int Close(int descriptor);
}
