// A thread that writes to the disk whenever it is told to, beside the scan that must never wait for a disk. One that hangs on a disk is left behind. Knows nothing of what is written.
namespace RoomSupervisor.Runtime.State;

/// <summary>A writer beside the scan.</summary>
internal sealed class WriterThread : IDisposable
{
    private readonly AutoResetEvent due = new(false);
    private readonly Thread thread;
    private volatile bool ends;

    /// <param name="name">Name of the thread.</param>
    /// <param name="write">Writes what is due; throws nothing.</param>
    public WriterThread(string name, Action write)
        => thread = new Thread(() =>
        {
            while (due.WaitOne() && !ends)
                write();
        })
        { IsBackground = true, Name = name };

    public void Start() => thread.Start();

    /// <summary>Something is to be written; never waits.</summary>
    public void Tell() => due.Set();

    /// <summary>Ends it. True when it has ended, after two seconds at most; false: it hangs on a disk.</summary>
    public bool End()
    {
        if (ends)
            return !thread.IsAlive;
        ends = true;
        due.Set();
        // A thread that was never started cannot be joined.
        if (thread.IsAlive && !thread.Join(TimeSpan.FromSeconds(2)))
            return false;
        due.Dispose();
        return true;
    }

    public void Dispose() => End();
}
