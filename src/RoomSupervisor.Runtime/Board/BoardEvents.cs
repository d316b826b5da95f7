// Events of the board: what starts before came to, files that anybody may read or change, the copy on a stick. Ids 940–949; never reused.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Declared events of the board.</summary>
public static class BoardEvents
{
    public static EventDefinition StayedSafe { get; } = new(
        940, "stayed-safe", Priority.Alarm, "outputs stayed safe for {A} before this start: {B} runs in a row did not end orderly, and a reboot did not help or was not granted", "nothing heated or cooled the house meanwhile; it is tried again now",
        "the log before that pause: what the runs ended by; power supply, memory card, a device that hangs the bus", Quantity.Duration)
    { Household = "Heating and cooling were off for an hour after the controller had failed again and again; please call the service today.", EndsWithRun = true };

    public static EventDefinition FilesOpen { get; } = new(
        941, "files-open", Priority.Warning, "files of this site are open to anybody on this machine", "whoever logs in here may change what the house does, or read when nobody is at home",
        "owner and permissions: the site's folder 2770 for root and the service's group, state and log 0750", Quantity.Number)
    { Household = "The controller's files are open to anybody who logs in; please have that mended on the next visit.", EndsWithRun = true };

    public static EventDefinition CopyMissing { get; } = new(
        942, "second-copy-missing", Priority.Warning, "there has been no second copy for {A}", "when the memory card dies, what was set and measured since then is lost with it",
        "whether the stick of site.second_copy is plugged in, mounted and not full; the line before says what went wrong", Quantity.Duration)
    { Household = "The controller's safety copy on a stick is out of date; please see whether the stick is plugged in." };

    public static EventDefinition CopyWritten { get; } = new(
        943, "second-copy-written", Priority.Note, "a second copy was written again", "what is set and measured is on the stick too", "nothing")
    { Household = "The controller's safety copy on a stick is up to date again.", Clears = [942] };

    public static IReadOnlyList<EventDefinition> All { get; } = [StayedSafe, FilesOpen, CopyMissing, CopyWritten];
}
