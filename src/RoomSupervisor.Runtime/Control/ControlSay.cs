// What the control socket tells the log: who did what, and who misbehaved; bounded, so that a client who comes back a thousand times an hour cannot fill the log.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Lines for the log.</summary>
/// <param name="say">Writes a line; returns at once.</param>
/// <param name="time">Clock.</param>
public sealed class ControlSay(Action<Priority, string> say, TimeProvider time)
{
    private const int MostTroubles = 10;
    private static readonly TimeSpan Within = TimeSpan.FromMinutes(10);

    private readonly Lock gate = new();
    private long since = time.GetTimestamp();
    private int troubles;

    /// <summary>Something was done, or refused: always told.</summary>
    public void Done(string line) => say(Priority.Note, line);

    /// <summary>A client misbehaved, or could not be served: ten in ten minutes are told one by one, the rest as a number.</summary>
    public void Trouble(string line)
    {
        lock (gate)
        {
            if (time.GetElapsedTime(since) > Within)
            {
                if (troubles > MostTroubles)
                    say(Priority.Warning, string.Create(CultureInfo.InvariantCulture, $"control socket: {troubles - MostTroubles} more troubles of this kind were not told one by one"));
                (since, troubles) = (time.GetTimestamp(), 0);
            }
            troubles++;
            if (troubles > MostTroubles)
                return;
        }
        say(Priority.Warning, line);
    }
}
