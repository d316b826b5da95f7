// Where a log lies, what it has beside its lines, and a finished line. Words only.
using RoomSupervisor.Terms;
using Serilog.Events;

namespace RoomSupervisor.Records;

/// <summary>Where and how the log is written.</summary>
/// <param name="Directory">Directory of the log files.</param>
/// <param name="Zone">Time zone of the site, for the console.</param>
/// <param name="BudgetBytes">All files together, bytes; the oldest go first.</param>
/// <param name="ToConsole">True to write to the console too.</param>
public sealed record LogPlace(string Directory, TimeZoneInfo Zone, long BudgetBytes = 20_000_000, bool ToConsole = true)
{
    /// <summary>Lines wait in memory for at most this long, s; a warning sends them out at once.</summary>
    public double SpillEveryS { get; init; } = 600;
}

/// <summary>What a log has beside its lines.</summary>
public sealed record LogParts
{
    /// <summary>The two clocks; null: the stamps of what comes stand for them.</summary>
    public Func<(DateTime Utc, double ElapsedS)>? Clock { get; init; }

    /// <summary>What the site is set to, a line a value: the head of every file.</summary>
    public Func<IReadOnlyList<string>> Head { get; init; } = () => [];

    /// <summary>Trends; null: none are kept.</summary>
    public TrendRecorder? Trends { get; init; }

    /// <summary>Told of each alarm and urgent event as it is logged: wall time, event, name of its place, sentence. Must return at once. Null: nobody.</summary>
    public Action<DateTime, EventDefinition, string, string>? Alarmed { get; init; }

    /// <summary>What else is written by the Records thread.</summary>
    public IReadOnlyList<IRecordsGuest> Guests { get; init; } = [];

    /// <summary>Bytes that other threads of this program have written to the disk since start: they count in what is written a day.</summary>
    public Func<long> AlsoWritten { get; init; } = () => 0;

    /// <summary>Does it with each guest by itself: one whose disk is full does not hold up the others.</summary>
    internal void Each(Action<IRecordsGuest> work, Action<Action> guarded)
    {
        foreach (var guest in Guests)
            guarded(() => work(guest));
    }
}

/// <summary>A file of its own that the Records thread feeds beside the log. Called by that thread only; what it throws is said as the log's own trouble.</summary>
public interface IRecordsGuest : IDisposable
{
    /// <summary>Bytes written to the disk since start.</summary>
    long Written { get; }

    /// <summary>Takes what the loop has put into its ring.</summary>
    void Drain();

    /// <summary>Writes what waits.</summary>
    /// <exception cref="IOException">The disk cannot be written; what waits goes on waiting.</exception>
    void Spill();
}

/// <summary>A finished line with its stamps.</summary>
internal readonly record struct LogLine(DateTime Utc, double ElapsedS, Priority Priority, string Text, IReadOnlyList<LogEventProperty>? Facts = null);
