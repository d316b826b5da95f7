// Every event there is, collected from the places that declare them. A number used twice stops the program at start, not at night.
using RoomSupervisor.Hardware;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>The collected events.</summary>
public static class EventCatalogue
{
    public static IReadOnlyDictionary<int, EventDefinition> All { get; } =
        SequenceEvents.All.Concat(HardwareEvents.All).Concat(RecordsEvents.All).Concat(RuntimeEvents.All).Concat(CareEvents.All).Concat(BoardEvents.All).ToDictionary(definition => definition.Id);
}

/// <summary>Events of the runtime itself. Ids 900–999; never reused.</summary>
public static class RuntimeEvents
{
    public static EventDefinition ScanLate { get; } = new(
        901, "scan-late", Priority.Warning, "a scan came {A} late", "rooms were decided on late; timers know it", "load of the board, its power supply, its card", Quantity.Duration)
    { Household = "The controller was slow for a moment.", EndsWithRun = true };

    public static EventDefinition Crashed { get; } = new(
        902, "crashed", Priority.Urgent, "the controller has stopped on an error of its own; safe values were tried", "nothing controls the house until it runs again",
        "restart it; send the log to whoever maintains this program")
    { Household = "The controller has stopped by a mistake of its own and nothing controls the house; please call the service now.", EndsWithRun = true };

    public static EventDefinition HappeningsLost { get; } = new(
        903, "happenings-lost", Priority.Warning, "{A} events of one scan did not fit and were not logged", "the log has a hole; control has not", "what happened just before")
    { Household = "So much happened at once that not all of it was written down.", EndsWithRun = true };

    public static EventDefinition ReloadAccepted { get; } = new(
        910, "reload-accepted", Priority.Note, "changed settings were taken over", "the house goes on with them from the next scan", "nothing; the lines say what changed")
    { Household = "Your changed settings are in use." };

    public static EventDefinition ReloadKept { get; } = new(
        911, "reload-kept", Priority.Warning, "household.yaml was not understood throughout; what was not stays as it was", "the household may wait for something that does not come",
        "household.answer.txt beside it: line, what was kept, what was probably meant")
    { Household = "Part of your settings was not understood and stays as it was; the answer beside the file says which." };

    public static EventDefinition ReloadRefused { get; } = new(
        912, "reload-refused", Priority.Warning, "site.yaml has a mistake and was refused whole; the last good one keeps running", "nothing changes; a restart would start with the last good one too",
        "room-supervisor check")
    { Household = "The installer's settings have a mistake; the house goes on with the ones before." };

    public static EventDefinition ReloadWaiting { get; } = new(
        913, "reload-waiting", Priority.Note, "site.yaml is sound, but its change needs a restart and waits for one", "the site runs as before", "restart when it suits")
    { Household = "The installer's new settings wait for the controller to be started again." };

    public static EventDefinition StartedWithLastGood { get; } = new(
        914, "started-with-last-good", Priority.Alarm, "started with the last good site.yaml: the one in the directory is broken or missing", "the house runs as it did before the file was changed",
        "room-supervisor check, and mend the file")
    { Household = "The installer's settings have a mistake and the house runs with older ones; please call the service today.", EndsWithRun = true };

    public static EventDefinition StateNotKept { get; } = new(
        915, "state-not-kept", Priority.Warning, "an answer, a version or a last good file could not be written", "control goes on; a start with a broken file could not fall back on what holds now",
        "disk full or read-only, owner and permissions")
    { Household = "The controller cannot write to its memory card; please have it looked at on the next visit." };

    public static IReadOnlyList<EventDefinition> All { get; } =
        [ScanLate, Crashed, HappeningsLost, ReloadAccepted, ReloadKept, ReloadRefused, ReloadWaiting, StartedWithLastGood, StateNotKept];
}
