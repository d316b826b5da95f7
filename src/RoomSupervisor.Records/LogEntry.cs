// What the loop hands over to the log: plain numbers, no text. Text is made on the Records thread.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>One event as it happened, with what a tech wants beside it.</summary>
/// <param name="Utc">Wall time.</param>
/// <param name="ElapsedS">Monotonic seconds since start.</param>
/// <param name="Happening">The event.</param>
/// <param name="Room">State of its room after the scan; only for events of a room.</param>
/// <param name="Fan">Fan command of the room's leading coil; in a room without a coil the command of its surface valve.</param>
/// <param name="FanVolts">Its control voltage; NaN where there is none.</param>
public readonly record struct LogEntry(DateTime Utc, double ElapsedS, Happening Happening, RoomStatus Room, Command Fan, double FanVolts)
{
    /// <summary>Number of no event: the entry is the state of a room, told once a minute.</summary>
    public const int Status = 0;

    public bool IsStatus => Happening.EventId == Status;
}

/// <summary>Entries of the log.</summary>
/// <param name="capacity">Entries held.</param>
public sealed class LogRing(int capacity) : Ring<LogEntry>(capacity);

/// <summary>
/// A bounded ring from one writer (the loop) to one reader (the Records thread). No locks: a reader that the system has put to sleep, wherever
/// it stands, never holds up the loop. Writing allocates nothing; when the reader is too slow the newest entries are dropped and counted.
/// </summary>
/// <param name="capacity">Entries held.</param>
public class Ring<T>(int capacity)
    where T : struct
{
    private readonly T[] entries = new T[capacity];
    private long put;     // entries ever put; moved by the writer only, after the entry stands
    private long taken;   // entries ever taken; moved by the reader only, after the entry is copied
    private long lost;

    /// <summary>Puts an entry; false when there was no room. Only for the one writer.</summary>
    public bool Put(in T entry)
    {
        if (put - Volatile.Read(ref taken) == entries.Length)
        {
            CountLost();
            return false;
        }
        entries[put % entries.Length] = entry;
        Volatile.Write(ref put, put + 1);
        return true;
    }

    /// <summary>Takes the oldest entry; false when there is none. Only for the one reader.</summary>
    public bool TryTake(out T entry)
    {
        entry = default;
        if (taken == Volatile.Read(ref put))
            return false;
        entry = entries[taken % entries.Length];
        Volatile.Write(ref taken, taken + 1);
        return true;
    }

    /// <summary>Counts an entry that was dropped elsewhere, so that one line tells of all. Any thread.</summary>
    public void CountLost() => Interlocked.Increment(ref lost);

    /// <summary>How many were dropped since the last call.</summary>
    public long TakeLost() => Interlocked.Exchange(ref lost, 0);
}
