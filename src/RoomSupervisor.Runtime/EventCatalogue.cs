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

    public static EventDefinition ScreedBegun { get; } = new(
        920, "screed-begun", Priority.Note, "heating up of the screed has begun: day {A} of {B} at {C}", "the loop is held at that, whatever its rooms want; limits and protections go on", "nothing; room-supervisor screed shows it",
        Quantity.Number, Quantity.Number, Quantity.Temperature)
    { Household = "The new floor is being warmed up by a plan; please leave the heating as it is." };

    public static EventDefinition ScreedDay { get; } = new(
        921, "screed-day", Priority.Note, "heating up of the screed: day {A} of {B} at {C}", "the loop is held at that", "nothing", Quantity.Number, Quantity.Number, Quantity.Temperature)
    { Household = "The next day of warming up the new floor has begun." };

    public static EventDefinition ScreedInterrupted { get; } = new(
        922, "screed-interrupted", Priority.Warning, "heating up of the screed has stood still for {A}, on day {B} of {C}: {cause}", "no day is lost: it goes on where it was when the water is back, and takes that much longer",
        "source and its settings, pump, mixing valve, high limit; the screed maker's sheet on interruptions", Quantity.Duration, Quantity.Number, Quantity.Number)
    { Household = "Warming up of the new floor has stopped for a while; please tell whoever laid it and have the heating looked at." };

    public static EventDefinition ScreedGoesOn { get; } = new(
        923, "screed-goes-on", Priority.Note, "heating up of the screed goes on after {A}, on day {B} of {C}", "what was missed is held now", "the screed maker's sheet on interruptions", Quantity.Duration, Quantity.Number, Quantity.Number)
    { Household = "Warming up of the new floor goes on.", Clears = [ScreedInterrupted.Id] };

    public static EventDefinition ScreedEnded { get; } = new(
        924, "screed-ended", Priority.Note, "heating up of the screed has ended: {A} of {B} days held", "the loop follows its rooms again", "print the record; the floor is measured for moisture before it is covered", Quantity.Number, Quantity.Number)
    { Household = "Warming up of the new floor has ended.", Clears = [ScreedInterrupted.Id] };

    public static EventDefinition ScreedGivenUp { get; } = new(
        925, "screed-given-up", Priority.Warning, "heating up of the screed was given up: its water was missing for a week, {A} of {B} days were held", "the loop follows its rooms again; the screed is not heated up",
        "why there was no warm water; then begin again as the screed maker's sheet says", Quantity.Number, Quantity.Number)
    { Household = "The new floor could not be warmed up; please tell whoever laid it." };

    public static IReadOnlyList<EventDefinition> All { get; } =
        [ScanLate, Crashed, HappeningsLost, ReloadAccepted, ReloadKept, ReloadRefused, ReloadWaiting, StartedWithLastGood, StateNotKept,
        ScreedBegun, ScreedDay, ScreedInterrupted, ScreedGoesOn, ScreedEnded, ScreedGivenUp];
}
