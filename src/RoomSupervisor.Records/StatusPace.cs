// Which of the lines a minute a room's state goes to the memory card with: the console gets all of them. Counts by time; must never keep back a line that says something new.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>The pace of status lines in files.</summary>
internal sealed class StatusPace
{
    /// <summary>A room that does what it did has a line this often, s: six rooms wrote two megabytes a day that said nothing but the last digit.</summary>
    public const double EveryS = 300;

    private readonly Dictionary<int, (Key Key, double AtS)> written = [];

    /// <summary>True for a line that belongs into the file: another stage, level or reason, a fan or valve that started or stopped, or its time has come.</summary>
    public bool IsNews(in LogEntry entry)
    {
        var room = entry.Room;
        var key = new Key(room.Stage, room.Moisture, room.Guard, entry.Fan.Binding.Cause, entry.Fan.Value > 0);
        // A tenth of a second of grace: a scan that came late must not cost a whole minute.
        if (written.TryGetValue(entry.Happening.Index, out var last) && last.Key == key && entry.ElapsedS - last.AtS < EveryS - 0.1)
            return false;
        written[entry.Happening.Index] = (key, entry.ElapsedS);
        return true;
    }

    private readonly record struct Key(Stage Stage, Moisture Moisture, GuardLevel Guard, Cause Cause, bool Runs);
}
