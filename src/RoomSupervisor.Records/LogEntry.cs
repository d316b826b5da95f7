// What the loop hands over to the log: plain numbers, no text. Text is made on the Records thread.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>One event as it happened, with what a tech wants beside it.</summary>
/// <param name="Utc">Wall time.</param>
/// <param name="ElapsedS">Monotonic seconds since start.</param>
/// <param name="Happening">The event.</param>
/// <param name="Room">State of its room after the scan; only for events of a room.</param>
/// <param name="Fan">The room's fan command.</param>
/// <param name="FanVolts">Its control voltage.</param>
public readonly record struct LogEntry(DateTime Utc, double ElapsedS, Happening Happening, RoomStatus Room, Command Fan, double FanVolts);

/// <summary>A bounded ring from one writer (the loop) to one reader (the Records thread). Writing never blocks and never allocates; when the reader
/// is too slow the newest entries are dropped and counted.</summary>
/// <param name="capacity">Entries held.</param>
public sealed class LogRing(int capacity)
{
    private readonly LogEntry[] entries = new LogEntry[capacity];
    private readonly Lock gate = new();
    private int first;
    private int count;
    private long lost;

    /// <summary>Puts an entry; false when there was no room.</summary>
    public bool Put(in LogEntry entry)
    {
        lock (gate)
        {
            if (count == entries.Length)
            {
                lost++;
                return false;
            }
            entries[(first + count) % entries.Length] = entry;
            count++;
            return true;
        }
    }

    /// <summary>Takes the oldest entry; false when there is none.</summary>
    public bool TryTake(out LogEntry entry)
    {
        lock (gate)
        {
            entry = default;
            if (count == 0)
                return false;
            entry = entries[first];
            first = (first + 1) % entries.Length;
            count--;
            return true;
        }
    }

    /// <summary>Counts an entry that was dropped elsewhere, so that one line tells of all.</summary>
    public void CountLost()
    {
        lock (gate)
            lost++;
    }

    /// <summary>How many were dropped since the last call.</summary>
    public long TakeLost()
    {
        lock (gate)
        {
            var taken = lost;
            lost = 0;
            return taken;
        }
    }
}
