// The events of the records themselves: what could not be written, what was set aside, what chattered. Ids 800–899; never reused.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>Declared events of the records.</summary>
public static class RecordsEvents
{
    public static EventDefinition LogNotWritten { get; } = new(
        801, "log-not-written", Priority.Warning, "log and trends had not been writable for {A}", "control goes on; what no longer fitted into memory meanwhile is missing",
        "disk full or read-only, owner and permissions of the log directory", Quantity.Duration)
    { Household = "The controller could not write to its memory card for a while; please have it looked at on the next visit." };

    public static EventDefinition EntriesDropped { get; } = new(
        802, "entries-dropped", Priority.Warning, "{A} log entries were dropped: more happened than could be written", "the log has a hole; control has not", "what happened just before; a slow or dying card")
    { Household = "So much happened at once that not all of it was written down." };

    public static EventDefinition TrendsSetAside { get; } = new(
        803, "trends-set-aside", Priority.Warning, "the trend file was damaged and set aside; a new one was begun", "older trends are missing until somebody mends the file; control is not touched",
        "the memory card: it may be dying; the file beside it with .broken at its end")
    { Household = "The recorded curves were damaged and begin anew; please have the memory card looked at on the next visit." };

    public static EventDefinition RunBrokeOff { get; } = new(
        804, "run-broke-off", Priority.Note, "the run before ended without a stop; what it had not written yet, at most the last {A}, is lost", "a power cut, a crash or a kill; control began with safe values",
        "if nobody pulled the plug: power supply and its cable", Quantity.Duration)
    { Household = "The controller lost its power or was stopped roughly before it started this time." };

    public static EventDefinition ClockSet { get; } = new(
        805, "clock-set", Priority.Note, "the clock was moved by {A}", "stamps before and after differ by that; timers do not care", "nothing; if it comes often: the clock's battery, the time server", Quantity.Duration)
    { Household = "The controller's clock was set." };

    public static EventDefinition Chatters { get; } = new(
        806, "chatters", Priority.Note, "the event before came three times within a minute: from here on it is counted and not told", "it stands until it has been quiet for a minute", "what is loose: a plug, a contact, a limit on the edge")
    { Household = "A message came again and again and is only counted for the time being." };

    public static EventDefinition ChatteringEnded { get; } = new(
        807, "chattering-ended", Priority.Note, "an event has stopped chattering", "it is told again as it comes", "why it had chattered")
    { Household = "The message that came again and again has stopped." };

    public static EventDefinition ShelfEnded { get; } = new(
        808, "shelf-ended", Priority.Note, "an event is no longer shelved", "it is told again as it comes; where it still stands it asks for its response again", "what it asks for")
    { Household = "A message that was set aside for a while counts again." };

    public static EventDefinition KeepsComing { get; } = new(
        809, "keeps-coming", Priority.Note, "the event before keeps coming: from here on it is counted, and told with its number once an hour", "it is told again when it has been quiet for half an hour",
        "what makes it come: a limit on the edge, a sensor that trembles")
    { Household = "A message keeps coming and is told only once an hour for the time being." };

    public static IReadOnlyList<EventDefinition> All { get; } = [KeepsComing, LogNotWritten, EntriesDropped, TrendsSetAside, RunBrokeOff, ClockSet, Chatters, ChatteringEnded, ShelfEnded];
}
